/// Whatever the program prints is read back when it is pasted into a file.

#include <gtest/gtest.h>

#include <cmath>

#include "models/gas/gas_units.hpp"
#include "sim/core/units.hpp"

using namespace steadyfire;

namespace {
double pasted(std::string const& text, Dimension wanted) {
  UnitFault fault{};
  auto const q = parse_quantity(text, wanted, fault);
  return q ? q->si : std::nan("");
}
}  // namespace

TEST(Paste, EveryMeasureIsReadBackToThePrintedDigits) {
  using namespace measure;
  // Those without a unit (count, plain, money) print a bare number.
  Measure const all[]{flow,     mass_flow, head,        head_gradient,    length,
                      diameter, volume,    pressure,    velocity,         temperature,
                      power,    energy,    fuel,        fine_temperature, temperature_change,
                      flux,     seconds,   electricity, electric_power,   fine_temperature_change,
                      minutes,  hours,     share,       fine_share,       measure::per_hour,
                      mass,     gas_flow,  gas_length,  heat_capacity,    degree_hours,
                      gas_pressure, heating_value};
  for (auto const& m : all)
    for (auto system : {UnitSystem::us, UnitSystem::si})
      for (double shown : {12.0, 0.5, 187.25, -3.0}) {
        auto const& unit = m.unit(system);
        int const digits = system == UnitSystem::us ? m.us_digits : m.si_digits;
        auto const text = show(unit.to_si(shown), m, system);
        double const back = pasted(text, unit.dimension);
        EXPECT_LE(std::abs(unit.from_si(back) - shown), 0.5001 * std::pow(10.0, -digits)) << text;  // NaN fails
      }
}

TEST(Paste, WhatPeopleWriteIsRead) {
  struct { char const *written, *same; Dimension d; } const rows[]{
      {"158 °F", "158 degF", Temperature::dimension},          {"158 ° F", "158 degF", Temperature::dimension},
      {"158 deg F", "158 degF", Temperature::dimension},       {"5 °C", "5 K", TemperatureChange::dimension},
      {"81%", "81 percent", Fraction::dimension},              {"0.5 in. w.c.", "0.5 inH2O", Pressure::dimension},
      {"0.5 in. WC", "0.5 inH2O", Pressure::dimension},        {"1200 ft²", "1200 ft2", Area::dimension},
      {"1200 sq ft", "1200 ft2", Area::dimension},             {"1200 sq. ft.", "1200 ft2", Area::dimension},
      {"50 in²", "50 in2", Area::dimension},                   {"2400 cu ft", "2400 ft3", Volume::dimension},
      {"3 per hour", "3 1/h", Rate::dimension},                {"9.2 °F·h", "9.2 degF.h", DegreeTime::dimension},
      {"5.1 °C·h", "5.1 K.h", DegreeTime::dimension},          {"105.8 kJ/°C", "105.8 kJ/K", HeatCapacity::dimension},
      {"55.7 Btu/°F", "55.7 Btu/degF", HeatCapacity::dimension}, {"80 kBtu/h", "80 MBH", Power::dimension},
      {"80000 BTUH", "80 kBtu/h", Power::dimension},           {"500 Btu per hour", "500 Btu/h", Power::dimension},
      {"2 Btu/(h·°F)", "2 Btu/(h.degF)", Conductance::dimension}, {"1/4 in", "0.25 in", Length::dimension},
      {"5 1/4 in", "5.25 in", Length::dimension},              {"1½ in", "1.5 in", Length::dimension},
      {"¾ in", "0.75 in", Length::dimension},                  {"−5 °F", "-5 degF", Temperature::dimension},
      {"8\u00a0gpm", "8 gpm", VolumeFlow::dimension},          {"0.5 ft/100 ft", "0.5 %", Fraction::dimension},
  };
  for (auto const& r : rows) EXPECT_DOUBLE_EQ(pasted(r.written, r.d), pasted(r.same, r.d)) << r.written;
}

TEST(Paste, UnitsThatAreOfferedAreReadAsPrinted) {
  using namespace unit;
  for (AnyUnit u : {AnyUnit{percent}, AnyUnit{square_foot}, AnyUnit{gpm}, AnyUnit{psi}, AnyUnit{degF}, AnyUnit{kelvin}, AnyUnit{R_value},
                    AnyUnit{Btu_per_hour_degF}, AnyUnit{Btu_per_degF}, AnyUnit{degF_day}, AnyUnit{unit::per_hour}, AnyUnit{centipoise},
                    AnyUnit{Btu_per_hour_foot_degF}, AnyUnit{joule_per_cubic_metre_kelvin}, AnyUnit{kilogram_per_cubic_metre}}) {
    EXPECT_TRUE(parse_unit(printed_unit(u), u.dimension)) << printed_unit(u);
    std::string const usual = usual_units(u.dimension);
    std::string list = printed_units(u.dimension) + ", ";
    EXPECT_EQ(std::count(list.begin(), list.end(), ','), std::count(usual.begin(), usual.end(), ',') + 1) << list;
    for (std::size_t end; (end = list.find(", ")) != std::string::npos; list.erase(0, end + 2))
      EXPECT_TRUE(parse_unit(list.substr(0, end), u.dimension)) << list;
  }
}
