#include <gtest/gtest.h>

#include <thread>

#include "tests/web/ask.hpp"
#include "tests/paths.hpp"

namespace steadyfire::web {
namespace {

TEST(AsksAtOnce, AnswerAsOneAfterAnother) {
  std::vector<std::pair<char const*, Json>> asked{{"describe", Json::object()}};
  for (auto const* name : {"four_zone_house", "combi_family", "buffer_two_pipes", "two_loops", "ghost_flow"})
    for (auto const* units : {"us", "si"}) {
      auto const request = about(in_source("/scenarios/") + std::string(name) + ".toml", units);
      asked.emplace_back("look", request), asked.emplace_back("knobs", request);
      asked.emplace_back("edit", with_edits(request, Json::array({set_edit(place("run", 0, {"duration"}), "36 h")})));
    }
  std::vector<std::string> serial;
  for (auto const& [name, request] : asked) serial.push_back(answer(name, request).dump());
  int constexpr threads = 4;
  std::vector<std::vector<std::string>> at_once(threads, std::vector<std::string>(asked.size()));
  {
    std::vector<std::jthread> all;
    for (int t = 0; t < threads; ++t)
      all.emplace_back([&, t] {
        for (std::size_t i = 0; i < asked.size(); ++i) {  // each begins elsewhere, so that unlike asks meet
          auto const at = (i + std::size_t(t) * asked.size() / threads) % asked.size();
          at_once[std::size_t(t)][at] = answer(asked[at].first, asked[at].second).dump();
        }
      });
  }
  for (auto const& answers : at_once)
    for (std::size_t i = 0; i < asked.size(); ++i) EXPECT_TRUE(answers[i] == serial[i]) << asked[i].first << " " << asked[i].second["file"];
}

}  // namespace
}  // namespace steadyfire::web
