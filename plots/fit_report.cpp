#include "plots/fit_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plots/chart_page.hpp"
#include "plots/embedded.hpp"
#include "plots/page_parts.hpp"
#include "plots/study_axis.hpp"
#include "plots/study_parts.hpp"

namespace steadyfire {
namespace {

using nlohmann::json;
constexpr size_t most_compared = 120'000;  // about 1 MB

/// Where the log is silent for more than three of its middle steps: lines break there.
std::vector<size_t> silences(std::vector<double> const& times) {
  std::vector<size_t> out;
  if (times.size() < 3) return out;
  std::vector<double> steps;
  for (size_t i = 1; i < times.size(); ++i) steps.push_back(times[i] - times[i - 1]);
  auto sorted = steps;
  auto const middle = sorted.begin() + long(sorted.size() / 2);
  std::nth_element(sorted.begin(), middle, sorted.end());
  for (size_t i = 0; i < steps.size(); ++i)
    if (steps[i] > 3 * *middle) out.push_back(i + 1);
  return out;
}
/// The same with a number put before each of those places.
std::vector<double> with_gaps(std::vector<double> const& all, std::vector<size_t> const& places, bool are_times) {
  std::vector<double> out;
  auto next = places.begin();
  for (size_t i = 0; i < all.size(); ++i) {
    if (next != places.end() && *next == i) out.push_back(are_times ? (all[i - 1] + all[i]) / 2 : std::nan("")), ++next;
    out.push_back(all[i]);
  }
  return out;
}

/// Means of `by` neighbours; NaN where none of them is a number.
std::vector<double> thinned(std::vector<double> const& all, size_t by) {
  if (by == 1) return all;
  std::vector<double> out;
  for (size_t i = 0; i < all.size(); i += by) {
    double sum = 0;
    size_t n = 0;
    for (size_t k = i; k < std::min(all.size(), i + by); ++k)
      if (std::isfinite(all[k])) sum += all[k], ++n;
    out.push_back(n ? sum / double(n) : std::nan(""));
  }
  return out;
}

/// Logged less fitted, over the times that have both.
struct Distance {
  size_t times = 0;
  double mean = std::nan(""), root_mean_square = std::nan(""), largest = std::nan("");  // a difference in SI
};
Distance distance(FitSeries const& s) {
  Distance d;
  double sum = 0, squares = 0, largest = 0;
  for (size_t i = 0; i < s.times.size(); ++i) {
    double const by = s.logged[i] - s.fitted[i];
    if (!std::isfinite(by)) continue;
    ++d.times, sum += by, squares += by * by, largest = std::max(largest, std::abs(by));
  }
  if (d.times) d.mean = sum / double(d.times), d.root_mean_square = std::sqrt(squares / double(d.times)), d.largest = largest;
  return d;
}

class FitPage {
public:
  FitPage(FitRecord const& r, UnitSystem s) : r_{r}, system_{s} {}

  std::string html() {
    auto body =
        study_header(r_.title, {r_.scenario, r_.log, r_.program_version.empty() ? "" : "Steadyfire " + r_.program_version}, r_.words);
    body += section("What the log shows", unknowns()) + section("How well the model fits", nearness());
    body += section("Log and model", pictures()) + section("Cautions", bullets(r_.cautions));
    return page_.html(r_.title, std::string{embedded::uplot_css} + study_style(), body, embedded::report_js);
  }

private:
  FitRecord const& r_;
  UnitSystem system_;
  ChartPage page_;

  /// A difference in the unit shown: "1.2 °F" of 0.67 K, never 32 more.
  double difference(double si, Measure const& m) const { return m.unit(system_).from_si(si) - m.unit(system_).from_si(0); }
  std::string unit_of(Measure const& m) const { return printed_unit(m.unit(system_)); }
  std::string told_difference(double si, Measure const& m) const {
    if (!std::isfinite(si)) return "–";
    int const digits = 1 + (system_ == UnitSystem::us ? m.us_digits : m.si_digits);
    double const scale = std::pow(10, digits), shown = std::round(difference(si, m) * scale) / scale + 0.;  // no "-0"
    auto const words = fmt::format("{:.{}f}", shown, digits);
    return unit_of(m).empty() ? words : words + "\u00a0" + unit_of(m);
  }

  std::string unknowns() const {
    if (r_.unknowns.empty()) return "";
    Table t{{"value", "before", "fitted", "± (95%)", "note", "in the scenario"}, "numbers"};
    for (auto const& u : r_.unknowns) {
      StudyColumn c;
      c.measure = u.measure;
      auto const decimals = ColumnText{c, system_}.decimals();
      bool const is_fine = std::isfinite(u.plus_minus) && difference(u.plus_minus, u.measure) * std::pow(10, decimals) < 10;
      ColumnText const text{c, system_, decimals + is_fine};  // so that a small ± is seen
      t.row({u.name, text.told(u.begun), text.told(u.value), told_difference(u.plus_minus, u.measure), u.words, u.key});
    }
    return t.html();
  }

  std::string nearness() const {
    if (r_.series.empty()) return "";
    Table t{{"channel", "log minus model, average", "average error (rms)", "largest error", "readings", "note"}, "numbers"};
    for (auto const& s : r_.series) {
      auto const d = distance(s);
      t.row({s.label, told_difference(d.mean, s.measure), told_difference(d.root_mean_square, s.measure),
             told_difference(d.largest, s.measure), std::to_string(d.times), s.is_held_out ? "held back, not used for the fit" : ""});
    }
    return t.html() + (r_.compared.empty() ? "" : note(r_.compared));
  }

  std::string pictures() {
    std::string out;
    std::vector<bool> is_done(r_.series.size());
    for (size_t i = 0; i < r_.series.size(); ++i) {
      if (is_done[i] || r_.series[i].times.empty()) continue;
      std::vector<FitSeries const*> together;
      for (size_t k = i; k < r_.series.size(); ++k)
        if (!is_done[k] && r_.series[k].times == r_.series[i].times) together.push_back(&r_.series[k]), is_done[k] = true;
      out += picture(together);
    }
    return out;
  }

  json numbers(std::vector<double> const& si, Measure const& m, bool is_difference) const {
    double const scale = std::pow(10, 1 + (system_ == UnitSystem::us ? m.us_digits : m.si_digits));
    json out = json::array();
    for (double v : si) {
      double const shown = is_difference ? difference(v, m) : m.unit(system_).from_si(v);
      out.push_back(std::isfinite(v) ? json(std::round(shown * scale) / scale) : json());
    }
    return out;
  }

  std::string picture(std::vector<FitSeries const*> const& together) {
    size_t const all = together[0]->times.size(), by = (all * 3 * together.size() + most_compared - 1) / most_compared;
    auto const thin_times = thinned(together[0]->times, by);
    auto const gaps = silences(thin_times);
    auto const times = with_gaps(thin_times, gaps, true);
    double const step = times.size() > 1 ? (times.back() - times.front()) / double(times.size() - 1) : 60;
    json panels = json::array();
    for (auto const* s : together) {
      auto const column = [&](std::vector<double> const& v) { return with_gaps(thinned(v, by), gaps, false); };
      auto const logged = column(s->logged), fitted = column(s->fitted);
      std::vector<double> between;
      for (size_t i = 0; i < times.size(); ++i) between.push_back(logged[i] - fitted[i]);
      auto const line = [&](std::string_view label, std::vector<double> const& v, bool is_difference) -> json {
        return {{"label", label}, {"mean", numbers(v, s->measure, is_difference)}};
      };
      auto const held = s->is_held_out ? ", held back" : "";
      panels.push_back({{"title", s->label + held},
                        {"look", "lines"},
                        {"unit", unit_of(s->measure)},
                        {"series", {line("log", logged, false), line("model", fitted, false)}}});
      panels.push_back({{"title", s->label + ": log minus model"},
                        {"look", "lines"},
                        {"unit", unit_of(s->measure)},
                        {"series", {line("log minus model", between, true)}}});
    }
    std::string caption = "Where the lower line stays near zero, the model matches the house. Drag to zoom in.";
    if (!r_.compared.empty()) caption += " " + r_.compared;
    if (by > 1) caption += fmt::format(" Each point is the average of {} readings.", by);
    return page_.chart("time", {{"start", times.front()}, {"step", step}, {"bins", times.size()}, {"times", times}, {"panels", panels}},
                       caption);
  }
};

}  // namespace

std::string make_fit_report(FitRecord const& r, UnitSystem system) { return FitPage{r, system}.html(); }

}  // namespace steadyfire
