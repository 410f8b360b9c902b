#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

/// What collects the calls of all zones and passes on one call and the highest wanted
/// water temperature among those who call.
///
///   wanted' = (T_highest − wanted)/20 s
///
/// Shape   no branch; one own state, the wanted temperature; `sources` in the order of `callers`.
struct ZoneRelay {
  std::vector<Reference> callers, sources;

  int highest = 0;  // which source, from settle()

  static constexpr std::string_view kind = "zone relay", family = "control",
                                    summary = "Zone relay: combines the calls; the highest target counts";
  static constexpr Role role = Role::relay;
  static std::vector<Field> schema() {
    return {reference<&ZoneRelay::callers>("callers", "control", "controls that may call").optional(),
            reference<&ZoneRelay::sources>("sources", "control", "controls whose target counts while they call").optional()};
  }
  static constexpr double answer = 1 / 20.0;  // [1/s]
  std::vector<OwnState> states() const { return {{"wanted temperature", 0, 333.15, 0.1, 0, StateRole::wanted}}; }
  /// The calling source that wants most; if none calls, the one that wants most at all.
  int most_wanting(Site const& s) const {
    int best = 0;
    for (bool const only_callers : {true, false}) {
      double most = -1e30;
      for (std::size_t i = 0; i < sources.size(); ++i)
        if (double const its = s[s.of(sources[i], StateRole::wanted)]; (!only_callers || s.calls(callers[i])) && its > most)
          most = its, best = int(i);
      if (most > -1e30) return best;
    }
    return best;
  }
  void begin(Site const& s, std::span<double> own) const {
    if (!sources.empty()) own[0] = s[s.of(sources[most_wanting(s)], StateRole::wanted)];
  }
  void settle(Site const& s) { highest = most_wanting(s); }
  void links(Links& book, Site const& s) const {
    for (std::size_t i = 0; i < sources.size(); ++i)
      book.follow(s.own(), s.of(sources[i], StateRole::wanted), int(i) == highest ? answer : 0);
  }
  enum Mode { idle, calling };
  static constexpr std::array<std::string_view, 2> modes{"idle", "calling"};
  static constexpr std::array<Traits, 2> traits{trait::none, trait::calls};
  static auto transitions() {
    using T = Transition<ZoneRelay>;
    return std::array{T{idle, calling, &ZoneRelay::some, Cause::call, "call for heat", measure::plain, &ZoneRelay::take_highest},
                      T{calling, idle, &ZoneRelay::none, Cause::call_ended, "no call left"}};
  }
  bool any(Site const& s) const { return std::any_of(callers.begin(), callers.end(), [&](Reference r) { return s.calls(r); }); }
  Reading some(Site const& s) const { return Reading::fact(any(s)); }
  Reading none(Site const& s) const { return Reading::fact(!any(s)); }
  void take_highest(Site const& s, std::span<double> own) const { begin(s, own); }
};

/// Outdoor reset: the water temperature wanted, by the outdoor temperature.
///
///   wanted = clamp(T_mild + (T_cold − T_mild)·(o_mild − o)/(o_mild − o_cold), lowest, highest)
///   o' = (T_outdoors − o)/averaging time
///
/// Shape   no branch; own states: averaged outdoors o, wanted temperature (lags 60 s); mode "heating" permits.
/// Valid   a fixed water temperature is a curve whose two supplies are the same.
struct OutdoorReset {
  Temperature cold_outdoors, cold_supply, mild_outdoors, mild_supply, lowest, highest, shut_down;
  TemperatureChange shut_down_differential;
  Time averaging;

  static constexpr std::string_view kind = "outdoor reset", family = "outdoor reset",
                                    summary = "Outdoor reset: supply temperature by outdoor temperature";
  static constexpr Role role = Role::reset;
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&OutdoorReset::cold_outdoors>("cold_outdoors", degF, -80, 70, "outdoor temperature of the cold point")
                .optional("the outdoor design temperature").as(FieldRole::cold_outdoors),
            field<&OutdoorReset::cold_supply>("cold_supply", degF, 60, 220, "supply temperature at the cold point")
                .optional("supply_temperature, else usual for the emitter").as(FieldRole::cold_supply),
            field<&OutdoorReset::mild_outdoors>("mild_outdoors", degF, -20, 90, "outdoor temperature of the mild point")
                .otherwise(65)
                .as(FieldRole::mild_outdoors),
            field<&OutdoorReset::mild_supply>("mild_supply", degF, 50, 220, "supply temperature at the mild point")
                .optional(Amount{degF.to_si(80), measure::temperature})
                .as(FieldRole::mild_supply),
            field<&OutdoorReset::lowest>("lowest_supply", degF, 50, 220, "minimum supply temperature")
                .optional("the lower of the two supplies").as(FieldRole::lowest_supply),
            field<&OutdoorReset::highest>("highest_supply", degF, 60, 220, "maximum supply temperature")
                .optional("the higher of the two supplies").as(FieldRole::highest_supply),
            field<&OutdoorReset::shut_down>("warm_weather_shut_down", degF, 30, 120,
                "warm-weather shutdown: no heating above this outdoor average")
                .optional("none: heats at any outdoor temperature"),
            field<&OutdoorReset::shut_down_differential>("shut_down_differential", degF_change, 0.2, 10,
                "drop below warm-weather shutdown before heating starts again")
                .otherwise(2),
            field<&OutdoorReset::averaging>("averaging_time", hour, 0, 72,
                                            "averaging time of the outdoor sensor: 1 to 2 h light emitters, 6 to 12 h slabs")
                .optional("by the emitter: 1.5 h for light ones to 8 h for a radiant slab")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    using R = OutdoorReset;
    refuse_order<&R::cold_outdoors, &R::mild_outdoors>(e, false, "E226", "the mild point is not warmer outdoors than the cold point",
                                                       "mild_outdoors above cold_outdoors", faults);
    refuse_order<&R::mild_supply, &R::cold_supply>(e, true, "E249", "the supply temperature rises as it gets milder outdoors",
                                                   "mild_supply at most cold_supply", faults);
    refuse_order<&R::lowest, &R::highest>(e, true, "E249", "lowest_supply is above highest_supply", "lowest_supply at most highest_supply",
                                          faults);
  }
  /// Adds a fault with both places if the second temperature is not above the first.
  template <auto Low, auto High>
  static void refuse_order(Entry const& e, bool may_be_equal, char const* code, char const* words, char const* expected,
                           Diagnostics& faults) {
    auto const &a = value_of<Low>(e), &b = value_of<High>(e);
    if (a.numbers.empty() || b.numbers.empty()) return;
    constexpr double rounding = 1e-6;  // [K] of units
    if (b.numbers[0] - a.numbers[0] > (may_be_equal ? -rounding : rounding)) return;
    auto const told = [](Field const& f, Value const& v) {
      return f.key + " " + show(v.numbers[0], measure::temperature, UnitSystem::us);
    };
    bool const high_stands = b.at != e.at;  // else it follows from the site or the emitter
    auto const both = told(field_of<High>(*e.kind), b) + ", " + told(field_of<Low>(*e.kind), a);
    faults.add({code, high_stands ? b.at : a.at, e.who + ": " + words + ": " + both, expected, "",
                high_stands && a.at != e.at ? a.at : Position{}});
  }
  std::vector<OwnState> states() const {
    return {{"averaged outdoors", 0, 273.15, 0.1}, {"wanted temperature", 0, 333.15, 0.1, 0, StateRole::wanted}};
  }
  template <class N>
  N curve(N outdoors) const {
    double const slope = (*cold_supply - *mild_supply) / (*mild_outdoors - *cold_outdoors);
    double const least = std::isnan(*lowest) ? std::min(*cold_supply, *mild_supply) : *lowest;
    double const most = std::isnan(*highest) ? std::max(*cold_supply, *mild_supply) : *highest;
    return within(*mild_supply + slope * (*mild_outdoors - outdoors), N(least), N(most));
  }
  void begin(Site const& s, std::span<double> own) const { own[0] = s[given::outdoors], own[1] = curve(own[0]); }
  double average_over() const { return std::isnan(*averaging) ? 3600 : std::max(*averaging, 10.0); }
  void links(Links& book, Site const& s) const { book.follow(s.own(), given::outdoors, 1 / average_over()); }
  void laws(auto& book, Site const& s) const {
    book.rate(s.own(1), [&](auto average, auto wanted) { return (curve(average) - wanted) / 60.0; }, s.own(), s.own(1));
  }
  enum Mode { warm, heating };
  static constexpr std::array<std::string_view, 2> modes{"warm-weather shut-down", "heating"};
  static constexpr std::array<Traits, 2> traits{trait::none, trait::calls};
  static auto transitions() {
    using T = Transition<OutdoorReset>;
    auto constexpr t = measure::fine_temperature;
    return std::array{
        T{warm, heating, &OutdoorReset::cool_out, Cause::heating_on, "heating on: outdoor average {value}", t},
        T{heating, warm, &OutdoorReset::warm_out, Cause::warm_weather_shutdown,
          "warm-weather shutdown: outdoor average reached {value}", t}};
  }
  Reading cool_out(Site const& s) const {
    return std::isnan(*shut_down) ? Reading::fact(true, s[s.own()]) : Reading::below(s[s.own()], *shut_down - *shut_down_differential);
  }
  Reading warm_out(Site const& s) const { return std::isnan(*shut_down) ? Reading::never() : Reading::above(s[s.own()], *shut_down); }
};

}  // namespace steadyfire
