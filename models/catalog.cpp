#include "models/catalog.hpp"

#include "models/boiler.hpp"
#include "models/building/proportioning_thermostat.hpp"
#include "models/building/room.hpp"
#include "models/building/thermostats.hpp"
#include "models/bypass_valve.hpp"
#include "models/circulator.hpp"
#include "models/controls.hpp"
#include "models/diverter_tee.hpp"
#include "models/diverting_valve.hpp"
#include "models/emitters/fan_coil.hpp"
#include "models/emitters/fin_tube_baseboard.hpp"
#include "models/emitters/indirect_tank.hpp"
#include "models/emitters/linear_emitter.hpp"
#include "models/emitters/potable_tank.hpp"
#include "models/emitters/radiant_panel.hpp"
#include "models/emitters/radiant_slab.hpp"
#include "models/emitters/radiator.hpp"
#include "models/emitters/snow_melt_slab.hpp"
#include "models/expansion_tank.hpp"
#include "models/flow_limiter.hpp"
#include "models/hot_water/cold_main.hpp"
#include "models/hot_water/hot_water_control.hpp"
#include "models/hot_water/instantaneous_heater.hpp"
#include "models/hot_water/mixing_tap.hpp"
#include "models/hot_water/proportioning_valve.hpp"
#include "models/hot_water/recirculation.hpp"
#include "models/hot_water/storage.hpp"
#include "models/lag_control.hpp"
#include "models/mixing/injection_circulator.hpp"
#include "models/mixing/mixing_valve.hpp"
#include "models/mixing/thermostatic_mixing_valve.hpp"
#include "models/pipe.hpp"
#include "models/plate_exchanger.hpp"
#include "models/radiator_valve.hpp"
#include "models/separators.hpp"
#include "models/strainer.hpp"
#include "models/supply_sensor.hpp"
#include "models/tank.hpp"
#include "models/tank_control.hpp"
#include "models/valve.hpp"
#include "sim/component/batch_of.hpp"

namespace steadyfire {

namespace {
Kind lag_boiler() {
  Kind second = kind<Boiler>();
  second.name = "lag boiler", second.summary = "Second boiler, called when the first is not enough";
  return second;
}
}  // namespace

Catalog piece_kinds() {
  static Kind const kinds[]{
      kind<Boiler>(),
      lag_boiler(),
      kind<LagControl>(),
      kind<SupplySensor>(),
      kind<Pipe>(),
      kind<TextbookResistance>(),
      kind<Valve>(),
      kind<CheckValve>(),
      kind<ZoneValve>(),
      kind<BypassValve>(),
      kind<FlowLimiter>(),
      kind<DivertingValve>(),
      kind<Strainer>(),
      kind<AirSeparator>(),
      kind<DirtSeparator>(),
      kind<DiverterTee>(),
      kind<ThermostaticMixingValve>(),
      kind<MixingValve>(),
      kind<InjectionCirculator>(),
      kind<RadiatorValve>(),
      kind<Circulator>(),
      kind<PlateExchanger>(),
      kind<ProportioningValve>(),
      kind<HotWaterControl>(),
      kind<ColdMain>(),
      kind<MixingTap>(),
      kind<RecirculationControl>(),
      kind<StorageAquastat>(),
      kind<InstantaneousHeater>(),
      kind<Tank>(),
      kind<TankControl>(),
      kind<ExpansionTank>(),
      kind<Thermostat>(),
      kind<DifferentialThermostat>(),
      kind<ProportioningThermostat>(),
      kind<ZoneRelay>(),
      kind<OutdoorReset>(),
      kind<RadiantSlab>(),
      kind<PanelOverSubfloor>(),
      kind<PlatesUnderFloor>(),
      kind<RadiantCeiling>(),
      kind<RadiantWall>(),
      kind<PanelRadiator>(),
      kind<ColumnRadiator>(),
      kind<TowelWarmer>(),
      kind<FinTubeBaseboard>(),
      kind<KickSpaceConvector>(),
      kind<AirHandler>(),
      kind<UnitHeater>(),
      kind<SnowMeltSlab>(),
      kind<IndirectTank>(),
      kind<PotableTank>(),
      kind<LinearEmitter>(),
      kind<HeatDraw>(),
      kind<Room>(),
      kind<Partition>(),
      section<StatedGas>(),
  };
  return kinds;
}

}  // namespace steadyfire
