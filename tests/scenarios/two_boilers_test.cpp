#include <gtest/gtest.h>

#include "sim/study/flows_study.hpp"
#include "tests/scenarios/whole_run.hpp"

namespace steadyfire {
namespace {

struct Step { double time; std::string piece, mode; };

class Steps final : public Watcher {
 public:
  explicit Steps(Plan const& plan) : plan_{plan} {}
  void stepped(double, std::vector<double> const&, State const&) override {}
  void tripped(std::vector<Trip> const& trips, State const& now) override {
    for (auto const& t : trips) {
      auto const& piece = plan_.pieces[t.piece];
      list.push_back({now.time, piece.name, piece.kind->modes[t.to]});
    }
  }
  std::vector<Step> list;

 private:
  Plan const& plan_;
};

TEST(TwoBoilers, TheSecondComesAfterItsDelayAndFiresOnlyWhileCalled) {
  auto const project = whole_run::shipped("two_boilers");
  Plan plan = lay_out(project.installation, *project.run.start_water);
  RunWeather const weather{project};
  March march{plan, weather, {}};
  Steps steps{plan};
  march.watch(steps);
  march.run(12 * 3600);
  double waiting_since = -1;
  bool called = false;
  int calls = 0, ignitions = 0;
  for (auto const& s : steps.list) {
    if (s.piece == "lag/control") {
      if (s.mode == "waiting to call") waiting_since = s.time;
      if (s.mode == "both" && !called) {
        EXPECT_NEAR(s.time - waiting_since, 12 * 60, 1e-3);  // call_after = "12 min"
        ++calls;
      }
      called = s.mode == "both" || s.mode == "letting go";
    }
    if (s.piece == "lag" && s.mode == "igniting") {
      EXPECT_TRUE(called) << s.time;
      ++ignitions;
    }
  }
  EXPECT_GT(calls, 3);
  EXPECT_GT(ignitions, 3);
}

TEST(TwoBoilers, BothRunAtDesignWhereOneCannotCarryTheLoad) {
  auto const project = whole_run::shipped("two_boilers");
  FlowsOptions options;
  options.calls = {{"stair"}, {"ground east", "ground west", "upper east", "upper west", "stair"}};
  auto const record = study_flows(project.installation, options);
  EXPECT_NEAR(record.states[1].boiler_flow, 2 * record.states[0].boiler_flow, 0.02 * record.states[1].boiler_flow);
}

}  // namespace
}  // namespace steadyfire
