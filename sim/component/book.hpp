#pragma once
/// The books in which pieces enter their heat. Every entry names where the heat
/// leaves and where it arrives, so no kind can make or lose any.

#include <utility>
#include <vector>

#include "sim/component/contract.hpp"
#include "sim/core/formula.hpp"

namespace steadyfire {

/// Heat that arrives at two places, `share` of it at the second. A share of 0 never touches the second.
struct Divided {
  Place first, second;
  double share;
};

struct Matter { Place row, column; double value = 0; };

/// Straight lines, constant until flows or modes change: entered once per
/// switching state, then the engine owns them as one flat matrix.
class Links {
 public:
  explicit Links(double const* per_heat) : per_heat_{per_heat} {}

  /// G·(T_from − T_to) flows from `from` to `to` [W/K].
  void link(Place from, Place to, double G) { link(from, to, G, from, to); }
  /// The same, driven by two other temperatures.
  void link(Place from, Place to, double G, Place warm, Place cool) {
    heat(from, warm, -G), heat(from, cool, G), heat(to, warm, G), heat(to, cool, -G);
  }
  /// Divided among two places, driven by two other temperatures.
  void link(Place from, Divided to, double G, Place warm, Place cool) {
    link(from, to.first, G * (1 - to.share), warm, cool);
    if (to.share > 0) link(from, to.second, G * to.share, warm, cool);
  }
  void give(Place from, Divided to, double W) {
    give(from, to.first, W * (1 - to.share));
    if (to.share > 0) give(from, to.second, W * to.share);
  }
  /// A constant heat [W].
  void give(Place from, Place to, double W) { heat(from, given::unity, -W), heat(to, given::unity, W); }
  /// Water carries W [W/K] from `from` and pushes as much out of `to`.
  void carry(Place from, Place to, double W) { heat(to, from, W), heat(to, to, -W); }
  /// A signal follows another place: own' = rate·(x_source − x_own) [1/s].
  void follow(Place own, Place source, double rate) {
    entries.push_back({own, source, rate}), entries.push_back({own, own, -rate});
  }
  /// A signal drifts steadily [1/s].
  void drift(Place own, double rate) { entries.push_back({own, given::unity, rate}); }

  std::vector<Matter> entries;

 private:
  void heat(Place row, Place column, double G) { entries.push_back({row, column, G * per_heat_[row]}); }
  double const* per_heat_;
};

/// Curved laws come in four books: what they give, how they bend, whom they touch, how they read.
///   heat(from, to, law, at...)   law(T_at...) [W] flows from `from` to `to`
///   rate(own, law, at...)        own state changes by law(T_at...) [1/s]
struct Rates {
  double const* x;
  double const* per_heat;
  double* rates;
  template <class Law, class... At>
  void heat(Place from, Place to, Law law, At... at) {
    double const q = law(x[at]...);
    rates[from] -= q * per_heat[from];
    rates[to] += q * per_heat[to];
  }
  template <class Law, class... At>
  void heat(Place from, Divided to, Law law, At... at) {
    double const q = law(x[at]...);
    rates[from] -= q * per_heat[from];
    rates[to.first] += (1 - to.share) * q * per_heat[to.first];
    if (to.share > 0) rates[to.second] += to.share * q * per_heat[to.second];
  }
  /// The same heat in equal shares into neighbouring places, the law asked once.
  template <class Law, class... At>
  void spread(Place from, Place first, int count, Law law, At... at) {
    double const q = law(x[at]...);
    rates[from] -= q * per_heat[from];
    for (int i = 0; i < count; ++i) rates[first + i] += q / count * per_heat[first + i];
  }
  template <class Law, class... At>
  void rate(Place own, Law law, At... at) { rates[own] += law(x[at]...); }
};

struct Slopes {
  double const* x;
  double const* per_heat;
  double* values;
  int const* slot;  ///< where each next entry goes: the order is that of Pattern
  template <class Law, class... At>
  void heat(Place from, Place to, Law law, At... at) {
    auto const q = bent(law, std::index_sequence_for<At...>{}, at...);
    for (double s : q.slope) values[*slot++] -= s * per_heat[from], values[*slot++] += s * per_heat[to];
  }
  template <class Law, class... At>
  void heat(Place from, Divided to, Law law, At... at) {
    auto const q = bent(law, std::index_sequence_for<At...>{}, at...);
    for (double s : q.slope) {
      values[*slot++] -= s * per_heat[from], values[*slot++] += (1 - to.share) * s * per_heat[to.first];
      if (to.share > 0) values[*slot++] += to.share * s * per_heat[to.second];
    }
  }
  template <class Law, class... At>
  void spread(Place from, Place first, int count, Law law, At... at) {
    auto const q = bent(law, std::index_sequence_for<At...>{}, at...);
    for (double s : q.slope) {
      values[*slot++] -= s * per_heat[from];
      for (int i = 0; i < count; ++i) values[*slot++] += s / count * per_heat[first + i];
    }
  }
  template <class Law, class... At>
  void rate(Place, Law law, At... at) {
    for (double s : bent(law, std::index_sequence_for<At...>{}, at...).slope) values[*slot++] += s;
  }

 private:
  template <class Law, std::size_t... I, class... At>
  auto bent(Law& law, std::index_sequence<I...>, At... at) {
    return law(Dual<sizeof...(At)>::input(x[at], I)...);
  }
};

struct Pattern {
  std::vector<Matter>& entries;
  template <class Law, class... At>
  void heat(Place from, Place to, Law const&, At... at) {
    (..., (entries.push_back({from, at}), entries.push_back({to, at})));
  }
  template <class Law, class... At>
  void heat(Place from, Divided to, Law const&, At... at) {
    auto const enter = [&](Place source) {
      entries.push_back({from, source}), entries.push_back({to.first, source});
      if (to.share > 0) entries.push_back({to.second, source});
    };
    (..., enter(at));
  }
  template <class Law, class... At>
  void spread(Place from, Place first, int count, Law const&, At... at) {
    auto const enter = [&](Place source) {
      entries.push_back({from, source});
      for (int i = 0; i < count; ++i) entries.push_back({first + i, source});
    };
    (..., enter(at));
  }
  template <class Law, class... At>
  void rate(Place own, Law const&, At... at) { (..., entries.push_back({own, at})); }
};

/// A curved law as data: rate of each place in `into` += its factor · formula(x at `at`).
struct WrittenLaw {
  struct Share {
    Place place;
    double factor;
    bool operator==(Share const&) const = default;
  };
  Formula formula;
  std::vector<Place> at;
  std::vector<Share> into;
  bool operator==(WrittenLaw const&) const = default;
};

struct Written {
  double const* per_heat;
  std::vector<WrittenLaw> laws;
  template <class Law, class... At>
  void heat(Place from, Place to, Law law, At... at) { spread(from, to, 1, law, at...); }
  template <class Law, class... At>
  void heat(Place from, Divided to, Law law, At... at) {
    std::vector<WrittenLaw::Share> into{{from, -per_heat[from]}, {to.first, (1 - to.share) * per_heat[to.first]}};
    if (to.share > 0) into.push_back({to.second, to.share * per_heat[to.second]});
    write(law, std::move(into), std::index_sequence_for<At...>{}, at...);
  }
  template <class Law, class... At>
  void spread(Place from, Place first, int count, Law law, At... at) {
    std::vector<WrittenLaw::Share> into{{from, -per_heat[from]}};
    for (int i = 0; i < count; ++i) into.push_back({first + i, per_heat[first + i] / count});
    write(law, std::move(into), std::index_sequence_for<At...>{}, at...);
  }
  template <class Law, class... At>
  void rate(Place own, Law law, At... at) { write(law, {{own, 1}}, std::index_sequence_for<At...>{}, at...); }

 private:
  template <class Law, std::size_t... I, class... At>
  void write(Law& law, std::vector<WrittenLaw::Share> into, std::index_sequence<I...>, At... at) {
    Formula formula;
    std::array<Term, sizeof...(At)> const inputs{Term::input(formula, I)...};  // in this order
    formula.value = Term(law(inputs[I]...)).step_in(formula);
    laws.push_back({std::move(formula), {at...}, std::move(into)});
  }
};

}  // namespace steadyfire
