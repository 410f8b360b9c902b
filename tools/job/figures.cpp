#include "tools/job/figures.hpp"

#include <algorithm>
#include <cmath>

#include "sim/core/diagnostic.hpp"

namespace steadyfire {
namespace {

/// Over the zones with a room; NaN without one.
template <class Join, class Of>
double over_rooms(Record const& r, Join join, Of of) {
  double all = std::nan("");
  for (auto const& z : r.zones)
    if (!std::isnan(z.room_mean)) all = std::isnan(all) ? of(z) : join(all, of(z));
  return all;
}
double least(double a, double b) { return std::min(a, b); }
double most(double a, double b) { return std::max(a, b); }
double sum(double a, double b) { return a + b; }

double firing(Record const& r, double x) { return r.burner.time_firing > 0 ? x : std::nan(""); }

using R = Record const&;
using namespace measure;
constexpr RunFigure whole[]{
    {"starts", "burner starts", measure::count, Better::lower, [](R r) { return double(r.burner.starts); }, "of the lead boiler"},
    {"most_in_one_hour", "starts in the worst hour", measure::count, Better::lower,
     [](R r) { return double(r.burner.starts_per_hour_worst); }, "most starts in any 60 minutes", "most in one hour"},
    {"starts_per_hour", "starts per hour", measure::per_hour, Better::lower, [](R r) { return double(r.burner.starts) / r.duration; },
     "average over the run"},
    {"middle_burn", "median burn", minutes, Better::higher,
     [](R r) { return r.burner.burns.empty() ? std::nan("") : r.burner.burn_median; }, "half of the finished burns are shorter",
     "middle burn"},
    {"shortest_burn", "shortest burn", minutes, Better::higher,
     [](R r) { return r.burner.burns.empty() ? std::nan("") : r.burner.burn_shortest; }, "of the finished burns"},
    {"coldest_room", "coldest room, average", fine_temperature, Better::higher,
     [](R r) { return over_rooms(r, least, [](auto const& z) { return z.room_mean; }); }, "lowest of the rooms' averages",
     "coldest room, mean"},
    {"lowest_room", "lowest room", fine_temperature, Better::higher,
     [](R r) { return over_rooms(r, least, [](auto const& z) { return z.room_min; }); }, "lowest temperature in any room"},
    {"highest_room", "highest room", fine_temperature, Better::lower,
     [](R r) { return over_rooms(r, most, [](auto const& z) { return z.room_max; }); }, "highest temperature in any room"},
    {"widest_band", "widest room range", fine_temperature_change, Better::lower,
     [](R r) { return over_rooms(r, most, [](auto const& z) { return z.room_max - z.room_min; }); },
     "highest minus lowest, of the worst room", "widest band of a room"},
    {"too_warm", "too warm", degree_hours, Better::lower, [](R r) { return over_rooms(r, sum, [](auto const& z) { return z.overshoot; }); },
     "above the thermostat differential around the setpoints, all rooms"},
    {"too_cold", "too cold", degree_hours, Better::lower,
     [](R r) { return over_rooms(r, sum, [](auto const& z) { return z.undershoot; }); },
     "below the thermostat differential around the setpoints, all rooms"},
    {"highest_supply", "highest supply", temperature, Better::neither, [](R r) { return firing(r, r.supply_max); }, "while firing"},
    {"supply", "supply while firing", temperature, Better::lower, [](R r) { return firing(r, r.supply_mean); }, "average"},
    {"return", "return while firing", temperature, Better::lower, [](R r) { return firing(r, r.return_mean); }, "average"},
    {"condensing", "condensing, % of firing time", share, Better::higher,
     [](R r) { return firing(r, r.burner.time_condensing / r.burner.time_firing); }, "flue gas condenses during this share of the burns",
     "firing time condensing"},
    {"efficiency", "efficiency", fine_share, Better::higher,
     [](R r) { return r.energy.efficiency(); }, "heat from the boiler divided by fuel", "heat from the boiler, of the fuel"},
    {"delivered", "heat to rooms and taps, of the fuel", fine_share, Better::higher,
     [](R r) { return r.energy.fuel > 0 ? r.energy.to_rooms / r.energy.fuel : std::nan(""); },
     "heat to rooms and taps divided by fuel; a run that starts with cold water and floors spends some to warm them"},
    {"fuel", "fuel", measure::fuel, Better::lower, [](R r) { return r.energy.fuel; }, ""},
    {"electricity", "electricity", measure::electricity, Better::lower, [](R r) { return r.energy.electricity; }, ""},
    {"cost", "cost", money, Better::lower, [](R r) { return r.energy.cost.value_or(std::nan("")); }, "needs prices in [run]"},
    {"draws_on_target", "draws OK", share, Better::higher,
     [](R r) {
       return r.hot_water && r.hot_water->all.draws > 0 ? double(r.hot_water->all.on_target) / double(r.hot_water->all.draws)
                                                        : std::nan("");
     },
     "hot, warm enough and enough flow", "draws as wanted"},
    {"longest_wait", "longest wait for hot water", seconds, Better::lower,
     [](R r) { return r.hot_water && r.hot_water->all.waited > 0 ? r.hot_water->all.wait_longest : std::nan(""); }, ""},
};

using Z = ZoneRecord const&;
constexpr ZoneFigure of_zone[]{
    {"mean_room", "average room", fine_temperature, Better::neither, [](Z z) { return z.room_mean; }, "", "mean room"},
    {"lowest_room", "lowest room", fine_temperature, Better::higher, [](Z z) { return z.room_min; }, ""},
    {"highest_room", "highest room", fine_temperature, Better::lower, [](Z z) { return z.room_max; }, ""},
    {"too_warm", "too warm", degree_hours, Better::lower, [](Z z) { return z.overshoot; }, ""},
    {"too_cold", "too cold", degree_hours, Better::lower, [](Z z) { return z.undershoot; }, ""},
    {"longest_call", "longest call", hours, Better::neither, [](Z z) { return z.longest_call; }, ""},
    {"heat", "heat from the emitter", energy, Better::neither, [](Z z) { return z.heat; }, "", "heat of its emitter"},
};

}  // namespace

std::span<RunFigure const> figures() { return whole; }
std::span<ZoneFigure const> zone_figures() { return of_zone; }

double AskedFigure::of(Record const& r) const {
  if (whole_) return whole_->of(r);
  auto const z = std::find_if(r.zones.begin(), r.zones.end(), [&](auto const& one) { return one.name == zone_; });
  if (z == r.zones.end()) throw InternalError("a run without the zone '" + zone_ + "'");
  return of_zone_->of(*z);
}

std::vector<AskedFigure> all_figures(std::span<std::string const> zones) {
  std::vector<AskedFigure> all;
  for (auto const& f : whole) {
    AskedFigure a;
    a.key = f.key, a.name = f.name, a.heading = f.heading.empty() ? f.name : f.heading, a.measure = f.measure, a.better = f.better,
    a.whole_ = &f;
    all.push_back(std::move(a));
  }
  for (auto const& z : zones)
    for (auto const& f : of_zone) {
      AskedFigure a;
      a.key = z + "." + std::string(f.key), a.name = z + ": " + std::string(f.name), a.measure = f.measure, a.better = f.better;
      a.heading = z + ": " + std::string(f.heading.empty() ? f.name : f.heading);
      a.of_zone_ = &f, a.zone_ = z;
      all.push_back(std::move(a));
    }
  return all;
}

std::vector<KeyFigure> key_figures(Record const& r) {
  std::vector<KeyFigure> all;
  auto const add = [&](std::string_view key) {
    auto const f = std::find_if(std::begin(whole), std::end(whole), [&](auto const& one) { return one.key == key; });
    all.push_back({std::string(f->key), std::string(f->name), f->of(r), f->measure});
  };
  for (auto const* key : {"starts", "most_in_one_hour"}) add(key);
  for (auto const& other : r.other_burners)
    all.push_back({other.name + " starts", other.name + " starts", double(other.starts), measure::count});
  for (auto const* key : {"middle_burn", "coldest_room", "lowest_room", "highest_room", "widest_band", "too_warm", "too_cold",
                          "highest_supply", "supply", "return", "condensing", "fuel", "electricity"})
    add(key);
  all.push_back({"closure", "energy not accounted for", r.energy.closure, Measure{percent, percent, 3, 3}});
  if (r.energy.cost) add("cost");
  return all;
}

}  // namespace steadyfire
