#include "tools/study/logged_run.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/core/count_up.hpp"
#include "sim/march/march.hpp"
#include "models/boiler.hpp"
#include "tools/job/house_run.hpp"

namespace steadyfire {

using What = LogColumn::What;

LoggedOutdoors::LoggedOutdoors(HouseLog const& log, double lead) {
  double constexpr half_hour = 1800;
  auto const& column = *log.find(What::outdoors);
  std::vector<Knot> own;
  double time = 0, sum = 0, count = 0, since = 0;
  auto const close = [&] {
    if (count > 0) own.push_back({time / count, sum / count});
    time = sum = count = 0;
  };
  for (std::size_t i = 0; i < log.times.size(); ++i) {
    if (std::isnan(column.values[i])) continue;
    if (count > 0 && log.times[i] - since >= half_hour) close();
    if (count == 0) since = log.times[i];
    time += log.times[i], sum += column.values[i], count += 1;
  }
  close();
  if (own.empty()) throw InternalError{"a log without a single outdoor temperature drives no run"};
  double constexpr day = 86400;
  for (double back = day * count_up(lead / day); back > 0; back -= day)
    for (auto const& k : own)
      if (double const t = k.time - back; k.time - own.front().time < day && t + lead > -day && t < own.front().time)
        if (knots_.empty() || t + lead > knots_.back().time) knots_.push_back({t + lead, k.kelvin});
  for (auto const& k : own) knots_.push_back({k.time + lead, k.kelvin});
}

std::size_t LoggedOutdoors::behind(double time) const {
  return std::size_t(std::upper_bound(knots_.begin(), knots_.end(), time, [](double t, Knot const& k) { return t < k.time; }) -
                     knots_.begin());
}
double LoggedOutdoors::at(double time) const {
  auto const i = behind(time);
  if (i == 0) return knots_.front().kelvin;
  return knots_[i - 1].kelvin + slope(time) * (time - knots_[i - 1].time);
}
double LoggedOutdoors::slope(double time) const {
  auto const i = behind(time);
  if (i == 0 || i == knots_.size()) return 0;
  return (knots_[i].kelvin - knots_[i - 1].kelvin) / (knots_[i].time - knots_[i - 1].time);
}
double LoggedOutdoors::next_knot(double time) const {
  auto const i = behind(time);
  return i == knots_.size() ? std::numeric_limits<double>::max() : knots_[i].time;
}

namespace {

/// Means of some quantities around the rows of a log, gathered from the steps of a march.
class Sampler final : public Watcher {
public:
  Sampler(Plan const& plan, Installation const& in, HouseLog const& log, double lead) : log_{log}, lead_{lead}, boiler_{in.boiler} {
    for (auto const& c : log.columns) probes_.push_back(probe(plan, in, c.what, c.zone));
    traits_ = plan.pieces[std::size_t(boiler_)].kind->traits;
    fire_ = plan.place(boiler_, StateRole::fire);
    auto const& piece = plan.pieces[std::size_t(boiler_)];
    least_ = *get<&Boiler::minimum_input>(piece) / *get<&Boiler::heating_input>(piece);
    double const usual = log.spacing();
    for (std::size_t i = 0; i < log.times.size(); ++i) {
      double const before = i == 0 ? usual : log.times[i] - log.times[i - 1],
                   after = i + 1 == log.times.size() ? usual : log.times[i + 1] - log.times[i];
      spans_.push_back({log.times[i] + lead - std::min(before, usual) / 2, log.times[i] + lead + std::min(after, usual) / 2});
    }
    shown_.columns.assign(probes_.size(), std::vector<double>(log.times.size()));
    weight_.resize(log.times.size());
    from_.resize(probes_.size()), to_.resize(probes_.size());
  }

  void stepped(double from, std::vector<double> const& before, State const& now) override {
    double const to = now.time;
    bool const burns = traits_[std::size_t(now.mode[boiler_])] & trait::burns;
    if (to <= lead_) return;
    if (burns) {
      double const in_log = std::min(to, lead_ + log_.length()) - std::max(from, lead_);
      shown_.time_firing += std::max(0.0, in_log);
      if (std::max(before[fire_], now.x[fire_]) < 1.02 * least_) shown_.time_at_minimum += std::max(0.0, in_log);
    }
    for (std::size_t k = 0; k < probes_.size(); ++k) from_[k] = read(probes_[k], before, burns), to_[k] = read(probes_[k], now.x, burns);
    while (first_ < spans_.size() && spans_[first_].to <= from) ++first_;
    for (std::size_t i = first_; i < spans_.size() && spans_[i].from < to; ++i) {
      double const left = std::max(from, spans_[i].from), right = std::min(to, spans_[i].to);
      if (right <= left) continue;
      double const a = (left - from) / (to - from), b = (right - from) / (to - from);
      weight_[i] += right - left;
      for (std::size_t k = 0; k < probes_.size(); ++k)
        if (probes_[k].what != What::starts) shown_.columns[k][i] += (right - left) * (from_[k] + (to_[k] - from_[k]) * (a + b) / 2);
    }
  }
  void tripped(std::vector<Trip> const& trips, State const& now) override {
    for (auto const& t : trips) {
      if (t.piece != boiler_ || !(traits_[std::size_t(t.to)] & trait::ignites) || now.time < lead_) continue;
      ++shown_.starts;
      auto const row = std::size_t(std::lower_bound(log_.times.begin(), log_.times.end(), now.time - lead_) - log_.times.begin());
      if (row == 0 || row == log_.times.size()) continue;
      for (std::size_t k = 0; k < probes_.size(); ++k)
        if (probes_[k].what == What::starts) shown_.columns[k][row] += 1 / (log_.times[row] - log_.times[row - 1]);
    }
  }

  Shown shown() && {
    for (std::size_t k = 0; k < probes_.size(); ++k)
      if (probes_[k].what != What::starts)
        for (std::size_t i = 0; auto& x : shown_.columns[k]) x = weight_[i] > 0 ? x / weight_[i] : std::nan(""), ++i;
    return std::move(shown_);
  }

private:
  struct Probe {
    What what;
    int place;
  };
  struct Span {
    double from, to;
  };

  static Probe probe(Plan const& plan, Installation const& in, What what, std::string const& zone) {
    auto const& run = plan.branches[std::size_t(plan.first_branch[in.boiler])];
    switch (what) {
      case What::supply:
        return {what, run.cells > 0 ? run.first_cell + run.cells - 1 : run.outlet};
      case What::return_water:
        return {what, plan.seat(in.boiler).inlet[0]};
      case What::outdoors:
        return {what, given::outdoors};
      case What::burner:
      case What::fire:
        return {what, plan.place(in.boiler, StateRole::fire)};
      case What::starts:
        return {what, 0};
      case What::room:
        break;
    }
    for (auto const& z : in.zones)
      if (z.name == zone && z.room >= 0) return {what, plan.own[z.room]};
    throw InternalError("a log of a room that the house lacks: " + zone);
  }
  static double read(Probe const& p, std::vector<double> const& x, bool burns) {
    if (p.what == What::burner) return burns ? 1 : 0;
    return p.what == What::fire && !burns ? 0 : x[std::size_t(p.place)];
  }

  HouseLog const& log_;
  double const lead_;
  int const boiler_;
  std::vector<Probe> probes_;
  std::vector<Traits> traits_;
  int fire_ = 0;
  double least_ = 0;
  std::vector<Span> spans_;
  std::size_t first_ = 0;
  Shown shown_;
  std::vector<double> weight_, from_, to_;
};

}  // namespace

Shown march_beside(HouseLog const& log, Project const& project, double lead, UnitSystem units, std::function<bool()> const& interrupted) {
  auto const options = options_of(project);
  Plan plan = lay_out(project.installation, options.start_water);
  std::unique_ptr<Forcing> outdoors;
  if (log.find(What::outdoors)) outdoors = std::make_unique<LoggedOutdoors>(log, lead);
  else outdoors = std::make_unique<RunWeather>(project);
  MarchOptions march_options;
  march_options.tolerance = options.tolerance;
  March march{plan, *outdoors, march_options};
  Sampler sampler{plan, project.installation, log, lead};
  march.watch(sampler);
  march.interrupted = interrupted;
  State& state = march.state();
  state.clock = options.clock;
  state.x[given::ground] = options.ground, state.x[given::unheated] = options.unheated;
  double const end = lead + log.length() + log.spacing() / 2;
  march.run(end);
  if (state.time < end) return {};
  return std::move(sampler).shown();
}

}  // namespace steadyfire
