#include "models/hot_water/deliverable.hpp"

#include <algorithm>
#include <cmath>

#include "models/fluid/water.hpp"

namespace steadyfire {
namespace {

/// ∫cp dT by Simpson's rule: cp bends so little that ten intervals are exact to rounding.
double enthalpy_rise(double cold, double hot) {
  Water const water;
  int constexpr intervals = 10;
  double const step = (hot - cold) / intervals;
  double sum = 0;
  for (int i = 0; i <= intervals; ++i)
    sum += (i == 0 || i == intervals ? 1 : i % 2 == 1 ? 4 : 2) * water.at(cold + i * step).heat_capacity;
  return sum * step / 3;
}
double density(double kelvin) { return Water{}.at(kelvin).density; }

/// The most heat that the plates give to water leaving at the set point [W].
double most_heat(PlatesAtHand const& plates, double cold, double set_point) {
  double least = 0, most = 0.05;  // [m³/s], far beyond any house
  for (int i = 0; i < 60; ++i) {
    double const flow = (least + most) / 2;
    (heat_of_plates(plates, flow, cold) >= heat_for(flow, cold, set_point) ? least : most) = flow;
  }
  return heat_for(least, cold, set_point);
}

}  // namespace

HeatAtHand heat_at_hand(HotWaterMaker const& maker, double cold) {
  HeatAtHand best{maker.heat, "burner"};
  if (maker.plates)
    if (double const h = most_heat(*maker.plates, cold, maker.set_point); h < best.most) best = {h, "plates"};
  if (std::isfinite(maker.limit))
    if (double const h = heat_for(maker.limit, cold, maker.set_point); h < best.most) best = {h, "flow limiter"};
  return best;
}

double heat_for(double flow, double cold, double hot) { return flow * density(cold) * enthalpy_rise(cold, hot); }
double flow_for(double heat, double cold, double hot) { return heat / (density(cold) * enthalpy_rise(cold, hot)); }

double heated_to(double flow, double cold, double heat) {
  double least = cold, most = cold + 200;
  for (int i = 0; i < 60; ++i) {
    double const middle = (least + most) / 2;
    (heat_for(flow, cold, middle) < heat ? least : most) = middle;
  }
  return least;
}

double hot_share(double cold, double hot, double mixed) { return (mixed - cold) / (hot - cold); }

double heat_of_plates(PlatesAtHand const& p, double flow, double cold) {
  if (flow <= 0 || p.boiler_flow <= 0 || p.hottest <= cold) return 0;
  Fluid const cold_water = Water{}.at(303.15);
  double const hot_rate = p.boiler_flow * p.boiler_water.density * p.boiler_water.heat_capacity,
               cold_rate = flow * cold_water.density * cold_water.heat_capacity;
  double const rated = *p.plates.rated_flow * p.boiler_water.density * p.boiler_water.heat_capacity;
  return p.plates.passing(hot_rate, cold_rate, rated) * (p.hottest - cold);
}

Deliverable deliverable(HotWaterMaker const& maker, double cold, double wanted) {
  if (wanted > maker.set_point) return {0, "set point"};
  auto const heat = heat_at_hand(maker, cold);
  return {flow_for(std::max(0.0, heat.most), cold, wanted), heat.bound};
}

Together together(HotWaterMaker const& maker, double cold, std::vector<TapWish> const& taps) {
  double flow = 0, wanted = 0;
  for (auto const& t : taps) flow += t.flow, wanted += heat_for(t.flow, cold, std::max(cold, t.temperature));
  auto const heat = heat_at_hand(maker, cold);
  if (wanted <= heat.most * (1 + 1e-9)) return {true, flow, heated_to(flow, cold, wanted), 1};
  // A limiter lets no more hot water through, and cold water is mixed to what was wanted: less flows. Else all flows, colder.
  if (heat.bound == "flow limiter") return {false, flow * heat.most / wanted, heated_to(flow, cold, wanted), heat.most / wanted};
  return {false, flow, heated_to(flow, cold, heat.most), 1};
}

}  // namespace steadyfire
