#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>

#include "tools/study/fit.hpp"
#include "tools/study/fit_search.hpp"
#include "tools/study/spread.hpp"

namespace steadyfire {
namespace {

using What = LogColumn::What;
using Vector = Eigen::VectorXd;

double constexpr rival_counts = 6;     // a second answer less likely by up to e⁶ is within the interval (95 % is e^1.9 for one unknown)
double constexpr search_errs = 0.005;  // runs jump: where a search ends, over logs of scenarios/night_setback.toml
double constexpr too_wide = 0.7;       // half of an interval in logarithms: up to twice or down to half

/// What a column's means may err before anything is known of it.
double first_deviation(LogColumn const& c) {
  return c.is_temperature() ? 0.3 : c.what == What::fire ? 0.05 : c.what == What::starts ? 2 / 3600. : 0.1;
}

}  // namespace

/// One fit at work: means over windows, and how many runs it took.
struct HouseFit::Asked {
  HouseFit const& fit;
  RunWatch const& watch;
  std::vector<std::vector<double>> logged;  // by column, by window; NaN where mostly a gap
  std::vector<int> column, window;          // by residual
  std::atomic<long> runs{0};
  long expected = 1;
  int windows = 0;

  Asked(HouseFit const& f, RunWatch const& w) : fit{f}, watch{w} {
    for (auto const& of : f.window_of_)
      for (int const k : of) windows = std::max(windows, k + 1);
    for (std::size_t c = 0; c < f.log_.columns.size(); ++c) {
      logged.push_back(means(f.log_.columns[c].values, c));
      for (int k = 0; k < windows; ++k)
        if (!std::isnan(logged[c][std::size_t(k)])) column.push_back(int(c)), window.push_back(k);
    }
  }

  std::vector<double> means(std::vector<double> const& values, std::size_t c) const {
    std::vector<double> sum(std::size_t(windows), 0.0), count(std::size_t(windows), 0.0);
    auto const& of = fit.window_of_[c];
    for (std::size_t i = 0; i < of.size(); ++i)
      if (of[i] >= 0) sum[std::size_t(of[i])] += values[i], count[std::size_t(of[i])] += 1;
    for (std::size_t k = 0; k < sum.size(); ++k) sum[k] = count[k] > 0 ? sum[k] / count[k] : std::nan("");
    return sum;
  }

  /// Run less log, in the column's own measure.
  Vector differences(Shown const& shown) const {
    Vector d(long(column.size()));
    std::vector<std::vector<double>> run;
    for (std::size_t c = 0; c < logged.size(); ++c) run.push_back(means(shown.columns[c], c));
    for (std::size_t i = 0; i < column.size(); ++i) {
      auto const c = std::size_t(column[i]), k = std::size_t(window[i]);
      d[long(i)] = run[c][k] - logged[c][k];
    }
    return d;
  }

  bool is_interrupted() const { return watch.interrupted && watch.interrupted(); }

  std::vector<std::optional<Vector>> at(std::vector<Vector> const& points) {
    std::vector<std::optional<Vector>> answers(points.size());
    spread(
        points.size(), fit.options_.jobs,
        [&](std::size_t i) {
          try {
            auto const shown = fit.shown_at({points[i].begin(), points[i].end()}, watch.interrupted);
            if (!shown.columns.empty()) answers[i] = differences(shown);
          } catch (Stopped const&) {  // such a point cannot be: the solver turns elsewhere
          } catch (BadInput const&) {
          } catch (BadEdit const&) {}
          ++runs;
        },
        watch.interrupted);
    expected = std::max(expected, runs + long(points.size()));
    if (watch.progress) watch.progress(std::min(1.0, double(runs) / double(expected)));
    return answers;
  }
};

std::optional<FitResult> HouseFit::solve(RunWatch const& watch) const {
  Asked asked{*this, watch};
  auto const n = unknowns_.size();
  FitResult result;
  result.before = shown_at(begun_, watch.interrupted);
  if (result.before.columns.empty()) return {};

  SearchProblem problem;
  problem.differences = [&](std::vector<Vector> const& points) { return asked.at(points); };
  problem.column = asked.column, problem.interrupted = watch.interrupted;
  double const rows = std::max(1.0, window_ / log_.spacing());
  for (auto const& c : log_.columns) {
    problem.first.push_back(first_deviation(c));
    problem.least.push_back(c.is_temperature() ? options_.noise / std::sqrt(rows) : 0.1 * first_deviation(c));
  }
  auto const vector = [](Point const& p) -> Vector { return Eigen::Map<Vector const>(p.data(), long(p.size())); };
  problem.begun = vector(begun_), problem.lowest = vector(least_), problem.highest = vector(most_);
  FitSearch search{problem};

  // Twice: from the scenario's values, and from the best of points strewn around them, as there may be more than one valley.
  asked.expected = long(2 * (5 * (2 * n + 1) + 4 * (12 + 8 * n)) + 8 * n);
  auto best = search.from(problem.begun);
  if (!best) return {};
  auto other = search.from(search.best_strewn(std::min<std::size_t>(48, 8 * n)));
  if (asked.is_interrupted()) return {};
  double rival = std::numeric_limits<double>::infinity();
  if (other) {
    rival = other->unlikelihood - best->unlikelihood;
    if (rival < 0) std::swap(best, other), rival = -rival;
    result.starts = 2;
  }
  Point const found{best->point.begin(), best->point.end()};

  result.after = shown_at(found, watch.interrupted);
  if (result.after.columns.empty()) return {};
  Comparison compared{asked.column, asked.window, best->line.middle, best->line.slopes, best->line.slope_noise()};
  for (auto const& p : unknowns_)  // a minimum that the burner hardly ever burns at is guessed from what else went awry
    compared.untold.push_back(p.turn.address == "boiler.minimum_input" && result.after.time_at_minimum < 0.1 * result.after.time_firing);
  auto const confidence = confidence_of(compared);
  result.condition = confidence.condition, result.effective = confidence.effective;
  for (std::size_t i = 0; i < n; ++i) {
    auto const k = long(i);
    FoundUnknown u;
    u.parameter = unknowns_[i], u.begun = begun_[i], u.least = least_[i], u.most = most_[i], u.value = found[i];
    u.low = u.high = std::nan("");
    double half = std::hypot(confidence.half[k], search_errs);
    if (half > too_wide) {
      u.told = Told::not_by_this_log;
      for (long j = 0; j < long(n); ++j)
        if (j != k && confidence.alone[k] < too_wide && (u.twin < 0 || std::abs(confidence.correlation(k, j)) > std::abs(u.correlation)))
          u.told = Told::not_apart, u.twin = int(j), u.correlation = confidence.correlation(k, j);
    } else {
      u.low = u.value * std::exp(-half), u.high = u.value * std::exp(half);
      if (double const worth = confidence.effective / double(asked.column.size()); rival * worth < rival_counts) {
        u.low = std::min(u.low, other->point[k]), u.high = std::max(u.high, other->point[k]);
        half = std::log(u.high / u.low) / 2;
      }
      bool const at_bound = u.value < u.least * 1.01 || u.value > u.most * 0.99;
      u.told = at_bound ? Told::at_its_bound : half <= 0.1 ? Told::well : half <= 0.3 ? Told::roughly : Told::hardly;
    }
    result.unknowns.push_back(std::move(u));
  }
  result.rounds = search.rounds();
  result.runs = asked.runs + 2;

  result.window = window_, result.length = log_.length(), result.rows = long(log_.times.size());
  auto const before = asked.differences(result.before), after = asked.differences(result.after);
  for (std::size_t c = 0; c < log_.columns.size(); ++c) {
    if (log_.columns[c].what != What::starts)  // which are counted from the burner
      result.gaps += std::count_if(log_.columns[c].values.begin(), log_.columns[c].values.end(), [](double x) { return std::isnan(x); });
    if (log_.columns[c].what == What::outdoors) continue;
    FitColumn column{&log_.columns[c]};
    for (long i = 0; i < after.size(); ++i) {
      if (asked.column[std::size_t(i)] != int(c)) continue;
      ++column.windows;
      column.before += before[i] * before[i], column.after += after[i] * after[i];
      if (std::abs(after[i]) > std::abs(column.worst))
        column.worst = after[i], column.worst_at = options_.skip + (asked.window[std::size_t(i)] + 0.5) * window_;
    }
    if (column.windows == 0) continue;
    column.before = std::sqrt(column.before / double(column.windows)), column.after = std::sqrt(column.after / double(column.windows));
    result.columns.push_back(column);
  }
  tell(result);
  return result;
}

}  // namespace steadyfire
