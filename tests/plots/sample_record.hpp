#pragma once
/// An invented record: two winter days of an oversized boiler with four zones.

#include <cmath>

#include "tests/plots/sample_drawings.hpp"

namespace steadyfire::sample {

/// A channel whose bins are made from `value(time)` by points within each bin.
template <class Value>
Channel channel(std::string id, std::string label, std::string group, Measure m, double step, double span, Value const& value) {
  Channel c{std::move(id), std::move(label), std::move(group), m, {}, {}, {}};
  for (double t = 0; t < span; t += step) {
    double least = 1e9, most = -1e9, sum = 0;
    for (int k = 0; k < 8; ++k) {
      double const v = value(t + step * k / 8);
      least = std::min(least, v), most = std::max(most, v), sum += v / 8;
    }
    c.least.push_back(float(least)), c.mean.push_back(float(sum)), c.most.push_back(float(most));
  }
  return c;
}

/// Burns of six minutes in cycles that lengthen and shorten over the day.
inline bool burning(double t) { return std::fmod(t + 200 * std::sin(t / 9000), 1100 + 250 * std::sin(t / 13750)) < 380; }
inline double since(double t) {
  double s = 0;
  while (s < 1500 && burning(t - s) == burning(t)) s += 10;
  return s;
}

inline Track track(double step, double span) {
  auto const outdoors = [](double t) { return 268 + 4 * std::sin((t - 36000) * 2 * M_PI / 86400); };
  auto const supply = [](double t) { return burning(t) ? 338 - 14 * std::exp(-since(t) / 120) : 322 + 16 * std::exp(-since(t) / 500); };
  auto const back = [&](double t) { return 0.35 * 316 + 0.65 * supply(t - 90) - 4; };
  Track out{0, step, {}};
  out.channels.push_back(channel("boiler/fire", "firing rate", "fire", measure::share, step, span,
                                 [](double t) { return burning(t) ? (since(t) < 40 ? 0.6 : 0.28) : 0.; }));
  out.channels.push_back(channel("boiler/supply", "supply at the boiler", "water", measure::temperature, step, span, supply));
  out.channels.push_back(channel("boiler/return", "return at the boiler", "water", measure::temperature, step, span, back));
  std::vector<std::string> const zones{"living rooms", "bedrooms", "bath", "basement slab"};
  for (int i = 0; i < 4; ++i) {
    out.channels.push_back(channel("zone/" + zones[i] + "/call", zones[i], "call", measure::count, step, span,
                                   [i](double t) { return std::sin(t / (2400 + 700 * i) + i) > -0.2 ? 1. : 0.; }));
    out.channels.push_back(channel("zone/" + zones[i] + "/room", zones[i], "room", measure::fine_temperature, step, span,
                                   [i](double t) { return 293.15 + 0.6 * i - 0.5 + 0.4 * std::sin(t / (2400 + 700 * i) + i - 1.2); }));
  }
  out.channels.push_back(channel("outdoors", "outdoor temperature", "outdoors", measure::temperature, step, span, outdoors));
  return out;
}

inline Record make_record() {
  using namespace measure;
  Record r;
  r.title = "Four zones on an oversized boiler";
  r.program_version = "0.1";
  r.duration = 2 * 86400;
  r.closeup = track(10, 86400);
  r.whole = track(60, 2 * 86400);
  r.drawing = close_tees(4);
  r.moment = moment_of(r.drawing);
  r.moment.time = 30350;
  for (double t = 0; t < r.duration; t += 3600) r.moments.push_back(r.moment), r.moments.back().time = t;
  auto& b = r.burner;
  b.name = "boiler", b.starts_per_hour_worst = 5, b.worst_hour_at = 22000, b.starts_by_day = {0};
  for (double t = 10; t < 86400; t += 10) {
    if (burning(t) && !burning(t - 10)) {
      ++b.starts, r.events.push_back({t, "boiler", "burner starts", "supply below target"});
    } else if (!burning(t) && burning(t - 10)) {
      r.events.push_back({t, "boiler", "burner stops", "supply above target"});
      b.burns.push_back(float(since(t - 10)));
    }
    b.time_firing += burning(t) ? 10 : 0;
    double const out = 268 + 4 * std::sin((t - 36000) * 2 * M_PI / 86400);
    if (std::fmod(t, 60) == 0) r.points.push_back({out, 330 + 6 * std::sin(t / 300) - 0.8 * (out - 268), burning(t) ? 0.3 : 0});
  }
  b.time_condensing = 0.42 * b.time_firing;
  b.burn_shortest = 120, b.burn_median = 380, b.burn_longest = 410;
  r.supply_min = 318, r.supply_mean = 333, r.supply_max = 338, r.return_min = 310, r.return_mean = 321, r.return_max = 330;
  r.resets.push_back({"heating curve", {{258.15, 343.15}, {293.15, 303.15}}});
  for (int i = 0; i < 4; ++i) {
    std::vector<std::string> const zones{"living rooms", "bedrooms", "bath", "basement slab"};
    r.zones.push_back({zones[i], i == 3 ? "radiant slab" : "panel radiators", 292.4, 293.2 + 0.2 * i, 294.0, 293.15, 4e4, 1.1e4, 5400,
                       42000, 1.9e8 - 3.5e7 * i, 4200 - 700. * i});
  }
  auto& e = r.energy;
  e.fuel = 7.2e8, e.useful = 6.45e8, e.electricity = 6.1e6,
  e.losses = {{"flue", 5.2e7}, {"jacket", 7e6}, {"piping", 1.1e7}, {"floor_down", 4e6}}, e.stored = 1e6, e.closure = 2.1e-5;
  e.cost = 8.4, e.carbon = 36;
  r.weather = {"an invented winter day", 264, 272, 268, 264.2, 23.3, 24};
  auto& why = r.why;
  why.starts = 79, why.duration = r.duration, why.output_least = 8500, why.output_most = 32000, why.design_load = 44000;
  why.smallest_zone = "bath", why.smallest_design_load = 6400, why.smallest_load = 4000;
  r.findings = {{"burner.short_burns",
                 "boiler",
                 Severity::serious,
                 {{"median burn", 380, minutes}, {"starts in the worst hour", 5, count}},
                 Figure{"shortest burn", 600, minutes},
                 common_practice,
                 say("median burn {}, minimum {}.", Amount{380, minutes}, Amount{600, minutes}),
                 3,
                 -1,
                 "Lower the minimum fire."},
                {"zone.short_of_flow",
                 "bath",
                 Severity::minor,
                 {{"flow", 2.5e-5, flow}, {"flow needed", 7.6e-5, flow}},
                 {},
                 "",
                 "flow is a third of the flow needed.",
                 2,
                 -1},
                {"piping.loss", "basement", Severity::note, {{"lost", 1.1e7, energy}}, {}, "", "bare pipes lose heat.", 1, -1}};
  r.assumptions = {{"boiler", "jacket_loss", 80, 40, 150, electric_power, common_practice},
                   {"bath", "water_content", 0.004, 0.004, 0.004, volume, common_practice}};
  r.cautions = {"Gains from sun and people are left out, so the rooms' need is on the high side."};
  return r;
}

inline Record const& record() {
  static Record const made = make_record();
  return made;
}

}  // namespace steadyfire::sample
