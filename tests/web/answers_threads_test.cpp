// The same asks from several threads at once; tools/test --all runs this under the thread sanitizer.

#include <gtest/gtest.h>

#include <thread>

#include "sim/core/files.hpp"
#include "tools/web/engine.hpp"
#include "tests/paths.hpp"

namespace steadyfire::web {
namespace {

TEST(AnswersAtOnce, AreTheSame) {
  std::string const file = in_source("/scenarios/four_zone_house.toml");
  auto text = read_file(file);
  std::string const day = "\"1 d\"";
  auto const at = text.find(day);
  ASSERT_NE(at, std::string::npos);
  text.replace(at, day.size(), "\"2 h\"");
  Json const request{{"text", text}, {"file", file}, {"units", "us"}};
  auto const alone = answer("run", request);
  ASSERT_TRUE(alone.at("faults").empty()) << alone.at("faults");
  EXPECT_EQ(answer("run", request), alone);
  std::vector<Json> together(4);
  std::vector<std::thread> threads;
  for (auto& mine : together) threads.emplace_back([&] { mine = answer("run", request); });
  for (auto& t : threads) t.join();
  for (auto const& one : together) EXPECT_EQ(one, alone);
}

}  // namespace
}  // namespace steadyfire::web
