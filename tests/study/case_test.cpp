// Addresses of values, and points of a scenario.

#include <gmock/gmock.h>

#include <algorithm>

#include "tools/study/case.hpp"
#include "tests/paths.hpp"

namespace steadyfire {
namespace {

using testing::HasSubstr;
using As = Parameter::As;

Case shipped(std::string const& name, std::vector<Edit> const& edits = {}) {
  auto const file = in_source("/scenarios/") + name;
  return {file, read_text(file), edits};
}
std::string fault_of(Case const& c, std::string const& address) {
  try {
    c.turn(address);
  } catch (BadAddress const& e) {
    return std::string(e.what()) + " | " + e.expected + " | " + e.hint;
  }
  return "";
}

TEST(Turn, FindsAValueOfOneTableAndOfAllOfAKind) {
  auto const c = shipped("oversized_burner.toml");
  auto const fire = c.turn("boiler.minimum_input");
  EXPECT_EQ(fire.field->key, "minimum_input");
  ASSERT_EQ(fire.own.size(), 1);
  EXPECT_NEAR(fire.own[0], 38 * 293.07107, 0.5);
  EXPECT_EQ(c.turn("zone.design_load").places.size(), 4);
  EXPECT_EQ(c.turn("zone.bath.design_load").places.at(0).index, 2);
  EXPECT_EQ(c.turn("zone.bath.emitter.output").places.at(0).path, (std::vector<std::string>{"emitter", "output"}));
  EXPECT_EQ(c.turn("pipe.\"bath/supply\".length").places.at(0).name, "bath/supply");
}

TEST(Turn, SaysWhyAnAddressLeadsNowhere) {
  auto const c = shipped("oversized_burner.toml");
  EXPECT_THAT(fault_of(c, "boiler.minimum_inptu"), HasSubstr("did you mean 'minimum_input'?"));
  EXPECT_THAT(fault_of(c, "zone.bth.design_load"), HasSubstr("did you mean 'bath'?"));
  EXPECT_THAT(fault_of(c, "boilr.minimum_input"), HasSubstr("did you mean 'boiler'?"));
  EXPECT_THAT(fault_of(c, "boiler"), HasSubstr("names a table without a key"));
  EXPECT_THAT(fault_of(c, "zone.bath"), HasSubstr("names a table without a key"));
  EXPECT_THAT(fault_of(c, "zone.bath.circulator.curve"), HasSubstr("cannot be varied"));
  EXPECT_THAT(fault_of(c, "zone.guest bath.design_load"), HasSubstr("in quotes"));
  EXPECT_THAT(fault_of(c, "a = 1\nb"), HasSubstr("is not an address"));
  EXPECT_THAT(fault_of(c, ""), HasSubstr("is not an address"));
}

TEST(Turn, LeadsFromAPieceToWhatStatesIt) {
  auto const c = shipped("twelve_zones.toml");
  auto const& in = c.project().installation;
  EXPECT_EQ(address_of(in.pieces.at(in.boiler)), "boiler");
  EXPECT_EQ(address_of(in.pieces.at(in.lag_boiler)), "lag_boiler");
  EXPECT_EQ(address_of(in.pieces.at(in.part(Part::boiler_circulator))), "near_boiler.circulator");
  auto const& zone = in.zones.at(0);
  EXPECT_EQ(address_of(in.pieces.at(zone.emitter)), address_of("zone", zone.name) + ".emitter");
  EXPECT_THROW(address_of(in.pieces.at(zone.supply)), InternalError);  // a pipe, whose length is a key of the zone
}

// Who makes a piece says which entry states it; where that entry stands in the file is told by the reader alone.
TEST(Turn, EveryEntryOfTheHouseIsSaidByItsPiece) {
  for (auto const* file : {"twelve_zones.toml", "whole_job.toml", "many_emitters.toml", "manifold_floors.toml", "series_with_bypass.toml",
                           "workshop_behind_plates.toml", "buffer_two_pipes.toml", "ghost_flow.toml", "four_zone_house.toml"}) {
    auto const c = shipped(file);
    for (auto const& table : c.document().tables) {
      if (table.kind->name != "zone" && table.kind->name != "near boiler") continue;
      for (std::size_t k = 0; k < table.values.size(); ++k) {
        auto const& entry = table.values[k].entry;
        if (!entry) continue;
        auto const& pieces = c.project().installation.pieces;
        auto const piece = std::find_if(pieces.begin(), pieces.end(), [&](Piece const& p) {
          auto const& in = p.stated_in;
          return in.table == table.kind && (in.name.empty() || in.name == table.name) && in.key == &table.kind->fields[k];
        });
        ASSERT_NE(piece, pieces.end()) << file << ": " << entry->who;
        EXPECT_EQ(piece->at.line, entry->at.line) << file << ": " << entry->who << ", " << piece->name;
        EXPECT_EQ(piece->at.column, entry->at.column) << file << ": " << entry->who << ", " << piece->name;
      }
    }
  }
}

TEST(Turn, WritesAndReadsValuesAsFilesDo) {
  auto const c = shipped("oversized_burner.toml");
  auto const fire = c.turn("boiler.minimum_input");
  EXPECT_NEAR(read_stated(*fire.field, stated(*fire.field, fire.own[0])), fire.own[0], 1e-11 * fire.own[0]);
  EXPECT_EQ(stated(*fire.field, fire.own[0]), "38 kBtu/h");
  EXPECT_EQ(read_stated(*c.turn("near_boiler.arrangement").field, "buffer tank"), 3);
  try {
    read_stated(*fire.field, "3 gpm");
    FAIL();
  } catch (BadAddress const& e) {
    EXPECT_STREQ(e.what(), "minimum_input is \"3 gpm\": a flow, not a heat rate or power");
  }
}

TEST(Case, APointIsTheScenarioThatAUserCouldHaveWritten) {
  auto const c = shipped("oversized_burner.toml");
  std::vector<Parameter> const turned{{"fire", c.turn("boiler.minimum_input")},
                                      {"loads", c.turn("zone.design_load"), As::factor},
                                      {"piping", c.turn("near_boiler.arrangement"), As::word,
                                       {"closely spaced tees", "hydraulic separator"}}};
  auto const text = c.text_at(turned, {8 * 293.07107017, 1.5, 1});
  EXPECT_THAT(text, HasSubstr("arrangement = \"hydraulic separator\""));
  EXPECT_THAT(text, HasSubstr("# warmer than the rest"));
  Case const again{"point.toml", text};
  EXPECT_NEAR(again.turn("zone.bath.design_load").own.at(0), 6 * 293.07107, 0.1);
  EXPECT_NEAR(again.turn("boiler.minimum_input").own.at(0), 8 * 293.07107, 0.1);
}

TEST(Case, AListIsMultipliedItemByItemAndMayBecomeOneValue) {
  auto const c = shipped("workshop_slab_gains.toml");
  auto const gains = c.turn("zone.workshop.room.gains");
  EXPECT_NEAR(gains.own.at(0), 9000 * 0.29307107, 0.1);
  auto const half = c.text_at({{"gains", gains, As::factor}}, {0.5});
  EXPECT_THAT(half, HasSubstr("\"0 Btu/h\", \"2500"));
  Case const again{c.document().file, half};
  EXPECT_NEAR(again.turn("zone.workshop.room.gains").lists.at(0).at(14), 4500 * 0.29307107, 0.01);
  EXPECT_THAT(c.text_at({{"gains", gains}}, {1000 * 0.29307107017222}), HasSubstr("room.gains = [\"1000 Btu/h\"]"));
}

TEST(Case, RunsAPointToTheFiguresAskedFor) {
  auto const c = shipped("oversized_burner.toml");
  std::vector<Parameter> const turned{{"fire", c.turn("boiler.minimum_input")}};
  std::vector<AskedFigure> const asked{c.figure("starts"), c.figure("fuel"), c.figure("bath.mean_room")};
  auto const high = c.run(turned, {38 * 293.07107017}, asked), low = c.run(turned, {8 * 293.07107017}, asked);
  ASSERT_EQ(high.fault, "");
  ASSERT_EQ(high.figures.size(), 3);
  EXPECT_GT(high.figures[0], 1.5 * low.figures[0]);  // the lesson of the README
  auto const record = c.record(turned, {38 * 293.07107017});
  EXPECT_EQ(double(record.burner.starts), high.figures[0]);
  EXPECT_EQ(record.energy.fuel, high.figures[1]);
  EXPECT_EQ(record.zones.at(2).room_mean, high.figures[2]);
}

TEST(Case, APointThatCannotBeSaysWhyInALine) {
  auto const c = shipped("oversized_burner.toml");
  std::vector<Parameter> const turned{{"fire", c.turn("boiler.minimum_input")}};
  auto const outcome = c.run(turned, {200 * 293.07107017}, {c.figure("starts")});
  EXPECT_TRUE(outcome.figures.empty());
  EXPECT_THAT(outcome.fault, HasSubstr("minimum_input is above heating_input"));
  EXPECT_THAT(outcome.fault, testing::Not(HasSubstr("\n")));
}

}  // namespace
}  // namespace steadyfire
