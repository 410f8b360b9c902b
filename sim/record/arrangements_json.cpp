#include "sim/record/arrangements_json.hpp"

#include "sim/record/json_parts.hpp"

namespace steadyfire {
namespace {

Json row_to_json(ArrangementRow const& r, UnitSystem units) {
  Json j{{"arrangement", r.arrangement}, {"distribution", r.distribution}, {"as_now", r.is_as_now}, {"works", r.works}};
  j["reason"] = r.reason.in(units);
  if (!r.is_solved()) return j;
  j["boiler_flow_m3_s"] = r.boiler_flow;
  if (!r.lowest_zone.empty())
    j["lowest_flow"] = {{"zone", r.lowest_zone}, {"flow_m3_s", r.lowest_flow}, {"needed_m3_s", r.lowest_needed}};
  if (!r.coldest_zone.empty())
    j["coldest_room"] = {{"zone", r.coldest_zone}, {"room_degC", celsius(r.coldest_room)}, {"setting_degC", celsius(r.coldest_setting)}};
  j["starts"] = r.starts, j["starts_per_hour_worst"] = r.starts_per_hour_worst;
  j["burn_median_s"] = r.burn_median > 0 ? Json(r.burn_median) : Json(nullptr);
  j["electricity_J"] = r.electricity, j["fuel_J"] = r.fuel;
  j["parts"] = told(r.parts, units), j["troubles"] = told(r.troubles, units);
  return j;
}

}  // namespace

Json arrangements_to_json(ArrangementsRecord const& r, UnitSystem units) {
  Json j{{"format", 1},
         {"program_version", r.program_version},
         {"title", r.title},
         {"scenario", r.scenario},
         {"answer", told(r.answer, units)},
         {"chosen", r.chosen < 0 ? Json(nullptr) : Json(r.chosen)},
         {"rows", Json::array()},
         {"cautions", r.cautions}};
  for (auto const& row : r.rows) j["rows"].push_back(row_to_json(row, units));
  return j;
}

}  // namespace steadyfire
