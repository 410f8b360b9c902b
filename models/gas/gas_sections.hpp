#pragma once
/// What the user says of the gas line. It is looked at by the review; nothing of it is simulated.

#include <cmath>

#include "models/gas/gas_sizes.hpp"
#include "models/gas/gas_units.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// The gas and where it comes from: the joint "meter".
struct GasSection {
  int gas;
  Pressure supply, allowed_drop;
  HeatingValue heating_value;
  double specific_gravity;
  VolumeFlow meter, regulator;

  static constexpr std::string_view kind = "gas", family = "gas", summary = "Gas and supply from the meter";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    auto const heat = [](double v) { return Amount{Btu_per_cubic_foot.to_si(v), measure::heating_value}; };
    return {
        choice<&GasSection::gas>("gas", {"natural gas", "propane"}, "gas in the line").optional("the boiler's fuel"),
        field<&GasSection::supply>("supply_pressure", inch_water, 1, 41.5,
                                   "running pressure after the meter or last regulator; low-pressure gas only")
            .optional(),
        field<&GasSection::allowed_drop>("allowed_drop", inch_water, 0.05, 20, "allowed drop from the meter to any appliance")
            .optional(say("{}; common practice, no published source", Amount{inch_water.to_si(0.5), measure::gas_pressure})),
        field<&GasSection::heating_value>("heating_value", Btu_per_cubic_foot, 400, 3500,
                                          "higher heating value at the site, from the supplier")
            .optional(say("natural gas {}, usual {} to {}; propane {}, usual {} to {}", heat(1037), heat(950), heat(1100), heat(2500),
                          heat(2450), heat(2550))),
        number<&GasSection::specific_gravity>("specific_gravity", 0.35, 2.2, "specific gravity of the gas (air = 1)")
            .optional("natural gas 0.60, usual 0.55 to 0.70; propane 1.50, usual 1.50 to 1.55"),
        field<&GasSection::meter>("meter_capacity", cfh, 10, 1e5, "meter capacity with this gas").optional(),
        field<&GasSection::regulator>("regulator_capacity", cfh, 10, 1e5, "regulator capacity with this gas at the supply pressure")
            .optional()};
  }
};

/// Errors  adds E221 for a size of gas pipe that is none; `who` opens the message.
void check_gas_size(Value const& size, std::string const& who, Diagnostics& faults);

/// One length of gas pipe, named from the meter outwards.
struct GasPipeSection {
  std::string from, to, size;
  Length length, fittings;
  int elbows, elbows_45, tees_turned, valves;
  Curve capacity;
  Pressure capacity_drop;

  static constexpr std::string_view kind = "gas pipe", family = "gas pipe", summary = "One length of gas pipe";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        text<&GasPipeSection::from>("from", "joint at the meter end; the line begins at \"meter\""),
        text<&GasPipeSection::to>("to", "joint at the appliance end"),
        text<&GasPipeSection::size>("size", "nominal size and material: \"1/2 in steel 40\", \"1 in copper L\"")
            .optional("from its capacity table"),
        field<&GasPipeSection::length>("length", foot, 0.1, 5000, "straight length"),
        count<&GasPipeSection::elbows>("elbows", 0, 200, "90° elbows, 30 diameters each").otherwise(0),
        count<&GasPipeSection::elbows_45>("elbows_45", 0, 200, "45° elbows, 16 diameters each").otherwise(0),
        count<&GasPipeSection::tees_turned>("tees_turned", 0, 50, "tees turned through the branch, 60 diameters each")
            .otherwise(0),
        count<&GasPipeSection::valves>("valves", 0, 50, "full-port ball valves, 3 diameters each").otherwise(0),
        field<&GasPipeSection::fittings>("fittings_length", foot, 0, 2000, "equivalent length of fittings not counted above")
            .otherwise(0),
        curve<&GasPipeSection::capacity>("capacity", "length", foot, "flow", cfh,
                                         "corrugated tube: maker's capacity table for this size and gas")
            .optional("from its size"),
        field<&GasPipeSection::capacity_drop>("capacity_drop", inch_water, 0.05, 20, "pressure drop of that capacity table").optional()};
  }
  /// Errors  adds E221, E222, E205 or E280.
  static void check(Entry const&, Diagnostics&);
};

/// What burns gas at a joint of the line.
struct GasApplianceSection {
  std::string at;
  Power input;
  Pressure least_pressure, most_pressure;

  static constexpr std::string_view kind = "gas appliance", family = "gas appliance",
                                    summary = "A gas appliance; name the boiler \"boiler\", a second one \"lag boiler\"";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    return {text<&GasApplianceSection::at>("at", "joint of the gas line"),
            field<&GasApplianceSection::input>("input", kBtu_per_hour, 0.5, 20000, "maximum input with everything firing")
                .optional("the boiler's own"),
            field<&GasApplianceSection::least_pressure>("least_pressure", inch_water, 0.5, 40,
                "minimum inlet pressure while firing, from the manual")
                .optional(),
            field<&GasApplianceSection::most_pressure>("most_pressure", inch_water, 1, 140, "maximum inlet pressure, from the manual")
                .optional()};
  }
  static bool is_boiler(std::string_view name) { return name == "boiler" || name == "lag boiler"; }
  /// Errors  adds E205 or E222.
  static void check(Entry const&, Diagnostics&);
};

}  // namespace steadyfire
