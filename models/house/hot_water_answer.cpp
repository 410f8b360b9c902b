#include "models/house/hot_water_answer.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "models/hot_water/cold_main.hpp"
#include "models/hot_water/deliverable.hpp"
#include "models/hot_water/mixing_tap.hpp"
#include "models/hot_water/scald.hpp"
#include "models/house/hot_water_failures.hpp"
#include "models/house/hot_water_maker.hpp"
#include "models/house/hot_water_remedies.hpp"

namespace steadyfire {
namespace {

constexpr double year = 364 * 86400.;                                       // [s]
constexpr double brochure_rise = 70 * unit::degF_change.scale;              // of tankless heaters; common practice, no source

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

/// The flow that the burner makes at full rise, beside the one that brochures print.
Words by_rise(HotWaterBoiler const& b, double cold, double set_point, double input_left) {
  auto const& rating = b.boiler;
  bool const is_stated = !std::isnan(*rating.dhw_rated_flow);
  double const rise = is_stated ? *rating.dhw_rated_rise : brochure_rise, usual_cold = unit::degF.to_si(50);
  double const printed = flow_for(b.limits.heat, usual_cold, usual_cold + rise), here = flow_for(b.limits.heat, cold, set_point);
  auto const change = [](double kelvin) { return Amount{kelvin, measure::temperature_change}; };
  auto words = say("Unmixed at {}: {} belongs to a {} rise ({}); here the rise is {}: {}", temperature(set_point), flow(printed),
                   change(rise), is_stated ? input_left < 1 ? Words("the manual's, less the derate of the altitude") : Words(users_manual)
                             : say("as brochures print it, usual {} to {}; {}", Amount{brochure_rise, measure::temperature_change},
                                   Amount{unit::degF_change.to_si(77), measure::temperature_change}, common_practice),
                   change(set_point - cold), flow(here));
  auto const least = heat_at_hand(b.maker(), cold);
  if (least.bound == "flow limiter") words += say(", of which the flow limiter passes {}", flow(std::min(here, b.limits.limit)));
  if (least.bound == "plates") words += say(", of which the heat exchanger warms {}", flow(flow_for(least.most, cold, set_point)));
  return words + ".";
}

/// From which flow the burner runs without stopping, and below which it never starts.
Words by_small_flow(DeliverableRecord const& d, HotWaterControl const& control, double set_point, double wanted) {
  Measure constexpr fine{unit::gpm, unit::litre_per_second, 2, 3};
  std::vector<double> steady, again;
  for (auto const& row : d.rows) {
    if (std::abs(row.wanted - wanted) > 0.05 || row.cold >= wanted) continue;
    steady.push_back(row.least_steady);
    // Once hot, the hand leaves so much of the tap's flow to the flow switch.
    if (set_point > row.cold) again.push_back(*control.stop_flow / std::min(1.0, hot_share(row.cold, set_point, wanted)));
  }
  if (steady.empty() || again.empty()) return {};
  double const start = *control.start_flow, most_again = *std::max_element(again.begin(), again.end());
  double const low = std::max(start, steady.front());
  auto words = say("A tap below {} never starts the burner.", Amount{start, fine});
  if (most_again > 1.02 * start && most_again > steady.back())
    words += say(" Once hot, mixing with cold water leaves less for the flow switch: below {} of {} it stops again.",
                 Amount{most_again, fine}, temperature(wanted));
  if (std::max(steady.front(), steady.back()) <= start)
    return words + say(" From there on minimum fire ({}) runs without stopping.", Amount{d.least_output, measure::power});
  words += say(" Minimum fire gives {}: the burner runs steady from {} of {}", Amount{d.least_output, measure::power}, Amount{low, fine},
               temperature(wanted));
  if (steady.size() > 1)
    words += say(" with the coldest incoming water, from {} with the warmest", Amount{std::max(start, steady.back()), fine});
  return words + "; below that it cycles.";
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
  auto const plan = fill<HotWaterControl>(control->values);
  auto const all = seasons(project, *main);
  for (auto const& season : all) {
    auto const m = hot_water_boiler(in, h.set_point, h.plates_flow, season.cold);
    auto const maker = m.maker();
    double const larger = m.boiler.full * m.efficiency, heating = heating_at(in, season.outdoors);
    auto beside = maker;
    beside.heat = std::clamp(larger - heating, 0.0, maker.heat);
    for (double const t : wanted) {
      auto const alone = deliverable(maker, season.cold, t), less = deliverable(beside, season.cold, t);
      d.rows.push_back({season.name, season.cold, season.outdoors, heating, t, alone.flow, less.flow,
                        t > season.cold ? flow_for(m.least_heat, season.cold, t) : 0, std::string(alone.bound), std::string(less.bound)});
    }
    if (&season != &all.front()) continue;
    d.output = maker.heat, d.output_of_boiler = larger, d.efficiency = m.efficiency, d.least_output = m.least_heat;
    d.start_flow = *plan.start_flow;
    if (std::isfinite(maker.limit)) d.upper_flow = maker.limit;
    double constexpr step = 10 / 1.8;
    for (int i = 3; i <= 10; ++i) d.by_rise.emplace_back(i * step, flow_for(maker.heat, season.cold, season.cold + i * step));
    d.words = sentences(maker, season.cold, all.size() > 1, h.taps);
    if (!d.takes_turns)
      for (auto const& w : sentences(beside, season.cold, all.size() > 1, h.taps))
        d.words.push_back(say("With {} going into heating: {}", Amount{heating, measure::power}, w));
    d.words.push_back(by_rise(m, season.cold, h.set_point, project.input_left));
  }
  // A tank, or a loop that passes the flow switch, starts the burner by itself.
  if (auto words = by_small_flow(d, plan, h.set_point, wanted.front()); !words.empty() && !plan.recirculates)
    d.words.push_back(std::move(words));
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
  auto& h = *record.hot_water;
  h.deliverable = deliverable_of(project, h);
  auto const failed = failed_draws(project, record);
  h.failures = failed.failures;
  h.remedies = hot_water_remedies(project, record, failed);
  for (auto& f : hot_water_findings(project, record)) record.findings.push_back(std::move(f));
  std::stable_sort(record.findings.begin(), record.findings.end(), [](auto const& a, auto const& b) { return a.order > b.order; });
  for (auto& c : hot_water_cautions(*record.hot_water)) record.cautions.push_back(std::move(c));
}

}  // namespace steadyfire
