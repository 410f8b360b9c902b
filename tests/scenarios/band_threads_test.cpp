#include <gtest/gtest.h>

#include "sim/study/band.hpp"
#include "tests/paths.hpp"
#include "tests/project_of.hpp"

namespace steadyfire {
namespace {

std::vector<Band> band_of(RunWeather const& weather, Project const& project, Document const& document) {
  RunOptions options;
  options.duration = 1800, options.ground = project.ground, options.unheated = project.unheated;
  options.start_water = *project.run.start_water;
  auto const middle = run_study(project.installation, options, weather, {}, {}).record;
  auto const suppose = [&](Assumption const& a, double value) {
    Diagnostics faults;
    SupposedCase c;
    c.installation = steadyfire::suppose(project, document, catalog(), {a.place, a.key, value}, faults).installation;
    c.run = options;
    if (!faults.empty()) c.fault = "refused";
    return c;
  };
  return study_band(middle, suppose, weather, {}, {});
}

// Two runs at a time; under the thread sanitizer this is what looks for races.
TEST(Band, IsTheSameHoweverItsThreadsTakeTurns) {
  std::string const file = in_source("/scenarios/straight_through.toml");
  auto const document = document_of(read_text(file), file);
  auto const project = project_of(document);
  RunWeather const weather{project};
  auto const once = band_of(weather, project, document), again = band_of(weather, project, document);
  ASSERT_EQ(once.size(), again.size());
  ASSERT_GT(once.size(), 10u);
  for (std::size_t i = 0; i < once.size(); ++i) {
    EXPECT_EQ(once[i].key, again[i].key);
    EXPECT_EQ(once[i].low.fuel, again[i].low.fuel) << once[i].key;
    EXPECT_EQ(once[i].high.fuel, again[i].high.fuel) << once[i].key;
  }
}

}  // namespace
}  // namespace steadyfire
