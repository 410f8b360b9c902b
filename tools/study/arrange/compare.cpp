#include "tools/study/arrange/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <map>
#include <mutex>
#include <optional>

#include "models/circulator.hpp"
#include "sim/core/shown_value.hpp"
#include "tools/job/catalog.hpp"
#include "tools/review/materials.hpp"
#include "tools/study/advise/trouble.hpp"
#include "tools/study/arrange/layout.hpp"
#include "tools/study/spread.hpp"

namespace steadyfire {
namespace {

using N = NearBoilerSection;
using Sort = Trouble::Sort;
using Distribution = Layout::Distribution;

char const* const many_others = "any other";  ///< what rows of many arrangements that are not built for one reason are called

/// A row, and what its verdict rests on.
struct Candidate {
  Layout layout;
  std::string text;
  ArrangementRow row;
  std::vector<Trouble> troubles;
  double boiler_head = 0;        ///< [m] lost in the boiler at the row's flow
  double head = 0, most_head = 0;  ///< [m] of the one circulator for all zones, and what it could at that flow; 0 without one
  double boiler_supply = 0;        ///< [K] on the design day
  double least_output = 0, short_burn = 0;
};

double amount_of(Candidate const& c, Sort sort, std::string const& place) {
  for (auto const& t : c.troubles)
    if (t.sort == sort && t.place == place) return t.amount;
  return 0;
}

/// "a; b; c".
Words joined(std::vector<Words> const& all) {
  Words words;
  for (auto const& w : all) words += words.empty() ? w : "; " + w;
  return words;
}

/// What a contractor buys more or less: everything but fittings, which follow from it.
std::vector<Words> difference(std::vector<Material> const& now, std::vector<Material> const& then) {
  auto const counts = [](Material const& m) { return m.sort != "fitting" && m.sort != "insulation" && m.sort != "boiler"; };
  auto const told = [](Material const& m, double quantity) {
    bool const is_length = m.measure.us.symbol != measure::count.us.symbol;
    return is_length ? say("{} of {}", Amount{quantity, m.measure}, m.what) : say("{} × {}", std::lround(quantity), m.what);
  };
  auto const beyond = [&](std::vector<Material> const& list, std::vector<Material> const& other) {
    std::vector<Words> all;
    for (auto const& m : list) {
      if (!counts(m)) continue;
      double quantity = m.quantity;
      for (auto const& o : other)
        if (o.sort == m.sort && o.what.in(UnitSystem::us) == m.what.in(UnitSystem::us)) quantity -= o.quantity;
      if (quantity > 0.3) all.push_back(told(m, quantity));  // a foot of pipe; the rest are whole pieces
    }
    return all;
  };
  std::vector<Words> parts;
  if (auto const more = beyond(then, now); !more.empty()) parts.push_back("adds " + listed(more));
  if (auto const less = beyond(now, then); !less.empty()) parts.push_back("saves " + listed(less));
  return parts;
}

void tell_design_day(Candidate& c, Judged const& j, Installation const& in) {
  auto const& state = j.flows.states.front();
  auto& row = c.row;
  row.boiler_flow = state.boiler_flow, c.boiler_supply = state.boiler_supply;
  double least = 1e9, deepest = 1e9;
  for (auto const& z : state.zones) {
    if (z.wanted > 0 && z.got / z.wanted < least)
      least = z.got / z.wanted, row.lowest_zone = z.name, row.lowest_flow = z.got, row.lowest_needed = z.wanted;
    auto const ran = std::find_if(j.run.zones.begin(), j.run.zones.end(), [&](auto const& r) { return r.name == z.name; });
    if (ran == j.run.zones.end() || std::isnan(ran->setting) || std::isnan(z.room)) continue;
    double constexpr alike = 0.05;  // [K]
    double const over = z.room - ran->setting;
    if (over < deepest - alike || (over < deepest + alike && z.room < row.coldest_room))
      deepest = std::min(deepest, over), row.coldest_zone = z.name, row.coldest_room = z.room, row.coldest_setting = ran->setting;
  }
  for (auto const& e : state.edges)
    if (e.kind == in.pieces[std::size_t(in.boiler)].kind->name) c.boiler_head = e.head_loss;
  bool const direct = c.layout.arrangement == N::direct;
  if (c.layout.distribution == Distribution::circulators || !direct) return;
  int const one = in.part(Part::boiler_circulator) >= 0 ? in.part(Part::boiler_circulator) : in.part(Part::system_circulator);
  if (one < 0 || in.pieces[std::size_t(one)].kind->name != Circulator::kind) return;
  auto circulator = fill<Circulator>(in.pieces[std::size_t(one)].values);
  circulator.prepare();
  for (auto const& p : state.circulators)
    if (p.name == in.pieces[std::size_t(one)].name)
      c.head = p.head, c.most_head = circulator.in_series * circulator.curve(p.flow / circulator.in_parallel);
}

/// Solves and runs it. Errors: none, they are told by its reason.
void judge_candidate(Candidate& c, Case const& house, std::vector<Material> const& now, std::function<bool()> const& interrupted) {
  Case const changed{house.document().file, c.text, {}, house.units()};
  auto const& in = changed.project().installation;
  auto const j = judge(changed, interrupted);
  if (!j.fault.empty()) {
    c.row.reason = j.fault;
    return;
  }
  tell_design_day(c, j, in);
  auto const& b = j.run.burner;
  auto& row = c.row;
  row.starts = b.starts, row.starts_per_hour_worst = b.starts_per_hour_worst, row.burn_median = b.burns.empty() ? 0 : b.burn_median;
  row.electricity = j.run.energy.electricity, row.fuel = j.run.energy.fuel;
  row.drawing = j.run.drawing;
  row.parts = difference(now, materials(changed.document(), in, catalog()));
  c.least_output = b.output_least, c.short_burn = j.run.why.short_burn;
  for (auto const& t : j.troubles)
    if (t.sort != Sort::too_warm) c.troubles.push_back(t), row.troubles.push_back(t.words);
}

/// The verdict over all rows.
class Verdict {
 public:
  Verdict(Case const& house, std::vector<Candidate>& all, double boiler_flow)
      : house_{house}, all_{all}, in_{house.project().installation}, boiler_flow_{boiler_flow} {}

  void tell(ArrangementsRecord& record) {
    for (auto& c : all_) c.row.works = c.row.is_solved() && !worst(c);
    chosen_ = choose();
    record.chosen = chosen_ ? int(chosen_ - all_.data()) : -1;
    if (chosen_) simplest(), why_no_less(), why_no_more();
    else none_works();
    as_now(), distribution(), left();
    record.answer = std::move(answer_);
  }

 private:
  /// Of an arrangement, the simplest least; as the file's choices stand, but for tanks on fewer pipes first.
  static int rank(Candidate const& c) { return 4 * c.layout.arrangement + N::two - c.layout.tank_pipes; }
  static bool is_room(Sort s) { return s == Sort::cold_room || s == Sort::too_cold; }

  /// What is wrong with it and is its own doing, flow before what follows from it, then the gravest first; null where nothing is.
  Trouble const* worst(Candidate const& c) const {
    Trouble const* first = nullptr;
    for (auto const& t : c.troubles) {
      if (!is_its_own(t)) continue;
      if (t.sort == Sort::short_of_flow) return &t;
      if (!first) first = &t;
    }
    return first;
  }
  double least_of(Trouble const& t) const {
    double least = t.amount;
    for (auto const& other : all_)
      if (other.row.is_solved()) least = std::min(least, amount_of(other, t.sort, t.place));
    return least;
  }
  bool is_everywhere(Trouble const& t) const { return least_of(t) > 0; }
  bool is_its_own(Trouble const& t) const {
    double constexpr alike = 0.25, felt = 0.5;
    double const least = least_of(t);
    if (is_room(t.sort)) return least <= 0 && t.amount > felt;
    return t.amount > least + (least > 0 ? alike : 0);
  }

  Candidate const& now() const { return all_.front(); }
  Candidate const* choose() const {
    Candidate const* best = nullptr;
    for (auto const& c : all_)
      if (c.row.works && (!best || rank(c) < rank(*best))) best = &c;
    if (!best) return nullptr;
    for (auto const& c : all_) {  // the same arrangement, otherwise distributed
      double constexpr less = 0.9;  // of the electricity
      if (!c.row.works || rank(c) != rank(*best)) continue;
      if (c.row.electricity < less * best->row.electricity) best = &c;
    }
    return best;
  }

  static std::string with(Candidate const& c) {
    return c.layout.distribution == Distribution::circulators ? "with a circulator per zone" : "with zone valves";
  }
  static std::string full_name(Candidate const& c) {
    return c.row.arrangement + (c.layout.arrangement == N::buffer ? ", " : " ") + with(c);
  }
  static std::string counted(long n, char const* what) { return fmt::format("{} {}{}", n, what, n == 1 ? "" : "s"); }
  Words burns(Candidate const& c) const {
    return c.row.burn_median > 0 ? say("median burn {}", Amount{c.row.burn_median, measure::minutes}) : Words("no burn ended");
  }

  void simplest() {
    auto const& c = *chosen_;
    std::vector<Words> figures;
    if (!c.row.lowest_zone.empty())
      figures.push_back(say("lowest zone flow {} of the flow needed", Amount{c.row.lowest_share(), measure::share}));
    figures.push_back(burns(c)), figures.push_back(counted(c.row.starts_per_hour_worst, "start") + " in the worst hour");
    answer_.push_back(say("Simplest arrangement that works: {}; {}.",
                          c.row.is_as_now ? c.row.arrangement + ", as the house is now" : full_name(c), listed(figures, ", ")));
  }

  /// Why each simpler arrangement does not do.
  void why_no_less() {
    if (chosen_->layout.arrangement == N::buffer && cycles_without_tank()) return buffer_needed();
    for (int const simpler : {int(N::direct), int(N::tees), int(N::separator)})
      if (simpler < chosen_->layout.arrangement)
        if (auto const* c = nearest(simpler)) answer_.push_back(fault_of(*c));
  }
  /// Of one arrangement the candidate with least that is wrong.
  Candidate const* nearest(int arrangement) const {
    Candidate const* best = nullptr;
    auto const sum = [&](Candidate const& c) {
      double all = 0;
      for (auto const& t : c.troubles) all += t.amount;
      return c.row.is_solved() ? all : 1e9;
    };
    for (auto const& c : all_)
      if (c.layout.arrangement == arrangement && (!best || sum(c) < sum(*best))) best = &c;
    return best;
  }
  Words fault_of(Candidate const& c) const {
    auto const name = begun_large(c.row.arrangement);
    if (c.row.arrangement == many_others) return say("No other arrangement is possible: {}.", c.row.reason);
    if (!c.row.is_solved()) return say("{} is not possible: {}.", name, c.row.reason);
    bool const by_boiler = worst(c)->sort == Sort::short_of_flow && c.layout.arrangement == N::direct;
    char const* const does_not = c.layout.arrangement == N::tees ? "do not work" : "does not work";
    return say("{} {}: {}{}.", name, does_not, wrong(c), by_boiler ? "; " + in_the_boiler(c) : Words(""));
  }
  /// "studio gets 0.7 gpm of 2.0 gpm needed". Valid: where something is wrong with it.
  Words wrong(Candidate const& c) const {
    auto const& t = *worst(c);
    if (t.sort != Sort::short_of_flow) return without_period(t.words);
    Amount const got{c.row.lowest_flow, measure::flow}, needed{c.row.lowest_needed, measure::flow};
    return say("{} gets {} of {} needed", c.row.lowest_zone, got, needed);
  }
  static Words without_period(Words const& words) {
    auto const cut = [&](UnitSystem units) {
      auto text = words.in(units);
      if (text.ends_with('.')) text.pop_back();
      return text;
    };
    return InEach{cut(UnitSystem::us), cut(UnitSystem::si)};
  }
  /// At the flow that all zones need, by the square of what it takes at the row's own.
  Words in_the_boiler(Candidate const& c) const {
    double const share = c.row.boiler_flow > 0 ? boiler_flow_ / c.row.boiler_flow : 0;
    return say("at the {} that all zones need the boiler takes {}", Amount{boiler_flow_, measure::flow},
               Amount{c.boiler_head * share * share, measure::head});
  }
  static std::string begun_large(std::string words) {
    if (!words.empty() && words[0] >= 'a' && words[0] <= 'z') words[0] = char(words[0] - 'a' + 'A');
    return words;
  }

  bool cycles_without_tank() const {
    return std::any_of(all_.begin(), all_.end(), [&](auto const& c) {
      auto const* t = c.layout.arrangement == N::buffer || !c.row.is_solved() ? nullptr : worst(c);
      return t && subject_of(t->sort) == Subject::cycling;
    });
  }
  ZoneParts const* smallest_zone() const {
    ZoneParts const* small = nullptr;
    for (auto const& z : in_.zones)
      if (z.room >= 0 && (!small || z.design_load < small->design_load)) small = &z;
    return small;
  }
  void buffer_needed() {
    std::vector<Words> without;
    double short_burn = 0;
    for (int const simpler : {int(N::direct), int(N::tees), int(N::separator)})
      if (auto const* c = nearest(simpler); c && c->row.is_solved()) {
        auto const starts = counted(c->row.starts_per_hour_worst, "start");
        without.push_back(say("{}: {}, {} in the worst hour", c->row.arrangement, burns(*c), starts));
        short_burn = c->short_burn;
      }
    auto const fire = say("minimum fire output {}", Amount{now().least_output, measure::power});
    auto const* z = smallest_zone();
    auto const load = z ? say(", {} alone needs {} on the design day", z->name, Amount{z->design_load, measure::power}) : Words("");
    double const formula = buffer_by_formula(house_, now().least_output);
    auto const size = formula > 0 ? say(" (the buffer formula gives {})", Amount{formula, measure::whole_volume}) : Words("");
    answer_.push_back(say("A buffer tank is needed: {}{}{}. Without it: {}; minimum burn {}.", fire, load, size, joined(without),
                          Amount{short_burn, measure::minutes}));
  }

  /// Why nothing more is needed.
  void why_no_more() {
    auto const& c = *chosen_;
    if (c.layout.arrangement >= N::buffer) return;
    bool const direct = c.layout.arrangement == N::direct;
    auto const what = direct                                ? "Tees, a separator or a buffer tank are not needed"
                      : c.layout.arrangement == N::tees ? "A separator or a buffer tank is not needed"
                                                            : "A buffer tank is not needed";
    std::vector<Words> why;
    if (direct) {
      why.push_back(in_the_boiler(c));
      double constexpr spare = 0.3;  // [m] else it runs on its curve
      if (Amount const runs{c.head, measure::head}, could{c.most_head, measure::head}; c.most_head > c.head + spare)
        why.push_back(say("the circulator runs at {} and could give {} there", runs, could));
    }
    auto const* z = smallest_zone();
    if (z && now().least_output > 0) {
      Amount const fire{now().least_output, measure::power}, load{z->design_load, measure::power};
      if (buffer_by_formula(house_, now().least_output) <= 0)
        why.push_back(say("minimum fire output {} is no more than the smallest zone, {}, needs ({})", fire, z->name, load));
      else if (!amount_of(c, Sort::short_burns, "") && c.row.burn_median > 0)
        why.push_back(say("burns are long enough without a tank, minimum {}", Amount{c.short_burn, measure::minutes}));
    }
    if (!why.empty()) answer_.push_back(say("{}: {}.", what, joined(why)));
  }

  void none_works() {
    Candidate const* best = nullptr;
    double least = 1e300;
    for (auto const& c : all_) {
      double sum = 0;
      for (auto const& t : c.troubles) sum += t.amount;
      if (c.row.is_solved() && sum < least) least = sum, best = &c;
    }
    answer_.push_back("No arrangement works: each has a trouble that another has not.");
    if (best) answer_.push_back(say("Least is wrong with {}: {}.", full_name(*best), wrong(*best)));
  }

  void as_now() {
    if (chosen_ == &now()) return;
    if (worst(now())) answer_.push_back(say("The house as it is now ({}) does not work: {}.", full_name(now()), wrong(now())));
    else answer_.push_back(say("The house as it is now ({}) works too.", full_name(now())));
  }

  /// The same arrangement with the other distribution.
  void distribution() {
    Candidate const *valves = nullptr, *circulators = nullptr;
    auto const of = chosen_ ? chosen_->layout : now().layout;
    for (auto const& c : all_) {
      bool const same = c.layout.arrangement == of.arrangement && c.layout.tank_pipes == of.tank_pipes;
      if (!same || !c.row.is_solved() || (chosen_ && c.layout.distribution == of.distribution && &c != chosen_)) continue;
      (c.layout.distribution == Distribution::zone_valves ? valves : circulators) = &c;
    }
    if (!valves || !circulators) return;
    for (auto const* c : {valves, circulators})
      if (chosen_ && worst(*c)) return answer_.push_back(say("{} it does not work: {}.", begun_large(with(*c)), wrong(*c)));
    double constexpr alike = 0.1;
    double const a = valves->row.electricity, b = circulators->row.electricity;
    Amount const by_valves{a, measure::electricity}, by_circulators{b, measure::electricity};
    auto const tell = [&](char const* pattern, Amount first, Amount second) { answer_.push_back(say(pattern, first, second)); };
    if (std::abs(a - b) <= alike * std::max(a, b))
      tell("Zone valves with one circulator, or a circulator per zone: about the same electricity, {} and {}.", by_valves, by_circulators);
    else if (a < b)
      tell("Zone valves with one circulator take less electricity: {}, against {} with a circulator per zone.", by_valves, by_circulators);
    else tell("A circulator per zone takes less electricity: {}, against {} with zone valves.", by_circulators, by_valves);
  }

  /// What no piping changes.
  void left() {
    if (!chosen_ || chosen_->troubles.empty()) return;
    std::vector<Words> words;
    for (auto const& t : chosen_->troubles)
      if (words.size() < 3 && is_everywhere(t)) words.push_back(without_period(t.words));
    if (!words.empty()) answer_.push_back(say("No arrangement changes this: {}. Run `steadyfire advise`.", joined(words)));
  }

  Case const& house_;
  std::vector<Candidate>& all_;
  Installation const& in_;
  double const boiler_flow_;  // [m³/s] that all zones need
  Candidate const* chosen_ = nullptr;
  std::vector<Words> answer_;
};

/// Rows that are not built for one reason become one: an arrangement with either distribution, then many arrangements.
void join_refused(std::vector<Candidate>& all) {
  auto const reason = [](Candidate const& c) { return c.row.reason.in(UnitSystem::us); };
  for (std::size_t i = 1; i < all.size();) {
    auto &before = all[i - 1].row, &row = all[i].row;
    bool const same = !row.is_solved() && before.arrangement == row.arrangement && reason(all[i - 1]) == reason(all[i]);
    if (same) before.distribution = "either", all.erase(all.begin() + long(i));
    else ++i;
  }
  std::size_t constexpr many = 3;
  for (std::size_t i = 1; i < all.size(); ++i) {
    auto const same = [&, why = reason(all[i]), distribution = all[i].row.distribution](Candidate const& c) {
      return !c.row.is_solved() && reason(c) == why && c.row.distribution == distribution;
    };
    if (all[i].row.is_solved() || std::size_t(std::count_if(all.begin(), all.end(), same)) < many) continue;
    all[i].row.arrangement = many_others;
    all.erase(std::remove_if(all.begin() + long(i) + 1, all.end(), same), all.end());
  }
}

}  // namespace

ArrangementsRecord compare_arrangements(Case const& house, unsigned jobs, std::function<void(double)> const& progress,
                                        std::function<bool()> const& interrupted) {
  ArrangementsRecord record;
  record.title = house.project().installation.title, record.scenario = house.document().file;
  record.program_version = STEADYFIRE_VERSION, record.cautions = {caution};
  auto const bought = materials(house.document(), house.project().installation, catalog());
  auto const candidate = [](Layout const& layout) {
    Candidate c;
    c.layout = layout, c.row.arrangement = arrangement_name(layout), c.row.distribution = distribution_name(layout.distribution);
    return c;
  };
  std::vector<Candidate> all{candidate(layout_of(house))};
  auto& now = all.front();
  now.text = house.text(), now.row.is_as_now = true;
  judge_candidate(now, house, bought, interrupted);
  if (!now.row.is_solved()) {
    record.rows.push_back(std::move(now.row));
    return record;
  }
  auto const needs = needs_of(house, now.boiler_supply, now.least_output);
  for (auto const& layout : all_layouts()) all.push_back(candidate(layout));

  std::atomic<std::size_t> done{1};
  std::mutex one_at_a_time;
  std::vector<char> is_as_now(all.size());
  spread(
      all.size() - 1, jobs,
      [&](std::size_t i) {
        auto& c = all[i + 1];
        auto relaid = lay_out_again(house, c.layout, needs);
        c.text = std::move(relaid.text), c.row.reason = std::move(relaid.reason);
        is_as_now[i + 1] = c.row.is_solved() && c.text == house.text();
        if (c.row.is_solved() && !is_as_now[i + 1]) judge_candidate(c, house, bought, interrupted);
        std::scoped_lock const lock{one_at_a_time};
        if (progress) progress(double(++done) / double(all.size()));
      },
      interrupted);
  if (interrupted && interrupted()) return record;
  for (std::size_t i = all.size(); i-- > 1;)
    if (is_as_now[i]) all.erase(all.begin() + long(i));
  join_refused(all);
  Verdict{house, all, needs.boiler_flow}.tell(record);
  for (auto& c : all) record.rows.push_back(std::move(c.row));
  return record;
}

}  // namespace steadyfire
