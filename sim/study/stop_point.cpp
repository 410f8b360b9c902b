#include "sim/study/stop_point.hpp"

#include <algorithm>
#include <exception>
#include <thread>

namespace steadyfire {
namespace {

/// Runs that differ by less say the same of the burner. Short-cycling days scatter by a tenth for any reason at all.
double constexpr unlike_starts = 1.25;
long constexpr few_starts = 4;

}  // namespace

bool may_hang_on_stop_point(Record const& r) {
  auto const& b = r.burner;
  auto const near = [](double value, double limit, double share) { return value > limit * (1 - share) && value < limit * (1 + share); };
  return r.incomplete.empty() && (b.near_stops > 0 || near(b.starts_per_hour_worst, r.why.starts_limit + 0.5, 0.3) ||
                                  (!b.burns.empty() && near(b.burn_median, r.why.short_burn, 0.3)));
}

Band study_stop_point(Installation const& in, RunOptions options, Forcing const& outdoors, std::function<bool()> interrupted) {
  options.figures_only = true, options.plan = nullptr, options.picture = nullptr;
  auto const& boiler = in.pieces[in.boiler];
  auto const moves =
      std::find_if(boiler.kind->fields.begin(), boiler.kind->fields.end(), [](Field const& f) { return f.role == FieldRole::off_above; });
  Band band{boiler.name, moves->key, measure::temperature_change, {}, {}};
  std::exception_ptr failures[2];
  auto const run = [&](BandEnd& end, double by, std::exception_ptr& failure) {
    try {
      auto moved = in;
      auto& off_above = value_of(moved.pieces[moved.boiler], FieldRole::off_above).numbers.at(0);
      off_above = std::max(off_above + by, off_above / 2);
      end = outcome(run_study(moved, options, outdoors, {}, interrupted).record, off_above);
    } catch (...) { failure = std::current_exception(); }
  };
  std::thread other{run, std::ref(band.low), -sensor_error, std::ref(failures[0])};
  run(band.high, sensor_error, failures[1]);
  other.join();
  for (auto const& failure : failures)
    if (failure) std::rethrow_exception(failure);
  return band;
}

std::optional<Finding> knife_edge(Record const& r) {
  if (!r.stop_point || !r.stop_point->low.incomplete.empty() || !r.stop_point->high.incomplete.empty()) return {};
  auto const &low = r.stop_point->low, &high = r.stop_point->high;
  auto const [fewest, most] = std::minmax({r.burner.starts, low.starts, high.starts});
  if (most - fewest <= few_starts || double(most) < unlike_starts * double(fewest)) return {};
  auto const fails = [&](int worst_hour, double burn) { return worst_hour > r.why.starts_limit || burn < r.why.short_burn; };
  bool const now = fails(r.burner.starts_per_hour_worst, r.burner.burn_median),
             fails_lower = fails(low.starts_per_hour_worst, low.burn_median),
             fails_higher = fails(high.starts_per_hour_worst, high.burn_median), verdict_hangs = now != fails_lower || now != fails_higher;
  auto const starts = [](long n) { return Amount{double(n), measure::count}; };
  auto const burn = [](double s) { return Amount{s, measure::minutes}; };
  return Finding{
      .id = "burner.knife_edge",
      .place = r.burner.name,
      .severity = verdict_hangs ? Severity::minor : Severity::note,
      .figures = {{"starts", double(r.burner.starts), measure::count},
                  {"starts_lower", double(low.starts), measure::count},
                  {"starts_higher", double(high.starts), measure::count},
                  {"burn_median", r.burner.burn_median, measure::minutes},
                  {"burn_median_lower", low.burn_median, measure::minutes},
                  {"burn_median_higher", high.burn_median, measure::minutes}},
      .limit = std::nullopt,
      .whose = common_practice,
      .words = say("on a knife edge: {} starts with a median burn of {}, but {} and {} if its sensor makes it stop {} lower, {} and "
                   "{} if higher. No sensor is better than that.",
                   starts(r.burner.starts), burn(r.burner.burn_median), starts(low.starts), burn(low.burn_median),
                   Amount{sensor_error, measure::fine_temperature_change}, starts(high.starts), burn(high.burn_median)),
      .order = verdict_hangs ? 28.0 : 9.5,
      .fix = now || verdict_hangs
                 ? "count on the worse of them; lower minimum fire, a wider on/off differential or a buffer tank lead away from the edge."
                 : "none needed: the worse of them is fine too."};
}

}  // namespace steadyfire
