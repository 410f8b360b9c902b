#pragma once
/// Turns a plain struct into a batch. Included by models/catalog.cpp and by tests with toy kinds.

#include "sim/component/kind.hpp"

namespace steadyfire {

// What a kind may have. Each is asked for separately; none is compulsory but a schema.
template <class K> concept HasBranches = requires { K::branches.size(); };
template <class K> concept HasWays = requires(K k, Site s) { { k.way(0, s) } -> std::same_as<Way>; };
template <class K> concept HasBores = requires(K k, Site s) { { k.bore_flow(0, s) } -> std::same_as<BoreFlow>; };
template <class K> concept HasCells = requires(K k, Fluid f) { { k.cells(0, f) } -> std::same_as<Cells>; };
/// Water of its own at its ports, as the layer of a tank that pipes open into [m³]; port 2b is the inlet of branch b.
template <class K> concept HasPortWater = requires(K k) { { k.port_water(0) } -> std::same_as<double>; };
template <class K> concept HasStates = requires(K k) { { k.states() } -> std::same_as<std::vector<OwnState>>; };
template <class K> concept Begins = requires(K k, Site s, std::span<double> own) { k.begin(s, own); };
/// Calls by its own control, so that a zone with it needs neither room nor thermostat: own states at which it calls, or rests.
template <class K> concept Demands = requires(K k, std::span<double> own) { k.demand(true, own); };
template <class K> concept Settles = requires(K k, Site s) { k.settle(s); };
template <class K> concept HasLinks = requires(K k, Links& b, Site s) { k.links(b, s); };
template <class K> concept HasLaws = requires(K k, Rates& b, Site s) { k.laws(b, s); };
template <class K> concept HasModes = requires { K::modes.size(); K::transitions(); };
template <class K> concept HasFindings = requires(K k, Site s, std::vector<Finding>& f) { k.findings(s, f); };
/// Values that hang on other values: filled in once after reading.
template <class K> concept Prepares = requires(K k) { k.prepare(); };

template <class K>
class BatchOf final : public Batch {
 public:
  void add(std::span<Value const> values) override {
    pieces_.push_back(fill<K>(values));
    if constexpr (Prepares<K>) pieces_.back().prepare();
    seats.emplace_back();
  }
  Shape shape(int i, Fluid const& fluid) const override {
    Shape s;
    if constexpr (HasCells<K>)
      for (std::size_t b = 0; b < K::branches.size(); ++b) s.cells[b] = pieces_[i].cells(int(b), fluid);
    if constexpr (HasPortWater<K>)
      for (int port = 0; port < 2 * int(K::branches.size()); ++port) s.port_water[port] = pieces_[i].port_water(port);
    if constexpr (HasStates<K>) s.own = pieces_[i].states();
    return s;
  }
  void losses(Now const& now, WithSlope* by_branch) const override {
    if constexpr (HasBranches<K>) each(now, [&](K const& k, Site const& s, Seat const& seat) {
      for (int b = 0; b < int(K::branches.size()); ++b) {
        auto const loss = k.loss(b, Dual<1>::input(s.flow(b), 0), s);
        by_branch[seat.branch + b] = {loss.value, loss.slope[0]};
      }
    });
  }
  void ways(Now const& now, Way* by_branch) const override {
    if constexpr (HasBranches<K>) each(now, [&](K const& k, Site const& s, Seat const& seat) {
      for (int b = 0; b < int(K::branches.size()); ++b) {
        if constexpr (HasWays<K>) by_branch[seat.branch + b] = k.way(b, s);
        else by_branch[seat.branch + b] = Way::open;
      }
    });
  }
  void bores([[maybe_unused]] Now const& now, [[maybe_unused]] BoreFlow* by_branch) const override {
    if constexpr (HasBores<K>) each(now, [&](K const& k, Site const& s, Seat const& seat) {
      for (int b = 0; b < int(K::branches.size()); ++b) by_branch[seat.branch + b] = k.bore_flow(b, s);
    });
  }
  void begin([[maybe_unused]] Now const& now, [[maybe_unused]] double* x) const override {
    if constexpr (Begins<K>) each(now, [&](K const& k, Site const& s, Seat const& seat) { k.begin(s, {x + seat.own, k.states().size()}); });
  }
  void demand([[maybe_unused]] int i, [[maybe_unused]] bool call, [[maybe_unused]] double* x) const override {
    if constexpr (Demands<K>) pieces_[i].demand(call, {x + seats[i].own, pieces_[i].states().size()});
  }
  void settle(Now const& now) override {
    if constexpr (Settles<K>)
      for (std::size_t i = 0; i < pieces_.size(); ++i) pieces_[i].settle(Site{seats[i], now});
  }
  void links(Now const& now, Links& book) const override {
    if constexpr (HasLinks<K>) each(now, [&](K const& k, Site const& s, Seat const&) { k.links(book, s); });
  }
  void laws(Now const& now, Rates& book) const override { enter(now, book); }
  void laws(Now const& now, Slopes& book) const override { enter(now, book); }
  void laws(Now const& now, Pattern& book) const override { enter(now, book); }
  void laws(Now const& now, Written& book) const override { enter(now, book); }

  int guard_slots() const override { return slots_per_piece() * int(pieces_.size()); }
  void margins(Now const& now, double* slots) const override {
    if constexpr (HasModes<K>) each(now, [&](K const& k, Site const& s, Seat const&) {
      double* slot = slots;
      for (auto const& t : transitions_from(s.mode())) {
        auto const r = (k.*t.guard)(s);
        *slot++ = std::isnan(r.due) ? r.margin : -1;
      }
      slots += slots_per_piece();
      while (slot != slots) *slot++ = -1;
    });
  }
  double margin([[maybe_unused]] int i, [[maybe_unused]] Cause cause, [[maybe_unused]] Now const& now) const override {
    if constexpr (HasModes<K>) {
      Site const s{seats[i], now};
      for (auto const& t : transitions_from(s.mode()))
        if (t.cause == cause) return (pieces_[i].*t.guard)(s).margin;
    }
    return Field::none;
  }
  double due(Now const& now) const override {
    double first = 1e300;
    if constexpr (HasModes<K>)
      each(now, [&](K const& k, Site const& s, Seat const&) {
        for (auto const& t : transitions_from(s.mode()))
          if (auto const r = (k.*t.guard)(s); r.due > now.time) first = std::min(first, r.due);
      });
    return first;
  }
  void trip(Now const& now, bool const* forced, int* mode, double* x, std::vector<Trip>& trips) const override {
    if constexpr (HasModes<K>) {
      int piece_slot = 0;
      each(now, [&](K const& k, Site const& s, Seat const& seat) {
        int slot = piece_slot;
        piece_slot += slots_per_piece();
        for (auto const& t : transitions_from(s.mode())) {
          bool const force = forced && forced[slot++];
          Reading const r = (k.*t.guard)(s);
          if (!force && !(r.margin >= 0)) continue;
          trips.push_back({seat.piece, t.from, t.to, t.cause, t.words, r.value, r.limit, t.measure, t.told});
          if constexpr (HasStates<K>)
            if (t.action) (k.*t.action)(s, {x + seat.own, k.states().size()});
          mode[seat.piece] = t.to;
          break;
        }
      });
    }
  }
  void findings(Now const& now, std::vector<Finding>& list) const override {
    if constexpr (HasFindings<K>) each(now, [&](K const& k, Site const& s, Seat const& seat) {
      auto const before = list.size();
      k.findings(s, list);
      for (auto i = before; i < list.size(); ++i) list[i].piece = seat.piece;
    });
  }

 private:
  /// By the mode that they leave, each in the order of the kind's list.
  static auto const& transitions_from(int mode) requires HasModes<K> {
    static auto const by_mode = [] {
      std::array<std::vector<typename decltype(K::transitions())::value_type>, K::modes.size()> list;
      for (auto const& t : K::transitions()) list[t.from].push_back(t);
      return list;
    }();
    return by_mode[mode];
  }
  static int slots_per_piece() {
    if constexpr (HasModes<K>) {
      static int const most = [] {
        std::size_t most = 0;
        for (int mode = 0; mode < int(K::modes.size()); ++mode) most = std::max(most, transitions_from(mode).size());
        return int(most);
      }();
      return most;
    }
    return 0;
  }
  template <class Visit>
  void each(Now const& now, Visit visit) const {
    for (std::size_t i = 0; i < pieces_.size(); ++i) visit(pieces_[i], Site{seats[i], now}, seats[i]);
  }
  void enter([[maybe_unused]] Now const& now, [[maybe_unused]] auto& book) const {
    if constexpr (HasLaws<K>) each(now, [&](K const& k, Site const& s, Seat const&) { k.laws(book, s); });
  }
  std::vector<K> pieces_;
};

/// The catalog's entry for a piece, and for a section of the file.
template <class K>
Kind section() {
  Kind entry{std::string(K::kind), std::string(K::family), std::string(K::summary), {}, {}, {}};
  if constexpr (requires { K::home; }) entry.home = K::home;
  if constexpr (requires { K::begins_names; }) entry.begins_names = K::begins_names;
  if constexpr (requires { K::name_follows; }) entry.name_follows.assign(K::name_follows.begin(), K::name_follows.end());
  if constexpr (requires { K::is_nameless; }) entry.is_nameless = K::is_nameless;
  if constexpr (requires(Entry e, Diagnostics d) { K::check(e, d); }) entry.check = [](Entry const& e, Diagnostics& d) { K::check(e, d); };
  for (auto const& f : K::schema()) entry.fields.push_back(f);
  return entry;
}
template <class K>
Kind kind() {
  Kind entry = section<K>();
  entry.empty_batch = [] { return std::unique_ptr<Batch>{std::make_unique<BatchOf<K>>()}; };
  if constexpr (requires { K::role; }) entry.role = K::role;
  if constexpr (requires { K::caller; }) entry.caller = K::caller;
  if constexpr (requires { K::usual; }) entry.usual = K::usual;
  if constexpr (requires { K::is_floor; }) entry.is_floor = K::is_floor;
  entry.calls_itself = Demands<K>;
  if constexpr (HasBranches<K>) entry.branches.assign(K::branches.begin(), K::branches.end());
  if constexpr (HasModes<K>) entry.modes.assign(K::modes.begin(), K::modes.end());
  if constexpr (HasModes<K>) entry.traits.assign(K::modes.size(), trait::none);
  if constexpr (requires { K::traits; }) {
    static_assert(K::traits.size() == K::modes.size(), "each mode has its traits");
    entry.traits.assign(K::traits.begin(), K::traits.end());
  }
  return entry;
}

}  // namespace steadyfire
