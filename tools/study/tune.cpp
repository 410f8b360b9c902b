#include "tools/study/tune.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <set>
#include <thread>

#include "sim/scenario/value_reader.hpp"
#include "tools/study/spread.hpp"

namespace steadyfire {
namespace {

double sum(double a, double b) { return a + b; }
double least(double a, double b) { return std::fmin(a, b); }
double most(double a, double b) { return std::fmax(a, b); }

/// What the fuel is spared by heat that stays stored, and electricity on the same scale.
struct Counting {
  double efficiency = 1, fuel_price = 0;
};

/// A figure with how it is got of one spell, and how spells are joined.
struct MadeFigure {
  TunedFigure told;
  std::function<double(Record const&, Counting const&)> of;
  double (*join)(double, double);
};

double fuel_spent(Record const& r, Counting const& c) { return r.energy.fuel - r.energy.stored / c.efficiency; }

bool is_summed(std::string const& key) {
  auto const own = key.substr(key.rfind('.') + 1);
  for (auto const* k : {"starts", "too_warm", "too_cold", "electricity", "heat"})
    if (own == k) return true;
  return false;
}

double (*join_of(AskedFigure const& f))(double, double) { return is_summed(f.key) ? sum : f.better == Better::higher ? least : most; }

std::vector<MadeFigure> made_figures(Case const& c) {
  using namespace measure;
  using R = Record const&;
  using C = Counting const&;
  auto const known = [&](char const* key) {
    auto const f = c.figure(key);
    return MadeFigure{{f.key, f.name, f.measure, f.better},
                [f](R r, C) { return f.of(r); },
                join_of(f)};
  };
  std::vector<MadeFigure> all;
  auto const warm = c.figure("too_warm"), cold = c.figure("too_cold");
  all.push_back({{"comfort", "too warm and too cold", degree_hours, Better::lower}, [=](R r, C) { return warm.of(r) + cold.of(r); }, sum});
  all.push_back(known("too_warm")), all.push_back(known("too_cold"));
  all.push_back({{"energy", "fuel and electricity", measure::fuel, Better::lower},
                 [](R r, C c) { return fuel_spent(r, c) + electricity_counts * r.energy.electricity; },
                 sum});
  all.push_back({{"fuel", "fuel", measure::fuel, Better::lower}, fuel_spent, sum});
  all.push_back({{"burnt", "fuel burned", measure::fuel, Better::lower}, [](R r, C) { return r.energy.fuel; }, sum});
  all.push_back(known("electricity"));
  if (!std::isnan(*c.project().run.fuel_price) && !std::isnan(*c.project().run.electricity_price))
    all.push_back({{"cost", "cost", money, Better::lower},
                   [](R r, C c) { return r.energy.cost.value_or(std::nan("")) - c.fuel_price * r.energy.stored / c.efficiency; },
                   sum});
  for (auto const* key : {"starts", "return", "condensing", "highest_room", "lowest_room"}) all.push_back(known(key));
  return all;
}

/// Rooms apart: how warm they are is weighed by its own figures.
std::set<std::string> serious(Record const& r) {
  std::set<std::string> all;
  for (auto const& f : r.findings)
    if (f.severity == Severity::serious && !f.id.starts_with("room.")) all.insert(f.id + " of " + f.place);
  return all;
}

/// Why a point cannot be, in a line.
std::string reason_of(BadInput const& e) {
  std::string words = e.faults.empty() ? e.what() : e.faults[0].message;
  return words.substr(0, words.find('\n'));
}

class Tuner {
public:
  Tuner(std::vector<Spell> const& spells, std::vector<Dial> const& settings, TuneOptions const& options)
      : spells_{spells}, options_{options}, figures_{made_figures(spells.at(0).scenario)} {
    found_.settings = settings, found_.flat = options.flat;
    for (auto const& s : spells) found_.spells.push_back(s.words);
    take_aims();
    for (auto const& f : figures_) found_.figures.push_back(f.told);
    for (auto const& s : settings) parameters_.push_back(s.parameter);
  }

  Tuned go() {
    auto const present = run_present();
    std::vector<Span> spans;
    for (auto const& s : found_.settings) spans.push_back({s.least, s.most, s.step});
    long const about = options_.runs + 20 * long(spans.size());
    FrontSearch search{spans, [this](auto const& at) { return judge(at); }, options_.jobs, options_.interrupted,
                       [&](std::size_t done) {
                         if (options_.progress) options_.progress(std::min(0.99, double(done) / double(about)));
                       }};
    auto const home = search.snapped(present_at());
    search.find_front(options_.runs * 3 / 8, options_.seed, starts(spans, home), reach_of(present));
    search.find_front(options_.runs * 3 / 8, options_.seed + 1, nearest_to_better(search, present, home), present.verdict.merits);
    auto pool = [&] {
      std::vector<Trial> all{present};
      all.insert(all.end(), search.trials().begin(), search.trials().end());
      return all;
    };
    auto trials = pool();
    auto const first = choose(trials);
    auto const start = first ? trials[first].at : search.snapped(trials[evenest_of(trials)].at);
    search.polish(start, gain_against(trials), options_.runs / 4);
    trials = pool();
    found_.chosen = choose(trials);
    measure_scatter(search, present, trials[found_.chosen], found_.chosen != 0);
    if (found_.chosen && !is_real(present, trials[found_.chosen])) found_.chosen = 0;
    auto const base = search.snapped(found_.chosen ? trials[found_.chosen].at : present_at());
    auto const base_trial = search.trials()[search.judge({base})[0]];
    if (base_trial.is_good()) found_.leeway = leeway(search, base, [&](Trial const& t) { return harm(base_trial, present, t); });
    finish(pool());
    if (options_.progress) options_.progress(1);
    return found_;
  }

private:
  void take_aims() {
    auto const has = [&](char const* key) {
      return std::any_of(figures_.begin(), figures_.end(), [&](auto const& f) { return f.told.key == key; });
    };
    auto aims = options_.aims;
    if (aims.empty()) aims = {"comfort", has("cost") ? "cost" : "energy"};
    auto const number_of = [&](std::string const& key) {
      for (std::size_t i = 0; i < figures_.size(); ++i)
        if (figures_[i].told.key == key) return i;
      auto const f = spells_[0].scenario.figure(key);
      if (f.better == Better::neither)
        throw BadAddress{in_quotes(key) + " cannot be improved", "a figure that is better when lower or higher"};
      figures_.push_back({{f.key, f.name, f.measure, f.better},
                          [f](Record const& r, Counting const&) { return f.of(r); },
                          join_of(f)});
      return figures_.size() - 1;
    };
    for (auto const& key : aims) {
      auto const i = number_of(key);
      if (std::find(found_.aims.begin(), found_.aims.end(), i) != found_.aims.end())
        throw BadAddress{in_quotes(key) + " appears twice", "each figure once"};
      found_.aims.push_back(i);
    }
    if (found_.aims.size() < 2) throw BadAddress{"only one figure", "two figures or more, for example comfort,energy"};
    for (auto const i : found_.aims)
      if (figures_[i].told.key == "comfort")
        found_.guarded.push_back(number_of("too_warm")), found_.guarded.push_back(number_of("too_cold"));
      else if (std::find(found_.guarded.begin(), found_.guarded.end(), i) == found_.guarded.end()) found_.guarded.push_back(i);
    std::sort(found_.guarded.begin(), found_.guarded.end());
    found_.guarded.erase(std::unique(found_.guarded.begin(), found_.guarded.end()), found_.guarded.end());
  }

  std::vector<double> present_at() const {
    std::vector<double> at;
    for (auto const& s : found_.settings) at.push_back(std::isnan(s.present) ? (s.least + s.most) / 2 : s.present);
    return at;
  }
  /// Ten points tried that are better than now, or miss it by least.
  static std::vector<std::vector<double>> nearest_to_better(FrontSearch const& search, Trial const& present,
                                                            std::vector<double> const& home) {
    std::vector<std::pair<double, std::size_t>> by_miss;
    auto const& now = present.verdict.merits;
    for (std::size_t i = 0; i < search.trials().size(); ++i) {
      auto const& t = search.trials()[i];
      if (!t.is_good()) continue;
      double miss = 0;
      for (std::size_t k = 0; k < now.size(); ++k) miss += std::max(0.0, (t.verdict.merits[k] - now[k]) / std::max(std::abs(now[k]), 1e-9));
      by_miss.emplace_back(miss, i);
    }
    std::sort(by_miss.begin(), by_miss.end());
    std::vector<std::vector<double>> points{home};
    for (std::size_t i = 0; i < std::min<std::size_t>(10, by_miss.size()); ++i)
      if (auto const& at = search.trials()[by_miss[i].second].at; at != home) points.push_back(at);
    return points;
  }
  /// The present settings, each of them alone at either end, and all in the middle.
  static std::vector<std::vector<double>> starts(std::vector<Span> const& spans, std::vector<double> const& home) {
    std::vector<std::vector<double>> all{home};
    for (std::size_t k = 0; k < spans.size(); ++k)
      for (double const end : {spans[k].least, spans[k].most}) {
        all.push_back(home);
        all.back()[k] = end;
      }
    all.push_back({});
    for (auto const& s : spans) all.back().push_back((s.least + s.most) / 2);
    return all;
  }

  /// The scenario as it stands, untouched.
  Trial run_present() {
    auto const began = std::chrono::steady_clock::now();
    std::vector<Record> records(spells_.size());
    spread(
        spells_.size(), options_.jobs,
        [&](std::size_t i) { records[i] = spells_[i].scenario.record({}, {}, Precision::full, options_.interrupted); },
        options_.interrupted);
    if (options_.interrupted && options_.interrupted()) throw SearchStopped{};
    double fuel = 0, lost = 0;
    for (auto const& r : records) {
      fuel += r.energy.fuel;
      for (auto const* kind : {"flue", "jacket"})
        if (auto const l = r.energy.losses.find(kind); l != r.energy.losses.end()) lost += l->second;
      serious_.push_back(serious(r));
    }
    if (fuel > lost) counting_.efficiency = 1 - lost / fuel;
    if (auto const price = *spells_[0].scenario.project().run.fuel_price; !std::isnan(price)) counting_.fuel_price = price;
    found_.boiler_efficiency = counting_.efficiency;
    Trial t{present_at(), {}};
    for (std::size_t i = 0; i < found_.settings.size(); ++i) t.at[i] = found_.settings[i].present;
    t.verdict = verdict(records);
    if (!t.is_good()) throw BadAddress{t.verdict.fault, "a figure that this scenario has"};
    double const seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
    if (options_.foretell) {
      double const at_once = options_.jobs ? options_.jobs : std::max(1U, std::thread::hardware_concurrency());
      double const one = spells_.size() > 1 ? seconds : seconds / at_once;
      options_.foretell(one * double(options_.runs + 20 * long(parameters_.size())));
    }
    return t;
  }

  Verdict judge(std::vector<double> const& at) const {
    std::vector<double> point;
    for (std::size_t i = 0; i < at.size(); ++i) point.push_back(found_.settings[i].in_parameter(at[i]));
    std::vector<Record> records;
    try {
      for (std::size_t i = 0; i < spells_.size(); ++i) {
        records.push_back(spells_[i].scenario.record(parameters_, point, Precision::full, options_.interrupted));
        if (!records.back().incomplete.empty()) return {{}, {}, records.back().incomplete};
        for (auto const& f : serious(records.back()))
          if (!serious_[i].contains(f)) return {{}, {}, "new finding " + f};
      }
    } catch (Stopped const& s) { return {{}, {}, s.message}; } catch (BadInput const& e) {
      return {{}, {}, reason_of(e)};
    } catch (BadEdit const& e) { return {{}, {}, e.what()}; }
    return verdict(records);
  }
  Verdict verdict(std::vector<Record> const& records) const {
    Verdict v;
    for (auto const& f : figures_) {
      double all = f.of(records[0], counting_);
      for (std::size_t i = 1; i < records.size(); ++i) all = f.join(all, f.of(records[i], counting_));
      v.figures.push_back(all);
    }
    for (auto const i : found_.guarded) {
      double const m = less_is_better(v.figures, i);
      if (std::isnan(m)) return {{}, {}, "no value for " + figures_[i].told.name};
      v.merits.push_back(m);
    }
    return v;
  }
  double less_is_better(std::vector<double> const& figures, std::size_t i) const {
    return figures_[i].told.better == Better::higher ? -figures[i] : figures[i];
  }
  std::vector<double> aims_of(Trial const& t) const {
    std::vector<double> all;
    for (auto const i : found_.aims) all.push_back(less_is_better(t.verdict.figures, i));
    return all;
  }

  /// Compromises beyond this nobody wants: twice the present value, or rooms half a degree Fahrenheit off all the time.
  std::vector<double> reach_of(Trial const& present) const {
    std::vector<double> reach;
    double time = 0;
    for (auto const& s : spells_) time += *s.scenario.project().run.duration * double(s.scenario.project().installation.zones.size());
    for (std::size_t k = 0; k < found_.guarded.size(); ++k) {
      double const now = present.verdict.merits[k];
      auto const& key = figures_[found_.guarded[k]].told.key;
      reach.push_back(now + std::max(std::abs(now), key.find("too_") == std::string::npos ? 0 : time * unit::degF_change.to_si(0.5)));
    }
    return reach;
  }

  /// Of trials that begin with the present one.
  static std::size_t choose(std::vector<Trial> const& trials) {
    std::vector<std::vector<double>> merits;
    std::vector<std::size_t> numbers;
    for (std::size_t i = 0; i < trials.size(); ++i)
      if (trials[i].is_good()) merits.push_back(trials[i].verdict.merits), numbers.push_back(i);
    return numbers[fairest_gain(merits, 0)];
  }
  /// Front of the aims among trials.
  std::vector<std::size_t> front_of(std::vector<Trial> const& trials) const {
    std::vector<std::vector<double>> aims;
    std::vector<std::size_t> numbers;
    auto const reach = reach_of(trials[0]);
    for (std::size_t i = 0; i < trials.size(); ++i)
      if (trials[i].is_good() && is_no_worse(trials[i].verdict.merits, reach)) aims.push_back(aims_of(trials[i])), numbers.push_back(i);
    auto front = best_compromises(aims);
    for (auto& i : front) i = numbers[i];
    return front;
  }
  std::size_t evenest_of(std::vector<Trial> const& trials) const {
    auto const front = front_of(trials);
    std::vector<std::vector<double>> aims;
    for (auto const i : front) aims.push_back(aims_of(trials[i]));
    return front[evenest(aims)];
  }

  /// What a polish makes less: minus the smallest share gained; where a guarded figure gets worse, by how much.
  static std::function<double(Trial const&)> gain_against(std::vector<Trial> const& trials) {
    auto const present = trials[0].verdict.merits;
    auto best = present;
    for (auto const& t : trials)
      if (t.is_good() && is_no_worse(t.verdict.merits, present))
        for (std::size_t k = 0; k < best.size(); ++k) best[k] = std::min(best[k], t.verdict.merits[k]);
    return [=](Trial const& t) {
      double worse = 0, gained = 1e9;
      for (std::size_t k = 0; k < present.size(); ++k) {
        double const size = std::max(std::abs(present[k]), 1e-9);
        worse += std::max(0.0, (t.verdict.merits[k] - present[k]) / size);
        if (best[k] < present[k]) gained = std::min(gained, (present[k] - t.verdict.merits[k]) / (present[k] - best[k]));
      }
      return worse > 0 || gained > 1e8 ? 1 + worse : -gained;
    };
  }
  static bool is_no_worse(std::vector<double> const& a, std::vector<double> const& b) {
    for (std::size_t k = 0; k < a.size(); ++k)
      if (a[k] > b[k]) return false;
    return true;
  }

  /// Each setting a twentieth of a step up and down, where nothing of weight can change but chance.
  void measure_scatter(FrontSearch& search, Trial const& present, Trial const& chosen, bool both) {
    found_.scatter.assign(figures_.size(), 0);
    auto const around = [&](Trial const& middle) {
      std::vector<std::vector<double>> near;
      for (std::size_t k = 0; k < middle.at.size(); ++k) {
        auto const& s = found_.settings[k];
        if (!s.parameter.words.empty() || s.field().sort == Field::Sort::count || s.field().sort == Field::Sort::clock) continue;
        for (double const way : {-0.05, 0.05}) {
          near.push_back(middle.at);
          near.back()[k] = std::clamp(middle.at[k] + way * s.step, std::min(s.least, middle.at[k]), std::max(s.most, middle.at[k]));
        }
      }
      if (std::any_of(middle.at.begin(), middle.at.end(), [](double x) { return std::isnan(x); })) return;
      for (auto const i : search.judge(near)) {
        auto const& t = search.trials()[i];
        for (std::size_t f = 0; t.is_good() && f < figures_.size(); ++f)
          found_.scatter[f] = std::fmax(found_.scatter[f], std::abs(t.verdict.figures[f] - middle.verdict.figures[f]));
      }
    };
    around(present);
    if (both) around(chosen);
  }
  /// At least one guarded figure gains more than chance gives.
  bool is_real(Trial const& present, Trial const& chosen) const {
    for (auto const i : found_.guarded) {
      double const gain = less_is_better(present.verdict.figures, i) - less_is_better(chosen.verdict.figures, i);
      if (gain > 2 * found_.scatter[i] && gain > 2e-3 * std::abs(present.verdict.figures[i])) return true;
    }
    return false;
  }
  /// "" or the aim that is worse by more than is as good.
  std::string harm(Trial const& base, Trial const& present, Trial const& t) const {
    if (!t.is_good()) return t.verdict.fault;
    for (auto const i : found_.aims) {
      double const size = std::max(std::abs(base.verdict.figures[i]), std::abs(present.verdict.figures[i]));
      if (less_is_better(t.verdict.figures, i) - less_is_better(base.verdict.figures, i) > options_.flat * size)
        return figures_[i].told.name;
    }
    return "";
  }

  void finish(std::vector<Trial> trials) {
    std::map<std::string, long> whys;
    for (auto const& t : trials)
      if (!t.is_good()) ++found_.refused, ++whys[t.verdict.fault];
    long many = 0;
    for (auto const& [why, count] : whys)
      if (count > many) many = count, found_.refused_why = why;
    auto const reach = reach_of(trials[0]);
    for (std::size_t i = 0; i < trials.size(); ++i)
      if (trials[i].is_good() && is_no_worse(trials[i].verdict.merits, reach)) found_.within.push_back(i);
    found_.front = front_of(trials);
    found_.evenest = evenest_of(trials);
    found_.trials = std::move(trials);
  }

  std::vector<Spell> const& spells_;
  TuneOptions const& options_;
  std::vector<MadeFigure> figures_;
  std::vector<Parameter> parameters_;
  std::vector<std::set<std::string>> serious_;  ///< of the present settings, by spell
  Counting counting_;
  Tuned found_;
};

}  // namespace

std::vector<Spell> spells_of(Case const& own, std::vector<int> const& days, double length, bool year) {
  auto const& run = own.project().run;
  if (days.empty() && !year)
    return {{own, fmt::format("the scenario's own run, {:.3g} d from day {}", *run.duration / 86400, run.start_day)}};
  auto const& w = own.project().weather;
  if (double const covered = w.step * double(w.dry_bulb.size()); covered < 364 * 86400.0)
    throw BadAddress{"the weather in the scenario does not cover a year", "weather of kind \"normals\", \"TMY3 file\" or \"hourly file\"",
                     "leave out --day and --year to use the scenario's own run"};
  std::vector<Spell> all;
  auto const add = [&](int day, double long_) {
    std::vector<Edit> const edits{{Edit::Do::set, {"run", 0, {"start_day"}}, std::to_string(day)},
                                  {Edit::Do::set, {"run", 0, {"duration"}}, fmt::format("{:.8g} d", long_)}};
    all.push_back({Case{own.document().file, own.text(), edits, own.units()}, fmt::format("{:.3g} d from day {}", long_, day)});
  };
  if (year) add(1, 365);
  else
    for (int const day : days) add(day, length);
  return all;
}

std::size_t fairest_gain(std::vector<std::vector<double>> const& merits, std::size_t present) {
  auto const& now = merits.at(present);
  std::vector<std::size_t> able;
  auto best = now;
  for (std::size_t i = 0; i < merits.size(); ++i) {
    bool no_worse = true, better = false;
    for (std::size_t k = 0; k < now.size(); ++k) no_worse = no_worse && merits[i][k] <= now[k], better = better || merits[i][k] < now[k];
    if (!no_worse || !better) continue;
    able.push_back(i);
    for (std::size_t k = 0; k < now.size(); ++k) best[k] = std::min(best[k], merits[i][k]);
  }
  auto chosen = present;
  std::pair<double, double> most{-1, -1};
  for (auto const i : able) {
    std::pair<double, double> gain{1, 0};  // the smallest share, then their sum
    for (std::size_t k = 0; k < now.size(); ++k) {
      if (best[k] == now[k]) continue;
      double const share = (now[k] - merits[i][k]) / (now[k] - best[k]);
      gain.first = std::min(gain.first, share), gain.second += share;
    }
    if (gain > most) most = gain, chosen = i;
  }
  return chosen;
}

Tuned tune(std::vector<Spell> const& spells, std::vector<Dial> const& settings, TuneOptions const& options) {
  return Tuner{spells, settings, options}.go();
}

}  // namespace steadyfire
