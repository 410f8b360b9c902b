#include "sim/core/count_up.hpp"
#include "models/house/hot_water_remedies.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/house/hot_water_amounts.hpp"
#include "models/house/section_of.hpp"
#include "models/hot_water/hot_water_sections.hpp"

namespace steadyfire {
namespace {

using R = HotWaterRemedy;

constexpr double modest_flow = 1.5 * unit::gpm.scale;  // of a low-flow shower head; common practice, no source
constexpr double usual_share = 0.85;                   // of a second heater's input into hot water; common practice, no source
constexpr double most_set_point = 333.15;              // [K] 140 °F: beyond it nobody sets a combi boiler
constexpr double least_gain = 1;                       // [K] at the tap that is worth telling
constexpr Measure volume_in_words{unit::gallon, unit::litre, 0, 0}, minutes_in_words{unit::minute, unit::minute, 0, 0};

/// To a number that somebody would set.
double rounded_up(double si, AnyUnit const& u, double step) { return u.to_si(count_up(u.from_si(si) / step) * step); }
double rounded_down(double si, AnyUnit const& u, double step) { return u.to_si(count_down(u.from_si(si) / step) * step); }

class Remedies {
 public:
  Remedies(Project const& project, Record const& record, FailedDraws const& failed)
      : in_{project.installation}, h_{*record.hot_water}, failed_{failed}, outdoors_{record.weather.min},
        input_left_{project.input_left} {}

  std::vector<R> all() {
    int const control = in_.part(Part::hot_water_control);
    if (control < 0 || in_.boiler < 0) return {};
    control_ = fill<HotWaterControl>(in_.pieces[std::size_t(control)].values);
    for (auto const& f : failed_.failures) {
      if (f.severity == Severity::note) continue;
      if (f.cause == DrawCause::start_flow) start(f);
      if (f.cause == DrawCause::set_point) hotter(f);
      if (f.cause == DrawCause::heating_turn) wait(f);
      if (f.cause == DrawCause::minimum_fire) lower_fire(f);
    }
    if (!failed_.worst.open.empty()) heat();
    std::stable_sort(list_.begin(), list_.end(), [](R const& a, R const& b) { return a.kind < b.kind; });
    return std::move(list_);
  }

 private:
  void start(DrawFailure const& f) {
    double const start = *control_.start_flow, opened = rounded_up(1.15 * start, unit::gpm, 0.1);
    auto const& tap = h_.taps[std::size_t(f.tap)].name;
    if (f.flow_wanted < opened)
      add({R::tap_flow, opened, f.tap, say("{} opened to {}", tap, dhw::flow(opened)),
           say("above the {} that starts the burner", dhw::fine_flow(start))});
    double const lower = rounded_down(0.8 * f.flow_wanted, unit::gpm, 0.05);
    if (lower > 0)
      add({R::start_flow, lower, -1, say("a boiler whose hot water starts at {}", dhw::fine_flow(lower)),
           say("below the {} drawn", dhw::fine_flow(f.flow_wanted))});
  }
  void hotter(DrawFailure const& f) {
    double const set = rounded_up(f.wanted + unit::degF_change.to_si(5), unit::degF, 5);
    if (set > unit::degF.to_si(180) || set <= h_.set_point) return;
    add({R::set_point, set, -1, say("a hot water setpoint of {}", dhw::temperature(set)),
         say("{} at the tap; other taps need scald protection", dhw::temperature(f.wanted))});
  }

  void wait(DrawFailure const& f) {
    double const longer = rounded_up(f.lasted + 600, unit::minute, 10);
    if (longer > *control_.longest_wait)
      add({R::longest_wait, longer, -1, say("a longest_wait of {}", Amount{longer, minutes_in_words}),
           say("rooms wait for {} of hot water", Amount{f.lasted, measure::minutes})});
  }

  void lower_fire(DrawFailure const& f) {
    auto const b = hot_water_boiler(in_, h_.set_point, h_.plates_flow, failed_.worst.open.empty() ? h_.cold_least : failed_.worst.cold);
    double const least = rounded_down(0.9 * f.heat_wanted / std::max(b.efficiency, 0.5) / input_left_, unit::kBtu_per_hour, 1);
    storage(unit::gallon.to_si(5), "takes what minimum fire gives beyond the draw");
    if (least > unit::kBtu_per_hour.to_si(1))
      add({R::minimum_input, least, -1, say("a minimum hot water input of {}", dhw::power(least)),
           say("below the {} that the draw needs", dhw::power(f.heat_wanted))});
  }

  /// Draws that need more heat than there is.
  void heat() {
    auto const& worst = failed_.worst;
    auto const b = hot_water_boiler(in_, h_.set_point, h_.plates_flow, worst.cold);
    auto maker = b.maker();
    double const set = maker.set_point;
    bool const shares = control_.operation == HotWaterControl::shared;
    double const burner = maker.heat;
    if (shares) maker.heat = std::clamp(b.efficiency * b.boiler.full - heating_at(in_, outdoors_), 0.0, maker.heat);
    auto const now = together(maker, worst.cold, worst.open);
    auto const limit = heat_at_hand(maker, worst.cold);
    bool const is_limited = limit.bound == "flow limiter";
    double const missing = worst.heat - limit.most;
    auto const effect = [&](Together const& then) -> Words {
      if (then.flow_share > now.flow_share + 0.02)
        return say("{} → {} of the flow", dhw::share(now.flow_share), dhw::share(then.flow_share));
      if (then.temperature > now.temperature + least_gain)
        return say("{} → {} at the tap", dhw::temperature(now.temperature), dhw::temperature(then.temperature));
      return {};
    };
    auto const with = [&](HotWaterMaker const& changed) { return effect(together(changed, worst.cold, worst.open)); };

    tap_flow(maker, now, effect);
    double const hot_needed = flow_for(worst.heat, worst.cold, set);
    if (is_limited && burner > limit.most * 1.02) {
      auto opened = maker;
      opened.limit = rounded_up(std::min(hot_needed * 1.03, flow_for(maker.heat, worst.cold, set)), unit::gpm, 0.1);
      add({R::flow_limit, opened.limit, -1, say("a flow limiter of {}", dhw::flow(opened.limit)), with(opened)});
    } else if (limit.bound == "burner" && hot_needed > 0) {
      double const held = rounded_down(flow_for(limit.most, worst.cold, set), unit::gpm, 0.1);
      double const hot_share = held / hot_needed;
      if (held > 0 && now.temperature < now_wanted() - least_gain)
        add({R::flow_limit, held, -1, say("a flow limiter of {}", dhw::flow(held)),
             say("{} → {} at the tap, at {} of the flow", dhw::temperature(now.temperature), dhw::temperature(now_wanted()),
                 dhw::share(hot_share))});
    }
    if (shares) {
      auto alone = maker;
      alone.heat = burner;
      add({R::priority, 0, -1, "hot water priority", with(alone)});
    }
    if (is_limited || limit.bound == "plates") set_points(maker, with, is_limited);
    double lasted = 0;
    for (auto const& f : failed_.failures)
      if (f.heat_wanted > 0) lasted = std::max(lasted, f.lasted);
    storage(1.15 * hot_needed * lasted, say("holds what these draws need in {}", Amount{lasted, measure::minutes}));
    if (is_limited) return;
    double const second = rounded_up(missing * 1.1 / usual_share, unit::kBtu_per_hour, 10);
    add({R::second_heater, second, -1, say("a second heater of {}", dhw::power(second)), say("gives the {} short", dhw::power(missing))});
    if (limit.bound != "burner") return;
    auto larger = maker;
    double const input = rounded_up((worst.heat + (shares ? burner - maker.heat : 0)) * 1.03 / b.efficiency, unit::kBtu_per_hour, 5);
    larger.heat = worst.heat;
    double const rated = rounded_up(input / input_left_, unit::kBtu_per_hour, 5);
    add({R::input, rated, -1, say("a boiler with a hot water input of {}", dhw::power(rated)), with(larger)});
  }

  double now_wanted() const {
    double flow = 0, sum = 0;
    for (auto const& t : failed_.worst.open) flow += t.flow, sum += t.flow * t.temperature;
    return sum / flow;
  }

  template <class Effect>
  void tap_flow(HotWaterMaker const& maker, Together const&, Effect const& effect) {
    auto open = failed_.worst.open;
    bool is_less = false;
    for (auto& t : open)
      if (t.flow > 1.05 * modest_flow) t.flow = modest_flow, is_less = true;
    if (is_less)
      add({R::tap_flow, modest_flow, -1, say("shower heads and taps of {}", dhw::flow(modest_flow)),
           effect(together(maker, failed_.worst.cold, open))});
  }

  /// Hotter water behind a limiter carries more heat; plates pass more into cooler water.
  template <class With>
  void set_points(HotWaterMaker const& maker, With const& with, bool up) {
    auto changed = maker;
    double hottest = 0;
    for (auto const& t : failed_.worst.open) hottest = std::max(hottest, t.temperature);
    double const carries = heated_to(maker.limit, failed_.worst.cold, failed_.worst.heat);
    changed.set_point = up ? std::min(most_set_point, rounded_up(carries, unit::degF, 5))
                           : rounded_up(hottest + unit::degF_change.to_si(4), unit::degF, 5);
    if (up ? changed.set_point > maker.set_point : changed.set_point < maker.set_point)
      add({R::set_point, changed.set_point, -1,
           say(up ? "a hot water setpoint of {} with a thermostatic mixing valve" : "a hot water setpoint of {}",
               dhw::temperature(changed.set_point)),
           with(changed)});
  }

  /// In the hot line water that the burner left cool pushes out the store's: it helps for as long as it holds.
  void storage(double volume, Words effect) {
    double const most = unit::gallon.to_si(120), size = rounded_up(volume, unit::gallon, 5);
    if (in_.part(Part::storage) < 0 && size > 0 && size <= most)
      add({R::storage, size, -1, say("a {} storage tank in the hot water line", Amount{size, volume_in_words}), std::move(effect)});
  }

  void add(R remedy) {
    if (remedy.effect.empty()) return;
    auto const same = [&](R const& r) { return r.kind == remedy.kind && r.tap == remedy.tap; };
    if (std::none_of(list_.begin(), list_.end(), same)) list_.push_back(std::move(remedy));
  }

  Installation const& in_;
  HotWaterRecord const& h_;
  FailedDraws const& failed_;
  double const outdoors_, input_left_;
  HotWaterControl control_;
  std::vector<R> list_;
};

}  // namespace

std::vector<HotWaterRemedy> hot_water_remedies(Project const& project, Record const& record, FailedDraws const& failed) {
  return Remedies{project, record, failed}.all();
}

bool helps(HotWaterRemedy const& r, DrawFailure const& f) {
  bool const is_heat = f.cause == DrawCause::burner || f.cause == DrawCause::plates || f.cause == DrawCause::flow_limiter ||
                       f.cause == DrawCause::heating;
  switch (r.kind) {
    case R::tap_flow:
      return r.tap < 0 ? is_heat : f.cause == DrawCause::start_flow && r.tap == f.tap;
    case R::start_flow:
      return f.cause == DrawCause::start_flow;
    case R::set_point:
      return f.cause == DrawCause::set_point || is_heat;
    case R::flow_limit:
    case R::second_heater:
    case R::input:
      return is_heat;
    case R::priority:
      return f.cause == DrawCause::heating;
    case R::longest_wait:
      return f.cause == DrawCause::heating_turn;
    case R::storage:
      return is_heat || f.cause == DrawCause::minimum_fire;
    case R::minimum_input:
      return f.cause == DrawCause::minimum_fire;
  }
  return false;
}

std::vector<Edit> edits_of(HotWaterRemedy const& r, Document const& document) {
  auto const set = [](std::string table, std::vector<std::string> path, std::string value, int index = 0) {
    return Edit{Edit::Do::set, ValuePlace{std::move(table), index, std::move(path)}, std::move(value)};
  };
  auto const words = [](double si, AnyUnit const& u) { return with_unit(fmt::format("{:.6g}", u.from_si(si)), u); };
  auto const hot = [&](std::string key, std::string value) { return set("hot_water", {std::move(key)}, std::move(value)); };
  std::vector<Edit> edits;
  switch (r.kind) {
    case R::tap_flow: {
      int at = 0;
      for (auto const& t : document.tables) {
        if (t.kind->name != TapSection::kind) continue;
        bool const is_meant = r.tap < 0 ? *get<&TapSection::flow>(t) > 1.05 * r.value : at == r.tap;
        if (is_meant) edits.push_back(set("tap", {"flow"}, words(r.value, unit::gpm), at));
        ++at;
      }
      return edits;
    }
    case R::start_flow:
      return {hot("start_flow", words(r.value, unit::gpm)), hot("stop_flow", words(0.8 * r.value, unit::gpm))};
    case R::set_point:
      return {hot("set_point", words(r.value, unit::degF))};
    case R::flow_limit:
      return {hot("flow_limit", words(r.value, unit::gpm))};
    case R::priority: {
      auto const* stated = document.find("hot water");
      edits.push_back(hot("operation", "priority"));
      if (stated && value_of<&HotWaterSection::valve>(*stated).given) edits.push_back(hot("valve", "diverting"));
      return edits;
    }
    case R::longest_wait:
      return {hot("longest_wait", words(r.value, unit::minute))};
    case R::storage:
      return {set("hot_water", {"storage", "volume"}, words(r.value, unit::gallon))};
    case R::second_heater:
      return {set("hot_water", {"second_heater", "input"}, words(r.value, unit::kBtu_per_hour)),
              set("hot_water", {"second_heater", "minimum_input"}, words(r.value / 10, unit::kBtu_per_hour))};
    case R::input: {
      auto const* boiler = document.find("boiler");
      if (!boiler) return {};
      edits.push_back(set("boiler", {"dhw_input"}, words(r.value, unit::kBtu_per_hour)));
      if (Entry rated = *boiler; value_of<&BoilerData::dhw_rated_flow>(rated).given) {
        rate_by_share(rated);
        edits.push_back(set("boiler", {"dhw_rated_flow"}, ""));
        edits.push_back(set("boiler", {"dhw_rated_rise"}, ""));
        edits.push_back(set("boiler", {"dhw_efficiency"}, fmt::format("{:.6g}%", 100 * *get<&BoilerData::dhw_efficiency>(rated))));
      }
      return edits;
    }
    case R::minimum_input:
      return {set("boiler", {"dhw_minimum_input"}, words(r.value, unit::kBtu_per_hour))};
  }
  return edits;
}

}  // namespace steadyfire
