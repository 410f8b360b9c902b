/// Units as users write them. Published factors are those of NIST SP 811 (2008),
/// Appendix B, quoted from memory to the digits printed there.

#include <gtest/gtest.h>

#include <cmath>

#include "sim/core/units.hpp"

using namespace steadyfire;

namespace {
double si_of(std::string_view text, Dimension wanted) {
  UnitFault fault{};
  auto const q = parse_quantity(text, wanted, fault);
  return q ? q->si : std::nan("");
}
UnitFault fault_of(std::string_view text, Dimension wanted) {
  UnitFault fault{};
  EXPECT_FALSE(parse_quantity(text, wanted, fault)) << text;
  return fault;
}
template <Dimension D>
double read(std::string_view text, Quantity<D> = {}) { return si_of(text, D); }
}  // namespace

TEST(Units, EverySymbolOfTheCodeIsReadWithTheSameScale) {
  using namespace unit;
  AnyUnit const all[]{percent,
                      metre,
                      millimetre,
                      micrometre,
                      foot,
                      inch,
                      square_metre,
                      square_foot,
                      cubic_metre,
                      litre,
                      gallon,
                      second,
                      minute,
                      hour,
                      day,
                      unit::per_hour,
                      metre_per_second,
                      foot_per_second,
                      cubic_metre_per_second,
                      cubic_metre_per_hour,
                      litre_per_second,
                      gpm,
                      cfm,
                      pascal,
                      kilopascal,
                      psi,
                      kilogram_per_cubic_metre,
                      pascal_second,
                      centipoise,
                      joule,
                      kilowatt_hour,
                      kBtu,
                      therm,
                      watt,
                      kilowatt,
                      Btu_per_hour,
                      kBtu_per_hour,
                      watt_per_metre,
                      Btu_per_hour_foot,
                      watt_per_square_metre,
                      Btu_per_hour_square_foot,
                      watt_per_kelvin,
                      Btu_per_hour_degF,
                      watt_per_metre_kelvin,
                      Btu_per_hour_foot_degF,
                      watt_per_square_metre_kelvin,
                      Btu_per_hour_square_foot_degF,
                      square_metre_kelvin_per_watt,
                      R_value,
                      joule_per_kelvin,
                      kilojoule_per_kelvin,
                      Btu_per_degF,
                      joule_per_kilogram_kelvin,
                      joule_per_cubic_metre_kelvin,
                      kelvin,
                      degF_change,
                      degC,
                      degF,
                      money_per_joule,
                      money_per_therm,
                      money_per_kWh,
                      kilogram_per_joule,
                      kilogram_per_million_Btu,
                      gram_per_kWh};
  for (auto const& u : all) {
    auto const parsed = parse_unit(u.symbol, u.dimension);
    ASSERT_TRUE(parsed) << u.symbol;
    EXPECT_NEAR(parsed->scale / u.scale, 1, 1e-13) << u.symbol;  // psi is written to 13 digits in quantity.hpp
    EXPECT_NEAR(parsed->offset, u.offset, 1e-12) << u.symbol;
    EXPECT_EQ(parsed->symbol, u.symbol);
    EXPECT_FALSE(word_for(u.dimension).starts_with("a quantity in")) << u.symbol;
    EXPECT_NE(usual_units(u.dimension), "") << u.symbol;
  }
}

TEST(Units, UsualUnitsHaveTheDimensionTheyAreOfferedFor) {
  using namespace unit;
  for (AnyUnit u : {AnyUnit{gpm}, AnyUnit{foot}, AnyUnit{psi}, AnyUnit{watt}, AnyUnit{degF}, AnyUnit{kelvin}, AnyUnit{R_value},
                    AnyUnit{money_per_therm}, AnyUnit{gram_per_kWh}, AnyUnit{joule_per_cubic_metre_kelvin},
                    AnyUnit{joule_per_kilogram_kelvin}, AnyUnit{kilogram_per_cubic_metre}}) {
    std::string list = usual_units(u.dimension) + ", ";
    for (std::size_t end; (end = list.find(", ")) != std::string::npos; list.erase(0, end + 2))
      EXPECT_TRUE(parse_unit(list.substr(0, end), u.dimension)) << list;
  }
}

TEST(Units, TradeUnitsAgreeWithPublishedFactors) {
  struct { char const* text; double si, published_to; Dimension d; } const rows[]{
      {"1 Btu", 1.055056e3, 1e-6, Energy::dimension},          {"1 therm", 1.055056e8, 1e-6, Energy::dimension},
      {"1 Btu/h", 2.930711e-1, 1e-6, Power::dimension},        {"1 hp", 7.456999e2, 1e-6, Power::dimension},
      {"1 gal", 3.785412e-3, 1e-6, Volume::dimension},         {"1 gpm", 6.309020e-5, 1e-6, VolumeFlow::dimension},
      {"1 cfm", 4.719474e-4, 1e-6, VolumeFlow::dimension},     {"1 psi", 6.894757e3, 1e-6, Pressure::dimension},
      {"1 inH2O", 2.490889e2, 1e-6, Pressure::dimension},      {"1 ftH2O", 2.989067e3, 1e-6, Pressure::dimension},
      {"1 ft3", 2.831685e-2, 1e-6, Volume::dimension},         {"1 fpm", 5.08e-3, 1e-12, Velocity::dimension},
      {"1 ft/s", 3.048e-1, 1e-12, Velocity::dimension},        {"1 mph", 4.4704e-1, 1e-12, Velocity::dimension},
      {"1 lb/ft3", 1.601846e1, 1e-6, Density::dimension},      {"1 lb/h", 1.259979e-4, 1e-6, {.kg = 1, .s = -1}},
      {"1 Btu/(h.ft.degF)", 1.730735, 1e-6, Conductivity::dimension},
      {"1 Btu.in/(h.ft2.degF)", 1.442279e-1, 1e-6, Conductivity::dimension},
      {"1 Btu/(h.ft2.degF)", 5.678263, 1e-6, ConductancePerArea::dimension},
      {"1 ft2.degF.h/Btu", 1.761102e-1, 1e-6, Resistance::dimension},
      {"1 Btu/(h.ft2)", 3.154591, 1e-6, PowerPerArea::dimension},
      {"1 Btu/(lb.degF)", 4.1868e3, 1e-6, SpecificHeat::dimension},
  };
  for (auto const& r : rows) EXPECT_NEAR(si_of(r.text, r.d) / r.si, 1, r.published_to) << r.text;
}

TEST(Units, FuelIsMeasuredByItsEnergy) {  // EIA: 1037 Btu/ft³ of natural gas, 91 452 Btu/gal of propane
  EXPECT_NEAR(read<Energy::dimension>("1 ccf"), 1.037 * read<Energy::dimension>("1 therm"), 1);
  EXPECT_NEAR(read<Energy::dimension>("2 gal propane"), 2 * 91452 * unit::Btu, 1);
  EXPECT_NEAR(read<PricePerEnergy::dimension>("$2.50/gal propane"), 2.5 / (91452 * unit::Btu), 1e-20);
}

TEST(Units, SynonymsAgree) {
  EXPECT_DOUBLE_EQ(read<Power::dimension>("12 MBH"), read<Power::dimension>("12 kBtu/h"));
  EXPECT_DOUBLE_EQ(read<Power::dimension>("12 kbtu/hr"), read<Power::dimension>("12000 Btu/h"));
  EXPECT_DOUBLE_EQ(read<Pressure::dimension>("0.5 in w.c."), read<Pressure::dimension>("0.5 inH2O"));
  EXPECT_DOUBLE_EQ(read<Pressure::dimension>("12 psig"), read<Pressure::dimension>("12 psi"));
  EXPECT_DOUBLE_EQ(read<PricePerEnergy::dimension>("$1.20/therm"), read<PricePerEnergy::dimension>("1.20 USD/therm"));
  EXPECT_DOUBLE_EQ(read<PricePerEnergy::dimension>("0.30 €/kWh"), read<PricePerEnergy::dimension>("30 cent/kWh"));
  EXPECT_DOUBLE_EQ(read<Rate::dimension>("6/h"), read<Rate::dimension>("6 1/h"));
  EXPECT_DOUBLE_EQ(read<VolumeFlow::dimension>("3.6 m³/h"), read<VolumeFlow::dimension>("1 L/s"));
  EXPECT_DOUBLE_EQ(read<Conductance::dimension>("2 W·s/(s·K)"), 2);
}

TEST(Units, TemperaturePointsHaveAnOffsetAndDifferencesHaveNone) {
  EXPECT_NEAR(read<Temperature::dimension>("32 degF"), 273.15, 1e-10);
  EXPECT_NEAR(read<Temperature::dimension>("-40 degC"), read<Temperature::dimension>("-40 °F"), 1e-10);
  EXPECT_NEAR(read<Temperature::dimension>("491.67 degR"), 273.15, 1e-10);
  EXPECT_DOUBLE_EQ(read<Temperature::dimension>("300 K"), 300);
  EXPECT_DOUBLE_EQ(read<TemperatureChange::dimension>("9 degF"), 5);
  EXPECT_DOUBLE_EQ(read<TemperatureChange::dimension>("9 degC"), 9);
  EXPECT_DOUBLE_EQ(read<TemperatureChange::dimension>("9 degR"), 5);
}

TEST(Units, FractionsOfAnInchAreNumbers) {
  EXPECT_DOUBLE_EQ(read<Length::dimension>("1/2 in"), 0.0127);
  EXPECT_DOUBLE_EQ(read<Length::dimension>("1-1/4 in"), 0.03175);
  EXPECT_DOUBLE_EQ(read<Length::dimension>("3 1/4 in"), 0.08255);
  EXPECT_DOUBLE_EQ(read<Length::dimension>("-1/2in"), -0.0127);
  EXPECT_DOUBLE_EQ(read<Length::dimension>("  1e2 ft "), 30.48);
}

// 1 ft = 0.3048 m and 1 in = 0.0254 m exactly (NIST SP 811 B.8).
TEST(Units, FeetAndInchesAreOneLength) {
  for (auto text : {"50 ft 6 in", "50ft 6in", "50 ft. 6 in.", "50' 6\"", "50'6\"", "50'-6\"", "50′ 6″", "50 feet 6 inches", "50’ 6”",
                    "50' 6''"})
    EXPECT_DOUBLE_EQ(read<Length::dimension>(text), 50 * 0.3048 + 6 * 0.0254) << text;
  EXPECT_DOUBLE_EQ(read<Length::dimension>("3 ft 1-1/2 in"), 3 * 0.3048 + 1.5 * 0.0254);
  EXPECT_DOUBLE_EQ(read<Length::dimension>("3' 1/2\""), 3 * 0.3048 + 0.5 * 0.0254);
  EXPECT_DOUBLE_EQ(read<Length::dimension>("-2 ft 3 in"), -(2 * 0.3048 + 3 * 0.0254));
  EXPECT_DOUBLE_EQ(read<Length::dimension>("40'"), 40 * 0.3048);
  EXPECT_DOUBLE_EQ(read<Length::dimension>("1-1/4\""), 1.25 * 0.0254);
  for (auto text : {"50 ft 12 in", "50 ft 6", "50 ft 6 ft", "6 in 50 ft", "50' 6'"})
    EXPECT_EQ(fault_of(text, Length::dimension), UnitFault::unknown_unit) << text;
  EXPECT_EQ(fault_of("50 ft 6 in", VolumeFlow::dimension), UnitFault::wrong_dimension);
  EXPECT_EQ(word_for(unit_in("50 ft 6 in")->dimension), "a length");
}

// A year of weather here has 365 days.
TEST(Units, YearsAreTimes) {
  for (auto text : {"2 yr", "2 years", "2 year"}) EXPECT_DOUBLE_EQ(read<Time::dimension>(text), 2 * 365 * 86400.0) << text;
  EXPECT_EQ(unit_hint("2 months", Time::dimension), "write d or yr: a month has several lengths");
}

TEST(Units, WhatIsWrittenIsKept) {
  UnitFault fault{};
  auto const q = parse_quantity("1-1/4 in", Length::dimension, fault);
  ASSERT_TRUE(q);
  EXPECT_EQ(q->number, "1-1/4");
  EXPECT_EQ(q->symbol, "in");
}

TEST(Units, FaultsAreToldApart) {
  for (auto text : {"", "gpm", "nan gpm", "inf gpm", "1e999 gpm", "1/0 gpm", "--1 gpm", "unknown"})
    EXPECT_EQ(fault_of(text, VolumeFlow::dimension), UnitFault::no_number) << text;
  EXPECT_EQ(fault_of("8", VolumeFlow::dimension), UnitFault::no_unit);
  EXPECT_EQ(fault_of("8 ft", VolumeFlow::dimension), UnitFault::wrong_dimension);
  EXPECT_EQ(fault_of("8 %", Temperature::dimension), UnitFault::wrong_dimension);
  for (auto text : {"140 F", "0x10 gpm", "60 C", "8 gmp", "5 ton", "1,000 gpm", "8 gpm 3", "8 gpm.2", "8 gpm/", "8 gpm -2",
                    "8 s since 2000-01-01", "8 K @ 3", "8 1", "8 /1", "8 log(re 1 m)", "8 m^", "8 (gpm", "8 gpm)"})
    EXPECT_EQ(fault_of(text, VolumeFlow::dimension), UnitFault::unknown_unit) << text;
  for (char c : std::string_view("!?#&[]{}|~`@,;:\"'+=<>\\_*./-^("))
    for (std::string text : {std::string("8 gpm") + c, std::string("8 ") + c + "gpm", std::string("8 gp") + c + "m"})
      if (c != '/' || !text.ends_with("/gpm")) fault_of(text, VolumeFlow::dimension);  // "8 /gpm" is one over a flow
  EXPECT_EQ(fault_of(std::string(100000, '1') + " gpm", VolumeFlow::dimension), UnitFault::no_number);
}

TEST(Units, HintsNameTheUnitThatIsMeant) {
  EXPECT_EQ(unit_hint("140 F", Temperature::dimension), "write \"140 °F\"");
  EXPECT_EQ(unit_hint("60 C", Temperature::dimension), "write \"60 °C\"");
  EXPECT_EQ(unit_hint("8 gmp", VolumeFlow::dimension), "did you mean \"8 gpm\"?");
  EXPECT_EQ(unit_hint("8 kw", Power::dimension), "did you mean \"8 kW\"?");
  EXPECT_EQ(unit_hint("gmp", VolumeFlow::dimension), "did you mean \"gpm\"?");
  EXPECT_EQ(unit_hint("8 gmp", Length::dimension), "");
  EXPECT_EQ(unit_hint("40 ft 18 in", Length::dimension), "write feet and inches as \"20 ft 3 in\", with less than 12 in");
  EXPECT_EQ(unit_hint("1 h 30 min", Time::dimension), "write one number with one unit, such as \"1.5 h\" for 1 h 30 min");
  EXPECT_EQ(unit_hint("1,000 gpm", VolumeFlow::dimension), "write \"1000 gpm\"");
  EXPECT_EQ(unit_hint("80,000 Btu/h", Power::dimension), "write \"80000 Btu/h\"");
  EXPECT_EQ(unit_hint("23,4 kW", Power::dimension), "write \"23.4 kW\"");
  EXPECT_EQ(unit_hint("1,5,2 gpm", VolumeFlow::dimension), "write the number without commas");
}

TEST(Units, DimensionsHaveWords) {
  EXPECT_EQ(word_for(unit_in("8 gpm")->dimension), "a flow");
  EXPECT_EQ(word_for(unit_in("8 psi")->dimension), "a pressure");
  EXPECT_EQ(word_for(unit_in("8 ft5")->dimension), "a quantity in m5");
}

// In base units both are kg/(m·s²).
TEST(Units, AHeatingValueIsNoPressure) {
  EXPECT_EQ(word_for(HeatingValue::dimension), "a heating value (energy per volume)");
  for (auto const* text : {"5 psi", "38 kPa", "7 inH2O", "7 in. w.c.", "1 bar"})
    EXPECT_EQ(fault_of(text, HeatingValue::dimension), UnitFault::wrong_dimension) << text;
  // 1 Btu = 1055.05585262 J, 1 ft = 0.3048 m: 1037 Btu/ft³ are 38.64 MJ/m³
  for (auto const* text : {"1037 Btu/ft3", "1037 Btu/ft³", "38.637 MJ/m3", "38637 kJ/m³", "1037 Btu per cu ft"})
    EXPECT_NEAR(read<HeatingValue::dimension>(text), 38.637e6, 1e3) << text;
  EXPECT_EQ(fault_of("8 gpm", HeatingValue::dimension), UnitFault::wrong_dimension);
  EXPECT_EQ(printed_units(HeatingValue::dimension, UnitSystem::si), "MJ/m³");
}

TEST(Units, OfOneSystemAreListedApart) {
  EXPECT_EQ(printed_units(VolumeFlow::dimension, UnitSystem::us), "gpm");
  EXPECT_EQ(printed_units(VolumeFlow::dimension, UnitSystem::si), "L/s, m³/h");
  for (auto system : {UnitSystem::us, UnitSystem::si}) EXPECT_EQ(printed_units(Time::dimension, system), "s, min, h, d");
}
