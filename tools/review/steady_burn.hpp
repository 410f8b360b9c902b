#pragma once
/// A boiler and its zones as someone with gauges finds them: burning steadily, with certain zones calling.

#include <map>
#include <optional>

#include "sim/network/installation.hpp"
#include "sim/record/flows_record.hpp"

namespace steadyfire {

/// What holds while gauges are read.
struct BurnConditions {
  enum Fire { modulating, full, minimum };
  std::vector<std::string> calling;     ///< zones
  Fire fire = modulating;               ///< as its control has it, or forced by a service key
  double outdoors = 255.37;             ///< [K]
  std::map<std::string, double> rooms;  ///< [K] by zone; those not named at design
  double target_error = 0;              ///< [K] by which the control wants warmer water than it should
  std::string sensor;                   ///< the joint whose water the control feels; "": as it is installed
  double ground = 284, unheated = 289;  ///< [K]
};

struct SteadyBurn {
  FlowState state;
  double supply = 0, returned = 0;  ///< [K] at the boiler's outlet and inlet
  double fire = 0;                  ///< share of the heating input; 0: it does not burn
  double input = 0, output = 0;     ///< [W] of all boilers that burn
  double flue = 0;                  ///< [K] NaN where it does not burn
  double carbon_dioxide = 0;        ///< of the dry flue gas; NaN where it does not burn
  double swing = 0;                 ///< [K] to either side, where the burner cycles
  enum State { steady, cycles, at_full_fire, at_high_limit, starved } how = steady;
};

/// Solves flows and temperatures with rooms and outdoors held, and the boiler's fire in balance with what zones take.
///
///   heat(T_supply) = Σ input·fire·η(T_return + approach(fire))
///
/// Shape   modulating: the control's thermometer shows the target and fire follows; where that asks for more than the full
///         fire, supply follows from full fire; where for less than the least, the burner cycles about the target and the
///         return told is that while it burns. Full and minimum fire: supply follows, up to the high limit.
///         Below its least flow the boiler does not burn, and water is taken to be at room temperature.
/// Valid   several boilers burn alike. Slabs and rooms are at rest, which at a start-up takes hours to days.
/// Errors  Stopped where no flows or temperatures can be found.
SteadyBurn steady_burn(Installation const&, BurnConditions const&);

}  // namespace steadyfire
