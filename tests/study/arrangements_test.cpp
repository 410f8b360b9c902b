// Arrangements: what is changed in a scenario, and that every shipped house can be laid out in some other way.

#include <gmock/gmock.h>

#include "models/house/section_of.hpp"
#include "models/pipe_sizes.hpp"
#include "models/circulator.hpp"
#include "tools/job/catalog.hpp"
#include "tools/study/arrange/layout.hpp"
#include "tests/paths.hpp"
#include "tests/told.hpp"

namespace steadyfire {
namespace {

using testing::HasSubstr;
using D = Layout::Distribution;
using N = NearBoilerSection;

Case shipped(std::string const& name) {
  auto const file = in_source("/scenarios/") + name;
  return {file, read_text(file)};
}
Case changed(Case const& house, Layout const& layout, PipingNeeds const& needs) {
  auto const relaid = lay_out_again(house, layout, needs);
  EXPECT_EQ(us(relaid.reason), "");
  return {house.document().file, relaid.text};
}
PipingNeeds needs(Case const& house) { return needs_of(house, 340, 6000); }

FlowState design_day(Case const& house) {
  auto options = flows_options_of(house.project());
  options.calls.emplace_back();
  for (auto const& z : house.project().installation.zones) options.calls[0].push_back(z.name);
  return study_flows(house.project().installation, options).states.front();
}

TEST(Arrangements, AHouseLaidOutAsItIsKeepsItsText) {
  auto const house = shipped("straight_through.toml");
  EXPECT_EQ(lay_out_again(house, layout_of(house), needs(house)).text, house.text());
}

TEST(Arrangements, ZoneValvesTakeThePlaceOfCirculatorsAndOneHoldsItsHead) {
  auto const house = shipped("four_zone_house.toml");
  auto const tees = changed(house, {N::tees, N::two, D::zone_valves}, needs(house));
  auto const& in = tees.project().installation;
  ASSERT_EQ(in.zones.size(), 4U);
  for (auto const& z : in.zones) EXPECT_EQ(in.pieces[std::size_t(z.mover)].kind->name, "zone valve");
  auto const circulator = fill<Circulator>(in.pieces.at(std::size_t(in.part(Part::system_circulator))).values);
  if (circulator.regulation == Circulator::constant_head)  // else no generic one gives every zone its flow
    for (auto const& z : design_day(tees).zones) EXPECT_GE(z.got, 0.999 * z.wanted) << z.name;
  EXPECT_THAT(tees.text(), HasSubstr("# Lesson 1, for the designer."));
}

TEST(Arrangements, NewPipesNearTheBoilerStayBelowFourFeetASecond) {
  auto house = shipped("four_zone_house.toml");
  auto text = house.text();
  text.replace(text.find("1-1/4 in copper M"), 17, "1/2 in copper M");
  Case const narrow{house.document().file, text};
  auto const wide = changed(narrow, {N::separator, N::two, D::zone_valves}, needs(narrow));
  auto const near = section_of<N>(wide.document(), catalog());
  EXPECT_EQ(near.size, "3/4 in copper M");  // 56 kBtu/h over 20 °F: 5.7 gpm; physics.md, section 20: 4 ft/s is 6.5 gpm in 3/4 in
  EXPECT_NEAR(*near.separator_diameter, 3 * find_pipe_size(near.size)->inside_diameter, unit::inch.to_si(0.06));
}

/// physics.md, section 13: 10 min, 20 000 and 5 000 Btu/h, 20 °F make 15.0 gal with 500, 15.3 gal with water's own at 140 °F.
TEST(Arrangements, ABufferTankIsSizedByItsFormula) {
  auto const house = shipped("four_zone_house.toml");
  auto text = house.text() + "\n[buffer]\nload = \"5 kBtu/h\"\nswing = \"20 degF\"\n[size]\nwanted_burn = \"10 min\"\n";
  Case const sized{house.document().file, text};
  double const formula = buffer_by_formula(sized, unit::kBtu_per_hour.to_si(20));
  EXPECT_NEAR(formula / unit::gallon.scale, 15.3, 0.2);
  auto const needed = needs_of(sized, 340, unit::kBtu_per_hour.to_si(20));
  EXPECT_NEAR(needed.tank_volume / unit::gallon.scale, 20, 1e-6);
  auto const buffered = changed(sized, {N::buffer, N::three, D::circulators}, needed);
  auto const near = section_of<N>(buffered.document(), catalog());
  EXPECT_NEAR(*near.tank_volume / unit::gallon.scale, 20, 1e-6);
  EXPECT_EQ(near.tank_pipes, N::three);
}

/// No file that is made of a shipped one has a misspelt or mistaken value: where it is refused, tables do not go together.
class EveryHouse : public testing::TestWithParam<char const*> {};
TEST_P(EveryHouse, CanBeLaidOutAgainOrSaysWhyNot) {
  auto const house = shipped(GetParam());
  int built = 0;
  for (auto const& layout : all_layouts()) {
    auto const relaid = lay_out_again(house, layout, needs(house));
    built += relaid.reason.empty();
    for (auto const* code : {"E201", "E204", "E205", "E209", "E236", "E241"}) EXPECT_THAT(us(relaid.reason), testing::Not(HasSubstr(code)));
    EXPECT_THAT(us(relaid.reason), testing::Not(HasSubstr("unknown"))) << arrangement_name(layout);
    if (!relaid.reason.empty()) continue;
    Case const again{house.document().file, relaid.text};
    EXPECT_EQ(layout_of(again).arrangement, layout.arrangement);
    EXPECT_EQ(again.project().installation.zones.size(), house.project().installation.zones.size());
  }
  EXPECT_GE(built, 2) << "of " << all_layouts().size();
}
INSTANTIATE_TEST_SUITE_P(Shipped, EveryHouse,
                         testing::Values("four_zone_house.toml", "many_emitters.toml", "two_boilers.toml", "straight_through.toml",
                                         "manifold_floors.toml", "series_with_bypass.toml", "single_pipe.toml", "combi_family.toml",
                                         "slab_beside_fin_tube.toml", "buffer_two_pipes.toml", "whole_job.toml",
                                         "workshop_behind_plates.toml", "ghost_flow.toml", "night_setback.toml"));

}  // namespace
}  // namespace steadyfire
