#include "models/house/hot_water_maker.hpp"

#include <algorithm>
#include <cmath>

#include "models/flow_limiter.hpp"
#include "models/house/boiler_of.hpp"
#include "models/mixing/thermostatic_mixing_valve.hpp"

namespace steadyfire {
namespace {

constexpr double short_of_limit = 9;  // [K]

Piece const* part_of(Installation const& in, Part part) {
  int const at = in.part(part);
  return at < 0 ? nullptr : &in.pieces[std::size_t(at)];
}

/// Boiler water in the plates while they take a heat [W]: the return's temperature, at most what the hottest water gives.
double return_temperature(PlatesAtHand plates, double cold, double set_point, double heat) {
  double const flow = flow_for(heat, cold, set_point), per_kelvin = heat_of_plates(plates, flow, cold) / (plates.hottest - cold),
               W = plates.boiler_flow * plates.boiler_water.density * plates.boiler_water.heat_capacity;
  double const supply = per_kelvin > 0 ? std::min(plates.hottest, cold + heat / per_kelvin) : plates.hottest;
  return std::max(cold, supply - heat / W);
}

}  // namespace

HotWaterBoiler hot_water_boiler(Installation const& in, double set_point, double plates_flow, double cold) {
  HotWaterBoiler m;
  m.boiler = boiler_of(in);
  m.limits.set_point = set_point;
  if (auto const* mixing = part_of(in, Part::hot_water_mixing))
    m.limits.set_point = std::min(set_point, *get<&ThermostaticMixingValve::setting>(*mixing));
  if (auto const* limiter = part_of(in, Part::hot_water_limiter)) m.limits.limit = *get<&FlowLimiter::flow>(*limiter);
  if (auto const* p = part_of(in, Part::plates)) {
    auto const plates = fill<PlateExchanger>(p->values);
    m.plates = PlatesAtHand{plates, plates_flow > 0 ? plates_flow : *plates.rated_flow, *m.boiler.high_limit - short_of_limit,
                            in.fluid->at(in.fluid_temperature)};
  }
  double const full = m.boiler.full;
  auto const efficiency = [&](double fire) {
    if (!std::isnan(m.boiler.dhw_share)) return m.boiler.dhw_share;
    double share = 0.9;
    for (int i = 0; i < 5; ++i) {  // the return depends a little on the efficiency
      double const back = m.plates ? return_temperature(*m.plates, cold, set_point, share * fire * full) : cold;
      share = m.boiler.efficiency(fire, back);
    }
    return share;
  };
  m.efficiency = efficiency(m.boiler.dhw_most);
  m.limits.heat = m.efficiency * m.boiler.dhw_most * full;
  m.least_heat = efficiency(m.boiler.dhw_least) * m.boiler.dhw_least * full;
  return m;
}

double heating_at(Installation const& in, double outdoors) {
  double sum = 0;
  for (auto const& z : in.zones) {
    double const span = z.design_room - in.outdoor_design;
    if (span > 0) sum += z.design_load * std::max(0.0, (z.design_room - outdoors) / span);
  }
  return sum;
}

}  // namespace steadyfire
