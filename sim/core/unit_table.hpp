#pragma once
/// The units that users may write, each by an expression of those above it.

#include <sstream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sim/core/quantity.hpp"

namespace steadyfire::unit_table {

struct Definition { std::string_view spellings, meaning; };

/// Letter case matters: mW is not MW. There are no prefixes, so no surprises ("min" is a minute).
inline constexpr Definition si[]{
    {"g", "0.001 kg"}, {"mg", "1e-6 kg"},
    {"mm", "0.001 m"}, {"cm", "0.01 m"}, {"dm", "0.1 m"}, {"km", "1000 m"}, {"um µm μm", "1e-6 m"},
    {"min", "60 s"}, {"h", "60 min"}, {"d", "24 h"},
    {"L l", "0.001 m3"}, {"mL ml", "1e-6 m3"},
    {"N", "kg.m/s2"}, {"kN", "1000 N"},
    {"Pa", "N/m2"}, {"hPa mbar", "100 Pa"}, {"kPa", "1000 Pa"}, {"MPa", "1e6 Pa"}, {"bar", "1e5 Pa"},
    {"J", "N.m"}, {"kJ", "1000 J"}, {"MJ", "1e6 J"}, {"GJ", "1e9 J"},
    {"W VA", "J/s"}, {"kW", "1000 W"}, {"MW", "1e6 W"},
    {"Wh", "W.h"}, {"kWh", "1000 Wh"}, {"MWh", "1e6 Wh"},
    {"cP", "0.001 Pa.s"},
    {"°C ℃", "K @ 273.15"}, {"%", "0.01"},
};

/// Letter case does not matter. Factors that are exact by definition stand as such; others
/// name their source.
inline constexpr Definition trade[]{
    {"degC", "K @ 273.15"}, {"degR", "K/1.8"}, {"degF", "degR @ 459.67"}, {"°F ℉", "degR @ 459.67"}, {"kelvin", "K"},
    {"second seconds sec", "s"}, {"minute minutes", "min"}, {"hour hours hr", "h"}, {"day days", "d"},
    {"week weeks", "7 d"}, {"year years yr", "365 d"},
    {"meter meters metre metres", "m"}, {"liter liters litre litres", "L"},
    {"percent", "0.01"}, {"ach", "1/h"},
    {"ft foot feet", "0.3048 m"}, {"in inch inches", "0.0254 m"}, {"yd", "3 ft"}, {"mph", "5280 ft/h"}, {"fpm", "ft/min"},
    {"gal gallon gallons", "231 in3"}, {"gpm", "gal/min"}, {"gph", "gal/h"}, {"cfm", "ft3/min"}, {"cfh", "ft3/h"},
    {"lb lbs pound pounds lbm", "0.45359237 kg"}, {"oz", "lb/16"}, {"lbf", "9.80665 lb.m/s2"},
    {"psi psig", "lbf/in2"},  // gauge pressure: the same size, its zero is the field's matter
    // Conventional water, 1000 kg/m³ at standard gravity: NIST SP 811 B.8. At 60 degF it is 0.1 % lighter.
    {"mH2O", "9806.65 Pa"}, {"mmH2O", "9.80665 Pa"}, {"inH2O inWC", "0.0254 mH2O"}, {"ftH2O ftWC", "0.3048 mH2O"},
    {"Btu", "1055.05585262 J"},  // international table
    {"kBtu", "1000 Btu"}, {"MMBtu", "1e6 Btu"}, {"MBH", "kBtu/h"}, {"therm therms", "1e5 Btu"},
    {"hp", "550 ft.lbf/s"},
    {"ccf", "103700 Btu"},         // 100 ft³ of natural gas by its energy: 1037 Btu/ft³, EIA's average for the US
    {"gal_propane", "91452 Btu"},  // a gallon of propane by its energy: EIA
    {"USD EUR", "money"}, {"cent cents", "0.01 money"},
};

/// Spellings of more than one word, longest first.
inline constexpr std::pair<std::string_view, std::string_view> phrases[]{
    // As sentences and tables print them.
    {"ft/100 ft", "percent"}, {"m/100 m", "percent"}, {"per cent", "percent"}, {"per ", "1/"},
    {"sq. ft.", "ft2"}, {"sq. ft", "ft2"}, {"sq ft", "ft2"}, {"sq. in.", "in2"}, {"sq. in", "in2"}, {"sq in", "in2"},
    {"cu. ft.", "ft3"}, {"cu. ft", "ft3"}, {"cu ft", "ft3"}, {"deg. F", "degF"}, {"deg F", "degF"}, {"deg. C", "degC"}, {"deg C", "degC"},
    {"° F", "°F"}, {"° C", "°C"}, {"BTUH", "Btu/h"}, {"Btuh", "Btu/h"},
    {"in. W.C.", "inH2O"}, {"in W.C.", "inH2O"}, {"in. WC", "inH2O"}, {"in WC", "inH2O"}, {"ft W.C.", "ftH2O"}, {"ft WC", "ftH2O"},
    {"in. w.c.", "inH2O"}, {"in w.c.", "inH2O"}, {"in. wc", "inH2O"}, {"in wc", "inH2O"}, {"in. H2O", "inH2O"}, {"in H2O", "inH2O"},
    {"ft w.c.", "ftH2O"}, {"ft wc", "ftH2O"}, {"ft H2O", "ftH2O"},
    {"gal propane", "gal_propane"}, {"gallon propane", "gal_propane"}, {"$", "USD"}, {"€", "EUR"},
};

/// Signs of typesetting, and what they stand for.
inline constexpr std::pair<std::string_view, std::string_view> signs[]{
    {"−", "-"}, {"\u00a0", " "}, {"\u202f", " "}, {"¼", " 1/4"}, {"½", " 1/2"}, {"¾", " 3/4"},
    {"′", "'"}, {"″", "\""}, {"’", "'"}, {"”", "\""},
};

/// What a dimension is called, and its usual units.
struct Sort { Dimension dimension; std::string_view word, units; };
inline constexpr Sort sorts[]{
    {Fraction::dimension, "a share", "%"},
    {Length::dimension, "a length", "ft, in, m, mm"},
    {Area::dimension, "an area", "ft2, m2"},
    {Volume::dimension, "a volume", "gal, L, m3"},
    {{.kg = 1}, "a mass", "lb, kg"},
    {{.money = 1}, "an amount of money", "USD, EUR"},
    {Time::dimension, "a time", "s, min, h, d"},
    {Rate::dimension, "a rate", "1/h, 1/s"},
    {Velocity::dimension, "a velocity", "ft/s, m/s"},
    {VolumeFlow::dimension, "a flow", "gpm, L/s, m3/h"},
    {MassFlow::dimension, "a mass flow", "lb/h, kg/s"},
    {Pressure::dimension, "a pressure", "psi, inH2O, kPa"},
    {HeatingValue::dimension, "a heating value (energy per volume)", "Btu/ft3, MJ/m3"},
    {Density::dimension, "a density", "lb/ft3, kg/m3"},
    {Viscosity::dimension, "a viscosity", "cP, Pa.s"},
    {Energy::dimension, "an energy", "kBtu, therm, kWh"},
    {Power::dimension, "a heat rate or power", "Btu/h, kBtu/h, kW"},
    {PowerPerLength::dimension, "a heat rate per length", "Btu/(h.ft), W/m"},
    {PowerPerArea::dimension, "a heat rate per area", "Btu/(h.ft2), W/m2"},
    {Conductance::dimension, "a heat rate per degree", "Btu/(h.degF), W/K"},
    {ConductancePerLength::dimension, "a conductivity", "Btu/(h.ft.degF), W/(m.K)"},
    {ConductancePerArea::dimension, "a heat transfer rate per area", "Btu/(h.ft2.degF), W/(m2.K)"},
    {Resistance::dimension, "an R-value", "ft2.degF.h/Btu, m2.K/W"},
    {HeatCapacity::dimension, "stored heat per degree", "Btu/degF, kJ/K"},
    {SpecificHeat::dimension, "a specific heat", "Btu/(lb.degF), J/(kg.K)"},
    {HeatPerVolume::dimension, "stored heat per degree and volume", "Btu/(ft3.degF), J/(m3.K)"},
    {DegreeTime::dimension, "degree-days", "degF.d, K.d"},
    {TemperatureChange::dimension, "a temperature difference", "degF, K"},
    {Temperature::dimension, "a temperature", "degF, degC"},
    {PricePerEnergy::dimension, "a price of energy", "USD/therm, USD/kWh"},
    {MassPerEnergy::dimension, "a mass per energy", "kg/MMBtu, g/kWh"},
};

inline std::vector<std::string> all_spellings() {
  std::vector<std::string> all{"m", "kg", "s", "K"};
  auto const gather = [&](auto const& table) {
    for (auto const& d : table) {
      std::istringstream spellings{std::string(d.spellings)};
      for (std::string s; spellings >> s;) all.push_back(s);
    }
  };
  gather(trade), gather(si);
  return all;
}

}  // namespace steadyfire::unit_table
