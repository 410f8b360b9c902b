#include "models/hot_water/maker_rating.hpp"

#include <cmath>

#include "models/boiler_data.hpp"
#include "models/hot_water/deliverable.hpp"

namespace steadyfire {
namespace {

using B = BoilerData;

double share_of(double flow, double rise, double input) {
  double const cold = unit::degF.to_si(50);
  return heat_for(flow, cold, cold + rise) / input;
}
double first(Value const& v) { return v.numbers.empty() ? Field::none : v.numbers[0]; }
double input_of(Entry const& boiler) {
  double const dhw = first(value_of<&B::dhw_input>(boiler));
  return std::isnan(dhw) ? first(value_of<&B::heating_input>(boiler)) : dhw;
}

}  // namespace

double rated_share(BoilerData const& b) {
  if (!std::isnan(*b.dhw_efficiency)) return *b.dhw_efficiency;
  return share_of(*b.dhw_rated_flow, *b.dhw_rated_rise, std::isnan(*b.dhw_input) ? *b.heating_input : *b.dhw_input);
}

void check_rating(Entry const& e, Diagnostics& faults) {
  auto const &share = value_of<&B::dhw_efficiency>(e), &flow = value_of<&B::dhw_rated_flow>(e), &rise = value_of<&B::dhw_rated_rise>(e);
  if (share.given && flow.given)
    faults.add({"E222", flow.at, e.who + ": both 'dhw_efficiency' and 'dhw_rated_flow'", "one of them", "remove one of them", share.at});
  if (flow.given != rise.given)
    faults.add({"E205", flow.given ? flow.at : rise.at,
                e.who + (flow.given ? ": 'dhw_rated_flow' needs 'dhw_rated_rise'" : ": 'dhw_rated_rise' needs 'dhw_rated_flow'"),
                "dhw_rated_flow = \"5.1 gpm\" and dhw_rated_rise = \"74 °F\"",
                "add the other one: the manual gives flow and rise together"});
  double const given = share_of(first(flow), first(rise), input_of(e));
  double constexpr least = 0.5;
  if (std::isnan(given) || (given >= least && given <= 1)) return;
  auto const tell = [](double si, Measure const& m) { return show(si, m, UnitSystem::us); };
  faults.add({"E259", flow.at,
              e.who + ": dhw_rated_flow " + tell(first(flow), measure::flow) + " through " +
                  tell(first(rise), measure::temperature_change) + " takes " + tell(given, measure::share) +
                  " of the hot water input of " + tell(input_of(e), measure::power),
              "50 to 100% of dhw_input", "correct flow, rise or dhw_input; the manual rates all three together"});
}

void rate_by_share(Entry& e) {
  auto &flow = value_of<&B::dhw_rated_flow>(e), &rise = value_of<&B::dhw_rated_rise>(e);
  double const share = share_of(first(flow), first(rise), input_of(e));
  if (std::isnan(share)) return;
  auto& stated = value_of<&B::dhw_efficiency>(e);
  stated.given = true, stated.unknown = false, stated.numbers = {share};
  flow.given = rise.given = false, flow.numbers.clear(), rise.numbers.clear();
}

}  // namespace steadyfire
