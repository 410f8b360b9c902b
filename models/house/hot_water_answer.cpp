#include "models/house/hot_water_answer.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "models/flow_limiter.hpp"
#include "models/hot_water/cold_main.hpp"
#include "models/hot_water/deliverable.hpp"
#include "models/hot_water/mixing_tap.hpp"
#include "models/hot_water/scald.hpp"
#include "models/house/boiler_of.hpp"
#include "models/mixing/thermostatic_mixing_valve.hpp"
#include "models/plate_exchanger.hpp"

namespace steadyfire {
namespace {

constexpr double year = 364 * 86400., below_limit = 9;  // [s], [K]

Piece const* piece_of(Installation const& in, Part part) {
  int const at = in.part(part);
  return at < 0 ? nullptr : &in.pieces[std::size_t(at)];
}

struct Season {
  std::string name;
  double cold, outdoors;
};

std::vector<Season> seasons(Project const& project, Piece const& main) {
  auto const& in = project.installation;
  double const mean = *get<&ColdMain::mean>(main), swing = *get<&ColdMain::swing>(main);
  if (swing == 0) return {{"", mean, in.outdoor_design}};
  auto const& air = project.weather.dry_bulb;
  double sum = 0, warmest = 0;
  for (double const t : air) sum += t / double(air.size());
  if (double(air.size()) * project.weather.step >= year) {
    for (std::size_t month = 0; month < 12; ++month) {
      auto const from = month * air.size() / 12, to = (month + 1) * air.size() / 12;
      double of_month = 0;
      for (auto i = from; i < to; ++i) of_month += air[i] / double(to - from);
      warmest = std::max(warmest, of_month);
    }
  } else {
    for (auto const& z : in.zones) warmest = std::max(warmest, z.design_room);  // no heating
  }
  return {{"coldest incoming water", mean - swing, in.outdoor_design},
          {"average incoming water", mean, sum},
          {"warmest incoming water", mean + swing, warmest}};
}

double heating_at(Installation const& in, double outdoors) {
  double sum = 0;
  for (auto const& z : in.zones) {
    double const span = z.design_room - in.outdoor_design;
    if (span > 0) sum += z.design_load * std::max(0.0, (z.design_room - outdoors) / span);
  }
  return sum;
}

/// Boiler water in the plates while they take a heat [W]: the return's temperature, at most what the hottest water gives.
double return_temperature(PlatesAtHand plates, double cold, double set_point, double heat) {
  double const flow = flow_for(heat, cold, set_point), per_kelvin = heat_of_plates(plates, flow, cold) / (plates.hottest - cold),
               W = plates.boiler_flow * plates.boiler_water.density * plates.boiler_water.heat_capacity;
  double const supply = per_kelvin > 0 ? std::min(plates.hottest, cold + heat / per_kelvin) : plates.hottest;
  return std::max(cold, supply - heat / W);
}

struct Maker {
  Boiler boiler;
  std::optional<PlatesAtHand> plates;
  HotWaterMaker limits;
  double efficiency = 0;
};

Maker maker_of(Installation const& in, HotWaterRecord const& h, double cold) {
  Maker m;
  m.boiler = boiler_of(in);
  m.limits.set_point = h.set_point;
  if (auto const* mixing = piece_of(in, Part::hot_water_mixing))
    m.limits.set_point = std::min(h.set_point, *get<&ThermostaticMixingValve::setting>(*mixing));
  if (auto const* limiter = piece_of(in, Part::hot_water_limiter)) m.limits.limit = *get<&FlowLimiter::flow>(*limiter);
  double const hottest = *m.boiler.high_limit - below_limit;
  if (auto const* p = piece_of(in, Part::plates)) {
    auto const plates = fill<PlateExchanger>(p->values);
    m.plates = PlatesAtHand{plates, h.plates_flow > 0 ? h.plates_flow : *plates.rated_flow, hottest, in.fluid->at(in.fluid_temperature)};
  }
  double const input = std::isnan(*m.boiler.dhw_input) ? *m.boiler.heating_input : *m.boiler.dhw_input;
  m.efficiency = 0.9;
  for (int i = 0; i < 5; ++i) {  // the return hangs a little on the efficiency
    double const back = m.plates ? return_temperature(*m.plates, cold, h.set_point, m.efficiency * input) : cold;
    m.efficiency = m.boiler.chemistry.efficiency(back + *m.boiler.approach_full);
  }
  m.limits.heat = m.efficiency * input;
  return m;
}

std::string ordinal(std::size_t n) {
  static std::vector<std::string> const words{"", "a first", "a second", "a third", "a fourth", "a fifth", "a sixth"};
  return n < words.size() ? words[n] : "one more";
}

Amount temperature(double kelvin) { return {kelvin, measure::temperature}; }
Amount flow(double of) { return {of, measure::flow}; }

Words outcome(Together const& t) {
  if (t.flow_share < 1) return say("{} of the flow, by the flow limiter", Amount{t.flow_share, measure::share});
  return say("{} at the tap", temperature(t.temperature));
}

std::vector<Words> sentences(HotWaterMaker const& maker, double cold, bool is_seasonal, std::vector<TapRecord> const& taps) {
  std::vector<TapRecord> asked;
  for (auto const& t : taps)
    if (t.flow_wanted > 0) asked.push_back(t);
  if (asked.empty()) return {};
  auto const wish = [&](TapRecord const& t) { return TapWish{t.flow_wanted, std::min(t.wanted, maker.set_point)}; };
  auto const heat = [&](TapRecord const& t) { return heat_for(t.flow_wanted, cold, std::max(cold, wish(t).temperature)); };
  std::stable_sort(asked.begin(), asked.end(), [&](auto const& a, auto const& b) { return heat(a) > heat(b); });
  auto const incoming = say("With {}incoming water at {}", is_seasonal ? "the coldest " : "", temperature(cold));
  std::vector<Words> words;

  auto const& most = asked[0];
  std::size_t constexpr enough = 6;
  std::vector<TapWish> alike;
  while (alike.size() < enough && together(maker, cold,
                                           [&] {
                                             auto more = alike;
                                             more.push_back(wish(most));
                                             return more;
                                           }())
                                      .fits)
    alike.push_back(wish(most));
  auto const of = say("{} of {}", flow(most.flow_wanted), temperature(wish(most).temperature));
  alike.push_back(wish(most));
  auto const one_more = together(maker, cold, alike);
  std::size_t const fit = alike.size() - 1;
  if (fit == 0) words.push_back(say("{}, the {} alone ({}) is too much: {}.", incoming, most.name, of, outcome(one_more)));
  else if (fit == 1)
    words.push_back(say("{}, one tap like the {} ({}) runs; a second makes it {}.", incoming, most.name, of, outcome(one_more)));
  else if (fit >= enough) words.push_back(say("{}, {} taps like the {} ({}) run at once.", incoming, fit, most.name, of));
  else
    words.push_back(say("{}, {} taps like the {} ({}) run at once; {} makes it {}.", incoming, fit, most.name, of, ordinal(fit + 1),
                        outcome(one_more)));
  if (asked.size() < 2) return words;

  std::vector<Words> names;
  std::vector<TapWish> open;
  for (auto const& t : asked) {
    open.push_back(wish(t));
    auto const now = together(maker, cold, open);
    if (!now.fits) {
      if (!names.empty())
        words.push_back(say("The {} {}; with the {} as well: {}.", listed(names), names.size() == 1 ? "runs alone" : "run together", t.name,
                            outcome(now)));
      return words;
    }
    names.push_back(t.name);
  }
  words.push_back(say("All taps run at once: {}.", listed(names)));
  return words;
}

}  // namespace

DeliverableRecord deliverable_of(Project const& project, HotWaterRecord const& h) {
  auto const& in = project.installation;
  auto const* main = piece_of(in, Part::cold_main);
  auto const* control = piece_of(in, Part::hot_water_control);
  DeliverableRecord d;
  if (!main || !control || in.boiler < 0) return d;
  d.takes_turns = get<&HotWaterControl::operation>(*control) == HotWaterControl::priority;
  std::vector<double> wanted;
  for (auto const& p : in.pieces)
    if (p.kind->role == Role::tap)
      for (double const t : value_of<&MixingTap::temperatures>(p).numbers) wanted.push_back(t);
  if (wanted.empty()) wanted = {unit::degF.to_si(105)};
  std::sort(wanted.begin(), wanted.end());
  wanted.erase(std::unique(wanted.begin(), wanted.end(), [](double a, double b) { return b - a < 0.05; }), wanted.end());
  auto const all = seasons(project, *main);
  for (auto const& season : all) {
    auto m = maker_of(in, h, season.cold);
    if (m.plates) m.limits.plates = &*m.plates;
    double const larger = std::max(*m.boiler.heating_input, std::isnan(*m.boiler.dhw_input) ? 0 : *m.boiler.dhw_input) * m.efficiency;
    double const heating = heating_at(in, season.outdoors);
    auto beside = m.limits;
    beside.heat = std::clamp(larger - heating, 0.0, m.limits.heat);
    for (double const t : wanted) {
      auto const alone = deliverable(m.limits, season.cold, t), less = deliverable(beside, season.cold, t);
      d.rows.push_back({season.name, season.cold, season.outdoors, heating, t, alone.flow, less.flow, std::string(alone.bound),
                        std::string(less.bound)});
    }
    if (&season != &all.front()) continue;
    d.output = m.limits.heat, d.output_of_boiler = larger, d.efficiency = m.efficiency;
    double constexpr step = 10 / 1.8;
    for (int i = 3; i <= 10; ++i) d.by_rise.emplace_back(i * step, flow_for(m.limits.heat, season.cold, season.cold + i * step));
    d.words = sentences(m.limits, season.cold, all.size() > 1, h.taps);
    if (!d.takes_turns)
      for (auto const& w : sentences(beside, season.cold, all.size() > 1, h.taps))
        d.words.push_back(say("With {} going into heating: {}", Amount{heating, measure::power}, w));
  }
  return d;
}

std::vector<Words> hot_water_cautions(HotWaterRecord const& h) {
  auto const time = [](double s) { return s >= 60 ? Amount{s, measure::minutes} : Amount{s, measure::seconds}; };
  std::vector<Words> times;
  for (auto const& s : scald_times) times.push_back(say("{} at {}", time(s.second_degree), temperature(s.temperature)));
  std::vector<Words> all;
  if (h.hottest_at_taps > 0) {
    double const until = time_to_scald(h.hottest_at_taps);
    all.push_back(
        say("Scald: hot water reached a tap at {}. {} Set the mixing valve as the local code requires. Second-degree burns take {} "
            "(Moritz and Henriques 1947; printed tables differ by a factor of 2).",
            temperature(h.hottest_at_taps),
            std::isinf(until) ? Words("That is below the published table.") : say("It burns skin in about {}.", time(until)),
            listed(times, ", ")));
  }
  double constexpr store = 333.15, back = 324.15, cold = 293.15;  // ASHRAE Guideline 12
  all.push_back(say("Legionella: ASHRAE Guideline 12 asks for storage at {} or more, returns at {} or more and cold water below {}. Here "
                    "water is made at {} as it is drawn, and what is left in the pipes cools between draws{}.",
                    temperature(store), temperature(back), temperature(cold), temperature(h.set_point),
                    h.cold_most >= cold ? say("; the incoming water reached {}", temperature(h.cold_most)) : Words()));
  return all;
}

void answer_hot_water(Record& record, Project const& project) {
  if (!record.hot_water) return;
  record.hot_water->deliverable = deliverable_of(project, *record.hot_water);
  for (auto& c : hot_water_cautions(*record.hot_water)) record.cautions.push_back(std::move(c));
}

}  // namespace steadyfire
