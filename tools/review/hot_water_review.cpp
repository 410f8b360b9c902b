#include "tools/review/hot_water_review.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "models/hot_water/deliverable.hpp"
#include "models/house/hot_water_answer.hpp"
#include "models/house/hot_water_remedies.hpp"
#include "sim/record/hot_water_words.hpp"

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
                {"incoming water", "at", "tap", "outdoor", "flow", "limited by", "steady from", "flow with heating on", "limited by"},
                {}};
  Measure constexpr fine{unit::gpm, unit::litre_per_second, 2, 3};
  for (auto const& r : d.rows)
    t.rows.push_back({r.season.empty() ? "all year" : r.season, {r.cold, measure::temperature}, {r.wanted, measure::temperature},
                      {r.outdoors, measure::temperature}, {r.alone, measure::flow}, r.bound, {r.least_steady, fine},
                      {r.beside_heating, measure::flow}, r.bound_beside});
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
  auto const& d = h.deliverable;
  // Shared, the burner heats too: on the day of the coldest water that is the design day.
  double const left = d.takes_turns ? d.output : std::clamp(d.output_of_boiler - coldest->heating, 0.0, d.output);
  part.judge({"dhw.all_at_once",
              "taps",
              "all taps at once need",
              {"wanted", wanted, measure::power},
              {"output", left, measure::power},
              Judgement::at_most,
              d.takes_turns ? Words("burner output into hot water at full fire")
                            : say("burner output at full fire beside {} of heating", Amount{coldest->heating, measure::power}),
              d.takes_turns ? "Use a larger hot water input, low-flow shower heads, a tank, or fewer taps at once."
                            : "Give hot water priority, use a larger input, low-flow shower heads, a tank, or fewer taps at once.",
              Severity::minor,
              40,
              say("Coldest incoming water {}.", Amount{coldest->cold, measure::temperature})});
}

/// The scenario with a change, cut to a day around the draw that was shortest of heat where its run is long.
struct Window {
  std::vector<Edit> edits;
  bool is_whole = true;
};
Window window_of(Job const& job) {
  auto const& run = job.project.run;
  double constexpr day = 86400, longest = 3 * day;
  if (*run.duration <= longest) return {};
  DrawRecord const* worst = nullptr;
  for (auto const& d : job.run.hot_water->draws)
    if (d.end != DrawEnd::on_target && (!worst || d.energy_short > worst->energy_short)) worst = &d;
  if (!worst) return {};
  int const number = run.start_day + int(std::floor((worst->start + *run.clock) / day));
  auto const set = [](char const* key, std::string value) { return Edit{Edit::Do::set, {"run", 0, {key}}, std::move(value)}; };
  return {{set("start_day", std::to_string((number - 1) % 365 + 1)), set("start_clock", "0:00"), set("duration", "1 d")}, false};
}

/// Runs the house with each change, and tells of those that do something.
class Trials {
 public:
  Trials(Job const& job, ReviewPart& part) : job_{job}, part_{part}, window_{window_of(job)} {}

  void run() {
    auto const& h = *job_.run.hot_water;
    if (h.remedies.empty() || !job_.run_with) return;
    auto const now = window_.is_whole ? std::optional<Record>{job_.run} : run_with({});
    if (!now || !now->hot_water || now->hot_water->failed() == 0) return;
    ReviewTable t{"hot_water_changes",
                  "What would help, each change simulated alone",
                  {"change", "draws that fail", "of", "coldest draw, average", "lowest flow", "burner starts", "fuel"},
                  {}};
    auto const row = [&](Words name, Record const& r) {
      auto const& all = *r.hot_water;
      auto const [coldest, least] = worst_of(all);
      t.rows.push_back({std::move(name), {double(all.failed()), measure::count}, {double(all.all.draws), measure::count},
                        {coldest, measure::temperature}, {least, measure::share}, {double(r.burner.starts), measure::count},
                        {r.energy.fuel, measure::fuel}});
    };
    row("now", *now);
    Words ways;
    for (auto const& remedy : h.remedies) {
      auto const then = run_with(edits_of(remedy, job_.document));
      if (!then || !then->hot_water || !is_better(*then->hot_water, *now->hot_water)) continue;
      row(remedy.what, *then);
      ways += say("{}{}, {}", ways.empty() ? "" : "; ", remedy.what, change(*now->hot_water, *then->hot_water));
    }
    auto const failed = failed_words(*now->hot_water);
    part_.sentences.insert(part_.sentences.begin(),
                           ways.empty() ? say("{}. No single change that was simulated helps.", failed)
                                        : say("{}. What would help, each simulated{}: {}.", failed,
                                              window_.is_whole ? "" : " over the day of the worst draw", ways));
    if (t.rows.size() > 1) part_.tables.push_back(std::move(t));
  }

 private:
  /// The coldest mean temperature of a draw that failed, and the least share of flow; NaN without one.
  static std::pair<double, double> worst_of(HotWaterRecord const& h) {
    double coldest = Field::none, least = Field::none;
    for (auto const& d : h.draws) {
      if (d.end == DrawEnd::on_target) continue;
      coldest = std::fmin(coldest, d.was_hot() ? d.after_hot : d.delivered);
      if (d.flow_wanted > 0) least = std::fmin(least, d.flow / d.flow_wanted);
    }
    return {coldest, least};
  }
  /// "0 of 2 draws fail", or what got better where as many do.
  static Words change(HotWaterRecord const& now, HotWaterRecord const& then) {
    if (then.failed() < now.failed()) return say("{} of {} draws fail", then.failed(), then.all.draws);
    auto const a = worst_of(now), b = worst_of(then);
    return say("still {} of {}, the coldest at {} (now {}) with {} of the flow", then.failed(), then.all.draws,
               Amount{b.first, measure::temperature}, Amount{a.first, measure::temperature}, Amount{b.second, measure::share});
  }
  static bool is_better(HotWaterRecord const& then, HotWaterRecord const& now) {
    if (then.failed() != now.failed()) return then.failed() < now.failed();
    double constexpr noticed = 2, share = 0.05;  // [K] at a tap
    auto const a = worst_of(then), b = worst_of(now);
    return a.first > b.first + noticed || (a.first > b.first - 0.5 && a.second > b.second + share);
  }
  std::optional<Record> run_with(std::vector<Edit> edits) const {
    edits.insert(edits.end(), window_.edits.begin(), window_.edits.end());
    try {
      Diagnostics faults;
      auto const changed = read_document(job_.document.file, edited(job_.document.text, edits, job_.catalog), job_.catalog, faults);
      if (!faults.empty()) return {};
      return job_.run_with(changed);
    } catch (BadEdit const&) {  // a change that this file has no place for is none to offer
    } catch (BadInput const&) {
    } catch (Stopped const&) {
    }
    return {};
  }

  Job const& job_;
  ReviewPart& part_;
  Window const window_;
};

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
  Trials{job, part}.run();
  part.not_covered = {"water quality, hardness, and scaling of the heat exchanger beyond what is stated",
                      "street pressure that changes through the day, and pipe ahead of the house's cold inlet"};
  part.reminders = {say("Above {} at a tap: add a thermostatic mixing valve where the code asks for one.",
                        Amount{unit::degF.to_si(120), measure::temperature})};
  part.cautions = hot_water_cautions(h);
  return part;
}

}  // namespace steadyfire
