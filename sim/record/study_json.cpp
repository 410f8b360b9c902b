#include "sim/record/study_json.hpp"

#include <cmath>

#include "sim/record/json_parts.hpp"

namespace steadyfire {
namespace {

/// Numbers stand under their unit: {"W": [1, 2]}; shares, counts and factors under "numbers", words as words.
Json column(StudyColumn const& c) {
  Json numbers = Json::array();
  for (double const x : c.numbers) {
    if (std::isnan(x)) numbers.push_back(nullptr);
    else if (!c.words.empty()) numbers.push_back(c.words.at(std::size_t(x)));
    else numbers.push_back(c.is_factor ? x : json_value(x, c.measure));
  }
  auto const unit = c.is_factor || !c.words.empty() ? "" : json_unit(c.measure);
  Json j{{"key", c.key}, {"name", c.name}};
  if (c.is_factor) j["is_factor"] = true;
  if (c.lower_is_better || c.higher_is_better) j["better"] = c.lower_is_better ? "lower" : "higher";
  j[c.words.empty() ? unit.empty() ? "numbers" : unit : "words"] = std::move(numbers);
  return j;
}
Json columns(std::vector<StudyColumn> const& all) {
  Json list = Json::array();
  for (auto const& c : all) list.push_back(column(c));
  return list;
}

}  // namespace

Json study_to_json(StudyRecord const& r) {
  Json faults = Json::array(), claims = Json::array(), influences = Json::array();
  for (auto const& [words, count] : r.faults) faults.push_back({{"words", words}, {"points", count}});
  for (auto const& c : r.claims)
    claims.push_back({{"words", c.words}, {"held", c.held}, {"of", c.of}, {"least_share", c.least}, {"most_share", c.most}});
  for (auto const& i : r.influences)
    influences.push_back({{"figure", i.figure}, {"input", i.input}, {"rank_correlation", i.rank_correlation}, {"share", i.share}});
  return {{"format", 1},
          {"title", r.title},
          {"scenario", r.scenario},
          {"program_version", r.program_version},
          {"points", r.points},
          {"asked", r.asked},
          {"failed", r.failed},
          {"faults", std::move(faults)},
          {"inputs", columns(r.inputs)},
          {"figures", columns(r.figures)},
          {"claims", std::move(claims)},
          {"influences", std::move(influences)},
          {"words", r.words},
          {"cautions", r.cautions}};
}

}  // namespace steadyfire
