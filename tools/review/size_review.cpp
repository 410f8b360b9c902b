#include "tools/review/size_review.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "models/house/boiler_of.hpp"
#include "models/house/section_of.hpp"
#include "sim/record/hot_water_words.hpp"
#include "tools/review/size_sections.hpp"

namespace steadyfire {

double highest_minimum_fire(double load, double heat_capacity, double differential, double wanted_burn) {
  return load + heat_capacity * differential / wanted_burn;
}

double burn_length(double fire, double load, double heat_capacity, double differential) {
  return fire <= load ? std::numeric_limits<double>::infinity() : heat_capacity * differential / (fire - load);
}

namespace {

/// A size that was run, with its place in the table.
struct Case {
  std::string name;
  double heating_input, minimum_input, price;  // [W], [W], money or NaN
  Record run;
  double output = 0;  // [W] into the water, at full fire on the design day
};

/// Efficiency of the boiler at full fire with the return that the design supply leaves, HHV.
double design_efficiency(Job const& job, Boiler const& boiler) {
  double flow = 0, load = 0;
  for (auto const& z : job.project.installation.zones) flow += z.wanted_flow, load += z.design_load;
  auto const water = job.flows.fluid;
  double const drop = flow > 0 ? load / (flow * water.density * water.heat_capacity) : 0;
  return boiler.efficiency(1.0, job.project.installation.design_supply - drop);
}

Words minutes(double seconds) {
  return std::isinf(seconds) ? Words("as long as it calls") : Words(Amount{seconds, measure::minutes});
}

class Sizes {
 public:
  explicit Sizes(Job const& job)
      : job_{job}, size_{section_of<SizeSection>(job.document, job.catalog)},
        boiler_{boiler_of(job.project.installation)} {
    part_.id = "size", part_.title = "Boiler size";
  }

  ReviewPart review() {
    double const efficiency = design_efficiency(job_, boiler_);
    add({"as stated", *boiler_.heating_input, *boiler_.minimum_input, Field::none, job_.run}, efficiency);
    for (auto const& t : job_.document.tables)
      if (t.kind->name == CandidateSection::kind) run(t, efficiency);
    against_load();
    against_smallest_zone();
    table();
    if (cases_.size() > 1) choose();
    else part_.missing.push_back("[[candidate]]: no other boiler size was run");
    part_.not_covered = {"loads that change later: rooms added, windows replaced",
                         "whether the design loads are right: they are taken as stated, or as listed among the assumptions"};
    return std::move(part_);
  }

 private:

  void add(Case c, double efficiency) {
    c.output = c.heating_input * efficiency;
    if (job_.project.installation.lag_boiler >= 0) c.output += c.run.why.output_most - c.run.burner.input_most * efficiency_of(c.run);
    cases_.push_back(std::move(c));
  }
  static double efficiency_of(Record const& r) {
    return r.burner.input_least > 0 ? r.burner.output_least / r.burner.input_least : 0;
  }

  void run(Entry const& table, double efficiency) {
    auto const c = fill<CandidateSection>(table.values);
    Document changed = job_.document;
    auto& boiler = *std::find_if(changed.tables.begin(), changed.tables.end(), [](auto const& t) { return t.kind->name == Boiler::kind; });
    auto const set = [](Value& v, double si) {
      if (is_stated(si)) v.given = true, v.unknown = false, v.numbers = {si};
    };
    set(value_of<&Boiler::heating_input>(boiler), *c.heating_input);
    set(value_of<&Boiler::minimum_input>(boiler), *c.minimum_input);
    rate_by_share(boiler);  // before the input that it belongs to changes
    set(value_of<&Boiler::dhw_input>(boiler), *c.dhw_input);
    set(value_of<&Boiler::dhw_minimum>(boiler), *c.dhw_minimum_input);
    set(value_of<&Boiler::dhw_efficiency>(boiler), *c.dhw_efficiency);
    double const left = left_at_altitude();
    add({table.name, left * *c.heating_input, left * *c.minimum_input, c.price, job_.run_with(changed)}, efficiency);
  }
  /// Of the rated inputs, for every size alike.
  double left_at_altitude() const { return job_.project.input_left; }

  void against_load() {
    auto const& stated = cases_.front();
    double const load = stated.run.why.design_load;
    Figure const output{"output", stated.output, measure::power};
    Judgement const too_small{"size.too_small", "boiler", "output on the design day", output, {"design load", load, measure::power},
                              Judgement::at_least, "your design load", "Check the load first. Then choose a larger boiler.",
                              Severity::serious, 80};
    if (double const most = load_at_most(load); too_small.holds() && stated.output < most)
      part_.find({"assumed.decides", "boiler", Severity::minor, {output}, too_small.limit, "estimated design load",
                  say("{}: ok only if the design load is {} or less (estimated {}, up to {})", too_small.told(),
                      Amount{stated.output, measure::power}, Amount{load, measure::power}, Amount{most, measure::power}),
                  80},
                 "Calculate the heat loss room by room, and put design_load in each [[zone]].");
    else part_.judge(too_small);
    if (left_at_altitude() < 1)
      part_.sentences.push_back(say("All inputs here are derated for altitude: {} of the rating is left.",
                                    Amount{left_at_altitude(), measure::fine_share}));
    part_.judge({.id = "size.too_big",
                 .place = "boiler",
                 .subject = "output on the design day",
                 .actual = output,
                 .limit = {"most_of_load", *size_.most_of_load * load, measure::power},
                 .whose = say("{} of design load; {}", Amount{*size_.most_of_load, measure::share},
                              is_own_share() ? "most_of_load in [size]" : "ANSI/ACCA 3, edition not checked"),
                 .fix = "Choose a smaller boiler if its minimum fire is lower too, or limit the heating input by its setting.",
                 .severity = Severity::note,
                 .order = 12,
                 .is_guideline = true});
  }

  /// With every load that nobody stated at the upper end of its estimate.
  double load_at_most(double load) const {
    for (auto const& a : job_.project.installation.assumptions)
      if (a.key == "design_load" && job_.project.installation.zone(a.place)) load += a.most - a.value;
    return load;
  }

  bool is_own_share() const {
    auto const* stated = job_.document.find(SizeSection::kind);
    return stated && value_of<&SizeSection::most_of_load>(*stated).given;
  }

  void against_smallest_zone() {
    auto const& why = cases_.front().run.why;
    if (why.smallest_zone.empty() || !(why.heat_capacity > 0) || !(why.output_least > 0)) {
      part_.missing.push_back("minimum fire against the smallest zone: the burner never fired in the run");
      return;
    }
    double const most = highest_minimum_fire(why.smallest_load, why.heat_capacity, why.differential, *size_.wanted_burn);
    double const efficiency = efficiency_of(cases_.front().run);
    part_.judge({"size.minimum_fire",
                 why.smallest_zone,
                 "minimum fire input",
                 {"minimum_input", cases_.front().minimum_input, measure::power},
                 {"most", most / efficiency, measure::power},
                 Judgement::at_most,
                 say("for a {} burn with this zone alone; {}", Amount{*size_.wanted_burn, measure::minutes}, common_practice),
                 say("Choose a lower minimum fire, a wider differential, join the zone to another, or add {} of water (buffer tank).",
                     Amount{water_wanted(why), measure::volume}),
                 Severity::serious,
                 65});
    auto const turndown = [&](double least) { return fmt::format("{:.1f}:1", cases_.front().heating_input / least); };
    part_.sentences.push_back(
        say("For a {} burn with the {} zone alone, minimum fire may be {} input at most: a turndown of {}. This boiler has {}.",
            Amount{*size_.wanted_burn, measure::minutes}, why.smallest_zone, Amount{most / efficiency, measure::power},
            turndown(most / efficiency), turndown(cases_.front().minimum_input)));
    part_.sentences.push_back(say("The {} zone takes {} with the water of this run. {} of water with its metal hold {}.", why.smallest_zone,
                                  Amount{why.smallest_load, measure::power}, Amount{why.water, measure::volume},
                                  Amount{why.heat_capacity, measure::heat_capacity}));
  }
  /// So much more water would let the burner it has burn as long as wanted [m³].
  double water_wanted(ReasonFigures const& why) const {
    double const wanted = (why.output_least - why.smallest_load) * *size_.wanted_burn / why.differential;
    return std::max(0.0, wanted - why.heat_capacity) / (job_.flows.fluid.density * job_.flows.fluid.heat_capacity);
  }

  void table() {
    ReviewTable t{"sizes", "Each boiler size, run in this house",
                  {"size", "heating input", "minimum input", "output on the design day", "starts", "worst hour", "shortest burn",
                   "median burn", "smallest zone's burn", "coldest room", "fuel", "price"},
                  {}};
    bool const has_taps = cases_.front().run.hot_water.has_value();
    if (has_taps) t.columns.insert(t.columns.end(), {"draws OK", "hot water short", "draws that fail"});
    for (auto const& c : cases_) {
      auto const& b = c.run.burner;
      double coldest = Field::none;
      for (auto const& z : c.run.zones) coldest = std::fmin(coldest, z.room_min);
      auto const small = minutes(burn_of(c));
      t.rows.push_back({c.name, {c.heating_input, measure::power}, {c.minimum_input, measure::power}, {c.output, measure::power},
                        {double(b.starts), measure::count}, {double(b.starts_per_hour_worst), measure::count},
                        {b.burns.empty() ? Field::none : b.burn_shortest, measure::minutes},
                        {b.burns.empty() ? Field::none : b.burn_median, measure::minutes}, small, {coldest, measure::fine_temperature},
                        {c.run.energy.fuel, measure::fuel}, {c.price, measure::plain}});
      if (!has_taps || !c.run.hot_water) continue;
      auto const& all = c.run.hot_water->all;
      t.rows.back().push_back(say("{} of {}", all.on_target, all.draws));
      t.rows.back().push_back({all.energy_short, measure::energy});
      t.rows.back().push_back({double(c.run.hot_water->failed()), measure::count});
    }
    part_.tables.push_back(std::move(t));
  }
  /// At its lowest, with the smallest zone alone: what that zone takes and what stores heat are those of the house as stated.
  double burn_of(Case const& c) const {
    auto const& why = cases_.front().run.why;
    return burn_length(c.minimum_input * efficiency_of(cases_.front().run), why.smallest_load, why.heat_capacity, why.differential);
  }

  void choose() {
    double const load = cases_.front().run.why.design_load;
    std::vector<Case const*> able;
    std::vector<Words> weak;
    for (auto const& c : cases_) {
      if (c.output >= load) able.push_back(&c);
      else weak.push_back("'" + c.name + "'");
    }
    if (able.empty()) {
      part_.sentences.insert(part_.sentences.begin(), say("No size carries the design load of {}.", Amount{load, measure::power}));
      return;
    }
    // of these only what serves the taps: a house is sized by heat and hot water
    auto const fails = [](Case const* c) { return c->run.hot_water && c->run.hot_water->failed() > 0; };
    if (std::all_of(able.begin(), able.end(), fails)) {
      std::vector<Words> each;
      for (auto const* c : able) each.push_back(say("'{}': {}", c->name, failed_words(*c->run.hot_water)));
      part_.sentences.insert(part_.sentences.begin(),
                             say("No size serves all draws. {}. See hot water for what would help.", listed(each, "; ")));
      return;
    }
    std::vector<Words> fall_short;
    for (auto const* c : able)
      if (fails(c)) fall_short.push_back(say("'{}' ({} of {} draws)", c->name, c->run.hot_water->failed(), c->run.hot_water->all.draws));
    std::erase_if(able, fails);
    // fewest starts within 5 %, as days of short cycling are known no better than 2 %; then the price, then the smaller rating
    long fewest = able.front()->run.burner.starts;
    for (auto const* c : able) fewest = std::min(fewest, c->run.burner.starts);
    std::vector<Case const*> best;
    for (auto const* c : able)
      if (double(c->run.burner.starts) <= 1.05 * double(fewest) + 0.5) best.push_back(c);
    bool const priced = std::all_of(best.begin(), best.end(), [](auto const* c) { return !std::isnan(c->price); });
    auto const* take = *std::min_element(best.begin(), best.end(), [&](auto const* a, auto const* b) {
      return priced && a->price != b->price ? a->price < b->price : a->heating_input < b->heating_input;
    });
    auto words = say("Choose '{}': output {} on the design day, design load {}; {} starts.", take->name,
                     Amount{take->output, measure::power}, Amount{load, measure::power}, take->run.burner.starts);
    if (able.size() > 1)
      words += say(" Others that carry the load: {} starts.", fmt::format("{}", fmt::join(other_starts(able, take), ", ")));
    if (!weak.empty()) words += say(" Too small: {}.", listed(weak, ", "));
    if (!fall_short.empty()) words += say(" Too little hot water: {}.", listed(fall_short, ", "));
    part_.sentences.insert(part_.sentences.begin(), words);
    equal_minimums();
  }
  static std::vector<long> other_starts(std::vector<Case const*> const& able, Case const* but) {
    std::vector<long> list;
    for (auto const* c : able)
      if (c != but) list.push_back(c->run.burner.starts);
    return list;
  }
  /// A smaller rating with the same minimum fire does nothing for the smallest zone.
  void equal_minimums() {
    for (std::size_t i = 0; i < cases_.size(); ++i) {
      std::vector<Words> same;
      bool is_first = true;
      for (std::size_t j = 0; j < cases_.size(); ++j) {
        if (std::abs(cases_[j].minimum_input - cases_[i].minimum_input) > 1e-3 * cases_[i].minimum_input) continue;
        is_first &= j >= i;
        if (cases_[j].heating_input != cases_[i].heating_input || i == j) same.push_back("'" + cases_[j].name + "'");
      }
      if (!is_first || same.size() < 2) continue;
      part_.sentences.push_back(
          say("{} have the same minimum fire ({}). The smaller rating does not make the {} zone's burn longer: {} with each.", listed(same),
              Amount{cases_[i].minimum_input, measure::power}, cases_.front().run.why.smallest_zone, minutes(burn_of(cases_[i]))));
    }
  }

  Job const& job_;
  SizeSection const size_;
  Boiler boiler_;
  ReviewPart part_;
  std::vector<Case> cases_;
};

}  // namespace

ReviewPart review_size(Job const& job) { return Sizes{job}.review(); }

}  // namespace steadyfire
