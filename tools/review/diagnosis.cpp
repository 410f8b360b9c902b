#include "tools/review/diagnosis.hpp"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <numeric>

#include "sim/march/forcing.hpp"
#include "sim/study/run_study.hpp"

namespace steadyfire {
namespace {

/// Starts of the burner in an hour [1/s], with the thermostats calling as the rooms want.
double burns_per_hour(Stand const& s) {
  RunOptions options;
  options.duration = 6 * 3600, options.clock = 0, options.start_water = 320, options.tolerance = 0.02;
  options.ground = s.conditions.ground, options.unheated = s.conditions.unheated;
  auto const result = run_study(s.installation, options, SteadyOutdoors{s.conditions.outdoors}, {}, {});
  return double(result.record.burner.starts) / options.duration;
}

double constexpr contradiction = 5;  // deviations of a reading that an explanation does not give at all

struct Weight {
  double log_likelihood = 0, square_sum = 0;
};

Weight weigh(std::vector<GaugeValue> const& shown, std::vector<GaugeValue> const& read, std::map<std::string, Deviation> const& deviation) {
  Weight w;
  for (auto const& r : read) {
    auto const known = deviation.find(r.id);
    if (known == deviation.end()) continue;
    auto const* g = find_gauge(shown, r.id);
    double const sigma = g ? known->second.of(*g) : known->second.as_designed();
    double const d = g ? (r.value - g->value) / sigma : contradiction;
    w.square_sum += d * d, w.log_likelihood -= d * d / 2 + std::log(sigma / known->second.as_designed());
  }
  return w;
}

}  // namespace

std::vector<GaugeValue> gauges_on(Stand const& s, bool with_burns) {
  auto all = gauges_of(s.installation, steady_burn(s.installation, s.conditions), s.conditions, s.still);
  if (with_burns) {
    // a control that errs, or thermostats that are exchanged, are not run through time: anything may come of them
    bool const is_run = s.conditions.sensor.empty() && s.conditions.target_error == 0;
    all.push_back({"burns_per_hour", "starts of the burner", "boiler", measure::per_hour, burns_per_hour(s), is_run ? 0 : 3 / 3600.});
  }
  return all;
}

Suspect const& Diagnosis::as_designed() const {
  return *std::find_if(causes.begin(), causes.end(), [](Suspect const& c) { return !c.fault; });
}

bool Diagnosis::is_beyond_chance(Suspect const& c) const {
  if (deviation.empty()) return false;
  boost::math::chi_squared const chance(double(deviation.size()));
  return c.square_sum > boost::math::quantile(boost::math::complement(chance, 1e-3));
}

double Deviation::of(GaugeValue const& shown) const {
  double const share = grows && designed != 0 ? std::min(1.0, std::abs(shown.value / designed)) : 1;
  return std::hypot(gauge, unstated * share, shown.spread);
}
double Deviation::as_designed() const { return std::hypot(gauge, unstated); }

Deviation deviation_of(GaugeValue const& designed, double gauge, std::map<std::string, double> const& unstated) {
  auto const open = unstated.find(designed.id);
  bool const is_temperature = designed.measure.us.offset != 0;
  return {gauge, open == unstated.end() ? 0 : open->second, designed.value, !is_temperature};
}

double Diagnosis::apart(Suspect const& a, Suspect const& b) const {
  double sum = 0;
  for (auto const& [id, deviation] : deviation) {
    auto const *of_a = find_gauge(a.shown, id), *of_b = find_gauge(b.shown, id);
    if (of_a && of_b) sum += std::pow((of_a->value - of_b->value) / std::max(deviation.of(*of_a), deviation.of(*of_b)), 2);
    else if (of_a || of_b) sum += contradiction * contradiction;
  }
  return std::sqrt(sum);
}

Explanations explain(Stand const& as_designed, bool with_burns) {
  Explanations e;
  e.faults = possible_faults(as_designed);
  e.all.push_back({nullptr, {{"", gauges_on(as_designed, with_burns)}}});
  for (auto const& fault : e.faults) {
    Explanation one{&fault, {}};
    for (auto const& size : fault.sizes) {
      Stand changed = as_designed;
      size.apply(changed);
      try {
        one.sizes.push_back({size.words, gauges_on(changed, with_burns)});
      } catch (Stopped const&) {}
    }
    if (one.sizes.empty()) e.not_solved.push_back(fault.words);
    else e.all.push_back(std::move(one));
  }
  return e;
}

Diagnosis diagnose(Explanations const& explanations, std::vector<GaugeValue> const& read, GaugesSection const& gauges,
                   std::map<std::string, double> const& unstated) {
  Diagnosis d;
  auto const& expected = explanations.all.front().sizes.front().gauges;
  for (auto const& r : read) {
    if (auto const* designed = find_gauge(expected, r.id)) d.deviation[r.id] = deviation_of(*designed, gauge_error(r, gauges), unstated);
    else d.not_compared.push_back(r.id);
  }
  std::vector<double> logs;  // by cause: log of prior and likelihood of all its sizes together
  for (auto const& e : explanations.all) {
    double const prior = e.fault ? 0.5 / double(explanations.faults.size()) : 0.5;
    Suspect best{e.fault, {}, {}, 0, 1e300, 0};
    double sum = 0, reference = -1e300;
    for (auto const& size : e.sizes) {
      auto const w = weigh(size.gauges, read, d.deviation);
      double const log = std::log(prior / double(e.sizes.size())) + w.log_likelihood;
      if (log > reference) sum = sum * std::exp(reference - log) + 1, reference = log;
      else sum += std::exp(log - reference);
      if (w.square_sum < best.square_sum) best.size = size.size, best.shown = size.gauges, best.square_sum = w.square_sum;
    }
    best.misfit = d.deviation.empty() ? 0 : std::sqrt(best.square_sum / double(d.deviation.size()));
    d.causes.push_back(std::move(best)), logs.push_back(reference + std::log(sum));
  }
  double const most = *std::max_element(logs.begin(), logs.end());
  double sum = 0;
  for (double& l : logs) l = std::exp(l - most), sum += l;
  for (std::size_t i = 0; i < logs.size(); ++i) d.causes[i].share = logs[i] / sum;
  std::stable_sort(d.causes.begin(), d.causes.end(), [](auto const& a, auto const& b) { return a.share > b.share; });
  return d;
}

std::optional<Parting> parting_reading(Suspect const& a, Suspect const& b, Diagnosis const& diagnosis, GaugesSection const& gauges,
                                       std::map<std::string, double> const& unstated) {
  std::optional<Parting> best;
  for (auto const& designed : diagnosis.as_designed().shown) {
    auto const *of_a = find_gauge(a.shown, designed.id), *of_b = find_gauge(b.shown, designed.id);
    if (!of_a || !of_b || diagnosis.deviation.contains(designed.id)) continue;
    auto const deviation = deviation_of(designed, std::max(gauge_error(*of_a, gauges), gauge_error(*of_b, gauges)), unstated);
    double const apart = std::abs(of_a->value - of_b->value) / std::max(deviation.of(*of_a), deviation.of(*of_b));
    if (apart > (best ? best->deviations : 2)) best = Parting{of_a, of_b, apart};
  }
  return best;
}

}  // namespace steadyfire
