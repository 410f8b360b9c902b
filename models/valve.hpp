#pragma once
#include "models/fittings.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Any resistance in textbook form.
///
///   head = c·|Q|^(n−1)·Q   [m], Q in m³/s
///
/// Shape   one branch without cells.
/// Valid   below 1 mL/s a straight piece replaces the power, so that the slope stays finite; error < 0.1 % above 30 mL/s.
struct TextbookResistance {
  double coefficient, exponent;

  static constexpr std::string_view kind = "resistance", family = "piping", summary = "Hydraulic resistance in textbook form";
  static constexpr Role role = Role::pipe;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    return {number<&TextbookResistance::coefficient>("coefficient", 0, 1e15, "head = coefficient·|Q|^(exponent−1)·Q in m and m³/s"),
            number<&TextbookResistance::exponent>("exponent", 1, 3, "exponent of the flow").otherwise(2)};
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    Flow const Q = flow / s.local().density;
    return s.fluid().density * 9.80665 * coefficient * power_with_sign(Q, exponent);
  }
};

/// Valve of a stated flow coefficient: isolating, balancing or any fixed throttle.
///
///   Δp = SG·(Q/Kv)²   [bar], Q in m³/h;   Kv = 0.865·Cv   (models/fittings.hpp)
///
/// Shape   one branch without cells; `shut` lets nothing through.
/// Source  IEC 60534-2-1.
struct Valve {
  double cv, kv;
  bool shut;

  static constexpr std::string_view kind = "valve", family = "valve", summary = "Valve with a stated flow coefficient";
  static constexpr Role role = Role::valve;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    return {number<&Valve::cv>("cv", 1e-3, 1e5, "flow coefficient Cv").optional(), number<&Valve::kv>("kv", 1e-3, 1e5,
        "flow coefficient Kv").optional(),
            flag<&Valve::shut>("shut", "closed by hand").otherwise(0)};
  }
  static void check(Entry const& e, Diagnostics& faults) { check_cv<Valve>(e, faults, 0); }
  /// Exactly one of cv and kv; `or_typical` where neither is fine too.
  template <class K>
  static void check_cv(Entry const& e, Diagnostics& faults, bool or_typical) {
    auto const &cv = value_of<&K::cv>(e), &kv = value_of<&K::kv>(e);
    if (cv.given && kv.given)
      faults.add({"E222", kv.at, e.who + " has both 'cv' and 'kv'", "one of them", "remove one; Kv = 0.865 Cv", cv.at});
    if (!cv.given && !kv.given && !or_typical && !e.ports.empty())
      faults.add({"E205", e.at, e.who + ": 'cv' or 'kv' is missing",
                  "cv = 10.0 (gpm at 1 psi) or kv = 8.6 (m³/h at 1 bar)", "", {}, {}, "cv"});
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return kv_loss(flow, kv_from(cv, kv), s.local()); }
  Way way(int, Site const&) const { return shut ? Way::shut : Way::open; }
};

/// Flow check (check valve): opens forward above its opening head, shuts backward, so that neither
/// a neighbour's circulator nor warm water's own lift moves water where nobody calls.
///
///   Δp = ρ·g·opening head + SG·(Q/Kv)²      opening 0.3 to 0.5 psi, common practice, no source
///
/// Shape   one branch without cells.
struct CheckValve {
  double cv, kv;
  Length opening_head;

  static constexpr std::string_view kind = "check valve", family = "flow check",
                                    summary = "Flow check with its opening head";
  static constexpr Role role = Role::check;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    return {number<&CheckValve::cv>("cv", 1e-3, 1e5, "flow coefficient Cv").typical(6, 10, 20).unless("kv"),
            number<&CheckValve::kv>("kv", 1e-3, 1e5, "flow coefficient Kv").optional(),
            field<&CheckValve::opening_head>("opening_head", unit::foot, 0, 20, "head that starts to open it").typical(0.7, 0.9, 1.2)};
  }
  static void check(Entry const& e, Diagnostics& faults) { Valve::check_cv<CheckValve>(e, faults, true); }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    return s.fluid().density * 9.80665 * *opening_head + kv_loss(flow, kv_from(cv, kv), s.local());
  }
  Way way(int, Site const&) const { return Way::forward; }
};

/// Zone valve: a motor opens it on a call, a spring shuts it; the end switch makes when
/// it is fully open, and only then does the valve itself call.
///
/// Shape   one branch without cells; lets nothing through until it is open (the part-open
///         moments are left out: they last seconds and the boiler is not yet called).
struct ZoneValve {
  double cv, kv;
  Time opening_time;
  Reference call;

  static constexpr std::string_view kind = "zone valve", family = "zone valve", summary = "Zone valve with end switch";
  static constexpr Role role = Role::valve;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    return {number<&ZoneValve::cv>("cv", 1e-3, 1e5, "flow coefficient Cv").typical(2.5, 5, 8).unless("kv"),
            number<&ZoneValve::kv>("kv", 1e-3, 1e5, "flow coefficient Kv").optional(),
            field<&ZoneValve::opening_time>("opening_time", unit::second, 0, 600, "time until the end switch makes").typical(8, 30, 180),
            reference<&ZoneValve::call>("call", "control", "control that opens it").optional("always open")};
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return kv_loss(flow, kv_from(cv, kv), s.local()); }
  Way way(int, Site const& s) const { return s.mode() == open ? Way::open : Way::shut; }

  enum Mode { shut, open, opening };
  static constexpr std::array<std::string_view, 3> modes{"shut", "open", "opening"};
  static constexpr std::array<Traits, 3> traits{trait::none, trait::calls, trait::none};
  static auto transitions() {
    using T = Transition<ZoneValve>;
    auto constexpr ended = "zone valve closed: call ended";
    return std::array{T{shut, opening, &ZoneValve::wanted, Cause::call, "zone valve opening: called"},
                      T{opening, open, &ZoneValve::moved, Cause::timer, "zone valve open: end switch made after {value}", measure::seconds},
                      T{opening, shut, &ZoneValve::unwanted, Cause::call_ended, ended},
                      T{open, shut, &ZoneValve::unwanted, Cause::call_ended, ended}};
  }
  Reading wanted(Site const& s) const { return Reading::fact(!call || s.calls(call)); }
  Reading unwanted(Site const& s) const { return Reading::fact(call && !s.calls(call)); }
  Reading moved(Site const& s) const { return Reading::after(s, *opening_time); }
};

}  // namespace steadyfire
