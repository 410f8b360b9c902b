/// Words of the trade for what files call otherwise; each pair is common speech of the trade (no published source).

#include <gtest/gtest.h>

#include "models/gas/gas_sizes.hpp"
#include "models/pipe_sizes.hpp"
#include "sim/scenario/trade_words.hpp"

using namespace steadyfire;

TEST(TradeWords, AreUnderstoodHoweverTheyAreWritten) {
  std::vector<std::string> const joins{"direct", "closely spaced tees", "hydraulic separator", "buffer tank"};
  for (auto word : {"primary secondary", "Primary/Secondary", "primary-secondary", "P/S"})
    EXPECT_EQ(meant_by(word, joins), "closely spaced tees") << word;
  for (auto word : {"hydro separator", "Hydroseparator", "low loss header", "LLH"})
    EXPECT_EQ(meant_by(word, joins), "hydraulic separator") << word;
  std::vector<std::string> const emitters{"fin-tube baseboard", "panel radiator", "column radiator", "radiant slab", "air handler"};
  EXPECT_EQ(meant_by("baseboards", emitters), "fin-tube baseboard");
  EXPECT_EQ(meant_by("in-floor", emitters), "radiant slab");
  EXPECT_EQ(meant_by("cast iron rads", emitters), "column radiator");
}

TEST(TradeWords, MeanWhatStandsAtThatPlace) {
  EXPECT_EQ(meant_by("pump", {"boiler", "circulator"}), "circulator");
  EXPECT_EQ(meant_by("pump", {"arrangement", "system_circulator"}), "system_circulator");
  EXPECT_EQ(meant_by("pumps", {"circulators", "zone valves"}), "circulators");
  EXPECT_EQ(meant_by("zone_control_valve", {"circulator", "zone_valve"}), "zone_valve");
  EXPECT_EQ(meant_by("btu", {"heating_input", "minimum_input"}), "heating_input");
  EXPECT_EQ(meant_by("btu", {"design_load", "floor_area"}), "design_load");
}

TEST(TradeWords, OfNothingKnownThereIsNone) {
  EXPECT_EQ(meant_by("pump", {"floor_area"}), "");
  EXPECT_EQ(meant_by("sousaphone", {"circulator", "boiler"}), "");
  EXPECT_EQ(meant_by("", {"circulator"}), "");
  EXPECT_EQ(meant_by("|pump|", {"circulator"}), "");
  EXPECT_EQ(meant_by("direct", {"direct"}), "") << "our own word is no hint";
}

TEST(TradeWords, SizesAreTakenAsTheyAreAskedForAtASupplyHouse) {
  auto const water = pipe_size_names(), gas = gas_pipe_size_names();
  for (auto said : {"1 in black iron", "1\" black iron", "1 inch black steel", "1 in sch 40", "1 in. steel"}) {
    EXPECT_EQ(pipe_size_meant(said, water), "1 in steel 40") << said;
    EXPECT_EQ(pipe_size_meant(said, gas), "1 in steel 40") << said;
  }
  EXPECT_EQ(pipe_size_meant("3/4 copper", water), "3/4 in copper M");
  EXPECT_EQ(pipe_size_meant("3/4 copper", gas), "3/4 in copper L") << "type M is no gas tube (IFGC 403.5.2, from memory)";
  EXPECT_EQ(pipe_size_meant("1 1/4 in copper type L", water), "1-1/4 in copper L");
  EXPECT_EQ(pipe_size_meant("1/2 pex", water), "1/2 in PEX");
  EXPECT_EQ(pipe_size_meant("1/2 pex", gas), "");
  EXPECT_EQ(pipe_size_meant("5/8 in steel", gas), "");
  EXPECT_EQ(pipe_size_meant("black iron", gas), "");
}
