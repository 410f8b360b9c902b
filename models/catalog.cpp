#include "models/catalog.hpp"

#include "models/boiler.hpp"
#include "models/circulator.hpp"
#include "models/controls.hpp"
#include "models/house/sections.hpp"
#include "models/house/weather_sections.hpp"
#include "models/pipe.hpp"
#include "models/plate_exchanger.hpp"
#include "models/tank.hpp"
#include "models/valve.hpp"
#include "sim/component/batch_of.hpp"

namespace steadyfire {

Catalog catalog() {
  static Kind const kinds[]{
      section<Opening>(), section<SiteSection>(), section<FluidSection>(), section<NearBoilerSection>(), section<ZoneSection>(),
      section<ControlsSection>(), section<RunSection>(), section<JointSection>(),
      section<SteadyWeather>(), section<DailyWave>(), section<NormalsWeather>(), 
      kind<Boiler>(), kind<SupplySensor>(), kind<Pipe>(), kind<TextbookResistance>(), kind<Valve>(), kind<CheckValve>(), kind<ZoneValve>(),
      kind<Circulator>(), kind<PlateExchanger>(), kind<Tank>(), kind<Thermostat>(), kind<ZoneRelay>(), kind<OutdoorReset>(),
  };
  return kinds;
}

}  // namespace steadyfire
