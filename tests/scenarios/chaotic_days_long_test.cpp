#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "tests/scenarios/whole_run.hpp"

namespace steadyfire {
namespace {

struct Sample {
  double mean, error;  ///< standard error of the mean
  explicit Sample(std::vector<double> const& values) {
    double const n = double(values.size());
    mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
    double squares = 0;
    for (double v : values) squares += (v - mean) * (v - mean);
    error = std::sqrt(squares / (n - 1) / n);
  }
};

// Days that differ by 0.02 K of weather alone, as two tight integrations of one day may: their means are held to CVODE's, a hundred
// times finer. Fuel is net of what the house holds more at the end, and day by day, since warmer days need less.
TEST(ChaoticDays, HaveCvodesMeans) {
  auto const project = whole_run::shipped("four_zone_house");
  MarchOptions fine;
  fine.by_cvode = true, fine.tolerance = fine.guarded_tolerance = 1e-4;
  std::vector<double> starts, wanted_starts, medians, wanted_medians, fuel;
  for (int day = 0; day < 30; ++day) {
    auto got = whole_run::march(project, 24, {}, 0.02 * day), wanted = whole_run::march(project, 24, fine, 0.02 * day);
    starts.push_back(double(got.starts)), wanted_starts.push_back(double(wanted.starts));
    for (auto* o : {&got, &wanted}) std::sort(o->burns.begin(), o->burns.end());
    medians.push_back(got.burns[got.burns.size() / 2]), wanted_medians.push_back(wanted.burns[wanted.burns.size() / 2]);
    fuel.push_back((got.fuel - got.stored) / (wanted.fuel - wanted.stored) - 1);
  }
  auto const within = [](Sample const& a, Sample const& b) { return std::abs(a.mean - b.mean) < 3 * std::hypot(a.error, b.error); };
  Sample const s{starts}, ws{wanted_starts}, m{medians}, wm{wanted_medians}, f{fuel};
  EXPECT_TRUE(within(s, ws)) << s.mean << " ± " << s.error << ", CVODE " << ws.mean << " ± " << ws.error << " starts";
  EXPECT_TRUE(within(m, wm)) << m.mean << " ± " << m.error << ", CVODE " << wm.mean << " ± " << wm.error << " s";
  EXPECT_LT(std::abs(f.mean), 2e-4 + 3 * f.error) << f.mean << " ± " << f.error << " of the fuel";
  EXPECT_LT(f.error, 3e-4);  // else the line above says nothing
}

}  // namespace
}  // namespace steadyfire
