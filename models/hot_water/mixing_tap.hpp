#pragma once
#include "models/hot_water/draw.hpp"
#include "models/mixing/steering.hpp"

namespace steadyfire {

/// A tap, with the hand that turns it: hot and cold to the drain, by its list of draws.
///
///   flow wanted through hot = share·q, through cold = (1 − share)·q, each held as by a pressure-compensating
///   regulator: below the least pressure difference p₁ it falls, Δp = p₁·(Q/Q_wanted)²
///   share' = sat(beyond/band)/travel      beyond = wanted − T_mixed, outside ±neutral; turned to hot as it opens
///   drawn' = Q;  it shuts when the volume has been drawn, or after twice its time and 5 min
///
/// A draw whose time comes while the one before still runs begins when that ends.
///
/// Shape   two branches; own states: share of hot, drawn [L], number of the next draw. Modes shut and open.
/// Valid   both ways at least 0.1 % of q while open. Flows are solved anew whenever the share has moved by 1 %.
/// Source  least difference and the hand's pace: common practice, no source.
struct MixingTap {
  std::vector<Time> starts;
  std::vector<VolumeFlow> flows;
  std::vector<Temperature> temperatures, useful_from;
  std::vector<Volume> volumes;
  bool absolute;
  Pressure least, most;
  Time travel;

  static constexpr std::string_view kind = "mixing tap", family = "tap", summary = "A tap that mixes hot and cold, with its draws";
  static constexpr Role role = Role::tap;
  static constexpr Caller caller = Caller::tap;
  static constexpr std::array branches{Branch{"hot", "drain"}, Branch{"cold", "drain"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using T = MixingTap;
    return {list<&T::starts>("starts", second, 0, 4e8, "start times of the draws").optional("none"),
            list<&T::flows>("flows", gpm, 0.01, 100, "flow of each draw").optional().as(FieldRole::draw_flows),
            list<&T::temperatures>("temperatures", degF, 33, 212, "mixed temperature of each draw")
                .optional()
                .as(FieldRole::draw_temperatures),
            list<&T::volumes>("volumes", gallon, 1e-3, 1e4, "volume of each draw").optional().as(FieldRole::draw_volumes),
            list<&T::useful_from>("useful_from", degF, 33, 212, "temperature from which each draw counts as hot").optional(),
            flag<&T::absolute>("absolute", "starts count from the start of the run; otherwise they repeat daily").otherwise(0),
            field<&T::least>("least_difference", psi, 0.1, 50, "minimum pressure difference for its flow").typical(3, 8, 15),
            field<&T::most>("most_difference", psi, 20, 500, "maximum pressure difference to hold its flow").otherwise(150),
            field<&T::travel>("hand_time", second, 1, 60, "time to turn the handle from hot to cold").typical(3, 6, 12)};
  }
  static constexpr double play = 0.01, leak = 1e-3, fallback = 1e-4;  // of the setting, of the flow, [m³/s] where nothing is wanted
  int next(Site const& s) const { return int(std::lround(std::max(0.0, s[s.own(2)]))); }
  int count() const { return int(starts.size()); }
  /// When draw number k begins [s of run time].
  double start_of(Site const& s, int k) const {
    if (starts.empty() || (absolute && k >= count())) return 1e300;
    double const clock = s.time_of_day() - s.time();  // of time 0, less whole days
    double const day0 = clock - 86400 * std::floor(clock / 86400 + 1e-9);
    return absolute ? *starts[k] : *starts[k % count()] + 86400.0 * (k / count()) - day0;
  }
  double wanted_flow(Site const& s) const { return flows.empty() ? fallback : *flows[next(s) % count()]; }
  double wanted_temperature(Site const& s) const { return temperatures.empty() ? 313.15 : *temperatures[next(s) % count()]; }
  double wanted_volume(Site const& s) const { return volumes.empty() ? 1e-3 : *volumes[next(s) % count()]; }

  template <class Flow>
  Flow loss(int way, Flow m, Site const& s) const {
    double const share = std::clamp(s[s.own()], leak, 1 - leak), part = way == 0 ? share : 1 - share;
    double const set = wanted_flow(s) * part * s.fluid(way).density, low = (1 - play) * set, high = (1 + play) * set,
                 size = std::abs(value_of(m));
    if (size <= low) return *least / (low * low) * m * abs(m);
    if (size >= high) return *most / (high * high) * m * abs(m);
    double const rise = (*most - *least) / (high - low), side = value_of(m) < 0 ? -1 : 1;
    return rise * (m - side * low) + side * *least;
  }
  Way way(int, Site const& s) const { return s.mode() == open ? Way::forward : Way::shut; }

  double flow_now(Site const& s) const { return (s.flow(0) + s.flow(1)) / s.fluid().density; }
  double mixed(Site const& s) const {
    double const hot = std::max(0.0, s.flow(0)), cold = std::max(0.0, s.flow(1));
    return hot + cold > 0 ? (hot * s[s.inlet(0)] + cold * s[s.inlet(1)]) / (hot + cold) : s[s.inlet(0)];
  }
  std::vector<OwnState> states() const {
    return {{"share of hot", 0, 1, 0.02, moves_flow_by}, {"drawn", 0, 0, 0.5}, {"next draw", 0, 0, 0, 0, StateRole::draw}};
  }
  void begin(Site const& s, std::span<double> own) const {
    int k = 0;
    while (k < count() && start_of(s, k) < -1) ++k;
    own[2] = k;
  }
  void links(Links& book, Site const& s) const {
    double constexpr litre = 1e-3;
    book.drift(s.own(1), s.mode() == open ? std::max(0.0, flow_now(s)) / litre : 0);
  }
  void laws(auto& book, Site const& s) const {
    double const hot = std::max(0.0, s.flow(0)), all = hot + std::max(0.0, s.flow(1)), part = all > 0 ? hot / all : 1,
                 wanted = wanted_temperature(s), works = s.mode() == open && all > 0;
    Steering const hand{0.4, 8, *travel};
    book.rate(s.own(), [=](auto share, auto warm, auto cool) {
      return works * hand.rate(wanted - (part * warm + (1 - part) * cool), share);
    }, s.own(), s.inlet(0), s.inlet(1));
  }

  enum Mode { shut, open };
  static constexpr std::array<std::string_view, 2> modes{"shut", "open"};
  static constexpr std::array<Traits, 2> traits{trait::none, trait::calls};
  static auto transitions() {
    using T = Transition<MixingTap>;
    return std::array{T{shut, open, &MixingTap::time_to_draw, Cause::draw_began, "tap open", measure::plain, &MixingTap::opens},
                      T{open, shut, &MixingTap::full, Cause::draw_ended, "tap closed: {value} drawn", measure::volume, &MixingTap::shuts},
                      T{open, shut, &MixingTap::given_up, Cause::flow_lost, "tap closed early: too little flow for {value}",
                        measure::minutes, &MixingTap::shuts}};
  }
  Reading time_to_draw(Site const& s) const {
    double const due = start_of(s, next(s));
    return due > 1e299 ? Reading::never() : Reading::at(s, due, 0);
  }
  Reading full(Site const& s) const {
    double const litres = s[s.own(1)];
    Reading r = Reading::above(litres, wanted_volume(s) * 1e3);
    return r.value = litres * 1e-3, r;
  }
  Reading given_up(Site const& s) const {
    double constexpr patience = 300;  // [s]
    return Reading::after(s, 2 * wanted_volume(s) / wanted_flow(s) + patience);
  }
  void opens(Site const&, std::span<double> own) const { own[0] = 1, own[1] = 0; }
  void shuts(Site const&, std::span<double> own) const { own[2] += 1; }

  void findings(Site const& s, std::vector<Finding>& list) const {
    double const Q = flow_now(s), q = wanted_flow(s);
    if (s.mode() != open || Q > 0.95 * q) return;
    Measure constexpr fine{unit::gpm, unit::litre_per_second, 2, 3};
    double const least_now = std::max(loss(0, s.flow(0), s), loss(1, s.flow(1), s));
    list.push_back({.id = "dhw.short_of_flow",
                    .place = "",
                    .severity = Severity::minor,
                    .figures = {{"flow", Q, fine}, {"difference", least_now, measure::pressure}},
                    .limit = Figure{"wanted", q, fine},
                    .whose = "flow needed at the tap",
                    .words = say("flow {}, needs {}; pressure left at the tap {}.", Amount{Q, fine}, Amount{q, fine},
                                 Amount{least_now, measure::pressure}),
                    .order = 28,
                    .fix = "check the flow limiter, the pipe size and the street pressure."});
  }
};

}  // namespace steadyfire
