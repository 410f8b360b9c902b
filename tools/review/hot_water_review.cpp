#include "tools/review/hot_water_review.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "models/hot_water/deliverable.hpp"
#include "models/house/hot_water_answer.hpp"

namespace steadyfire {
namespace {

ReviewTable taps_table(HotWaterRecord const& h) {
  ReviewTable t{"taps", "Draws of the run, by tap",
                {"tap", "draws", "OK", "never hot", "turned cold", "low flow", "burner did not start", "average wait", "longest wait",
                 "run off before hot"},
                {}};
  auto const row = [&](std::string const& name, TapRecord const& tap) {
    auto const count = [](long n) { return ReviewCell{double(n), measure::count}; };
    t.rows.push_back({name, count(tap.draws), count(tap.on_target), count(tap.never_hot), count(tap.cooled), count(tap.short_of_flow),
                      count(tap.not_fired), {tap.mean_wait(), measure::seconds},
                      {tap.waited > 0 ? tap.wait_longest : Field::none, measure::seconds}, {tap.run_off, measure::volume}});
  };
  for (auto const& tap : h.taps) row(tap.name, tap);
  row("all", h.all);
  return t;
}

ReviewTable deliverable_table(DeliverableRecord const& d) {
  ReviewTable t{"deliverable", "Hot water available",
                {"incoming water", "at", "tap", "outdoor", "flow", "limited by", "flow with heating on", "limited by"}, {}};
  for (auto const& r : d.rows)
    t.rows.push_back({r.season.empty() ? "all year" : r.season, {r.cold, measure::temperature}, {r.wanted, measure::temperature},
                      {r.outdoors, measure::temperature}, {r.alone, measure::flow}, r.bound, {r.beside_heating, measure::flow},
                      r.bound_beside});
  return t;
}

/// All taps at once, from the coldest incoming water, against what the burner gives into hot water.
void judge_all_at_once(HotWaterRecord const& h, ReviewPart& part) {
  if (h.deliverable.rows.empty()) return;
  auto const coldest =
      std::min_element(h.deliverable.rows.begin(), h.deliverable.rows.end(), [](auto const& a, auto const& b) { return a.cold < b.cold; });
  double wanted = 0;
  for (auto const& tap : h.taps)
    if (tap.flow_wanted > 0 && tap.wanted > coldest->cold) wanted += heat_for(tap.flow_wanted, coldest->cold, tap.wanted);
  if (wanted == 0) return;
  part.judge({"dhw.all_at_once",
              "taps",
              "all taps at once need",
              {"wanted", wanted, measure::power},
              {"output", h.deliverable.output, measure::power},
              Judgement::at_most,
              "burner output into hot water at full fire",
              "Use a larger hot water input, low-flow shower heads, a tank, or fewer taps at once.",
              Severity::minor,
              40,
              say("Coldest incoming water {}.", Amount{coldest->cold, measure::temperature})});
}

}  // namespace

ReviewPart review_hot_water(Job const& job) {
  ReviewPart part;
  part.id = "hot_water", part.title = "Domestic hot water";
  if (!job.run.hot_water) {
    part.missing = {"no [[tap]]: hot water, its flow, wait and burner starts were not checked"};
    return part;
  }
  auto const& h = *job.run.hot_water;
  part.sentences = h.deliverable.words;
  judge_all_at_once(h, part);
  part.tables = {taps_table(h), deliverable_table(h.deliverable)};
  part.not_covered = {"water quality, hardness, and scaling of the heat exchanger beyond what is stated",
                      "street pressure that changes through the day, and pipe ahead of the house's cold inlet"};
  part.reminders = {say("Above {} at a tap: add a thermostatic mixing valve where the code asks for one.",
                        Amount{unit::degF.to_si(120), measure::temperature})};
  part.cautions = hot_water_cautions(h);
  return part;
}

}  // namespace steadyfire
