#include "tools/review/gas_review.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "models/boiler.hpp"
#include "models/gas/gas_line.hpp"
#include "models/gas/gas_tables.hpp"
#include "models/house/section_of.hpp"

namespace steadyfire {
namespace {

constexpr char const* code = "NFPA 54 and IFGC 402.4, 2018, longest-length method; the local code decides";

/// What gas and drop may be where nobody stated them. Common practice, no published source.
struct UsualGas {
  double heat_least, heat_most, gravity_least, gravity_most, drop_least, drop_most;  ///< [J/m³], air = 1, [Pa]
};
UsualGas usual_gas(bool is_propane) {
  auto const heat = [](double v) { return unit::Btu_per_cubic_foot.to_si(v); };
  auto const drop = [](double v) { return unit::inch_water.to_si(v); };
  return is_propane ? UsualGas{heat(2450), heat(2550), 1.50, 1.55, drop(0.3), drop(0.5)}
                    : UsualGas{heat(950), heat(1100), 0.55, 0.70, drop(0.3), drop(0.5)};
}

class GasReview {
 public:
  explicit GasReview(Job const& job)
      : job_{job}, section_{section_of<GasSection>(job.document, job.catalog)}, stated_{job.document.find(GasSection::kind)} {}

  ReviewPart part() {
    part_.id = "gas", part_.title = "Gas piping";
    if (!solve()) {
      part_.missing.push_back("no [[gas_pipe]]: the gas line was not checked");
      say_what_is_left();
      return std::move(part_);
    }
    for (int i = 0; i < int(line_.pipes.size()); ++i) judge_pipe(i);
    for (int b = 0; b < int(line_.burners.size()); ++b) judge_burner(b);
    judge_supply();
    tables();
    say_what_is_left();
    return std::move(part_);
  }

  /// Inlet pressure at the boiler while it alone fires at an input [Pa]; NaN where the file does not tell.
  double left_at_boiler(double input) {
    if (!solve()) return Field::none;
    for (int b = 0; b < int(line_.burners.size()); ++b)
      if (line_.burners[b].name == "boiler") {
        line_.burners[b].input = input;
        return supply_ - line_.drop_to(b, line_.flows(gas_, b), gas_);
      }
    return Field::none;
  }

 private:
  template <auto M>
  bool is_given() const { return stated_ && value_of<M>(*stated_).given; }

  void choose_gas() {
    auto const* boiler = job_.document.find("boiler");
    bool const is_propane = is_given<&GasSection::gas>() ? section_.gas == 1 : boiler && get<&Boiler::fuel>(*boiler) == 1;
    gas_ = is_propane ? FuelGas::propane() : FuelGas::natural_gas();
    name_ = is_propane ? "propane" : "natural gas";
    auto const assume = [&](char const* what, Words value, Words usual) {
      part_.missing.push_back(say("{}: assumed {}, usual {} ({})", what, value, usual, common_practice));
    };
    auto const usual = usual_gas(is_propane);
    auto const heat = [](double v) { return Amount{v, measure::heating_value}; };
    auto const drop = [](double v) { return Amount{v, measure::gas_pressure}; };
    if (is_given<&GasSection::heating_value>()) gas_.heating_value = *section_.heating_value;
    else
      assume("heating value of the gas", heat(gas_.heating_value),
             say("{} to {}{}", heat(usual.heat_least), heat(usual.heat_most), is_propane ? "" : ", and much less at altitude"));
    if (is_given<&GasSection::specific_gravity>()) gas_.specific_gravity = section_.specific_gravity;
    else
      assume("specific gravity of the gas", fmt::format("{:.2f}", gas_.specific_gravity),
             fmt::format("{:.2f} to {:.2f}", usual.gravity_least, usual.gravity_most));
    if (is_given<&GasSection::allowed_drop>()) allowed_ = *section_.allowed_drop, whose_drop_ = "allowed_drop, your input";
    else assume("allowed pressure drop", drop(allowed_), say("{} to {}", drop(usual.drop_least), drop(usual.drop_most)));
    supply_ = *section_.supply;
    if (std::isnan(supply_))
      part_.missing.push_back("supply_pressure in [gas]: without it, inlet pressures are unknown (drops are computed)");
  }

  /// Whether there is a line to look at.
  bool solve() {
    Diagnostics faults;
    line_ = gas_line_of(job_.document.tables, faults);
    if (!faults.empty() || line_.pipes.empty()) return false;
    choose_gas();
    all_ = line_.flows(gas_);
    longest_ = line_.longest();
    wide_ = line_.widened(gas_, allowed_);
    for (std::size_t i = 0; i < line_.pipes.size(); ++i) {
      drop_.push_back(line_.pipes[i].drop(all_[i], gas_));
      capacity_.push_back(longest_ > 0 ? line_.pipes[i].capacity(allowed_, longest_, gas_) : 0);
    }
    for (int b = 0; b < int(line_.burners.size()); ++b) {
      all_drop_.push_back(line_.drop_to(b, all_, gas_));
      alone_drop_.push_back(line_.drop_to(b, line_.flows(gas_, b), gas_));
    }
    return true;
  }

  /// What to lay instead of a pipe.
  Words wider(int i) const {
    auto const &now = line_.pipes[i], &then = wide_.pipes[i];
    if (now.bore <= 0)
      return say("a size whose table gives {} at {}", Amount{all_[i], measure::gas_flow}, Amount{longest_, measure::gas_length});
    if (then.capacity(allowed_, wide_.longest(), gas_) < all_[i])
      return "two lines or a higher pressure (no size known here is large enough)";
    return then.size == now.size ? say("the next size for '{}'", now.name) : say("{} for '{}'", then.size, now.name);
  }
  /// "60.0 ft row of the table, next longer than 56.0 ft".
  Words row_words(GasPipe const& pipe) const {
    double const row = pipe.row(allowed_, longest_);
    Amount const length{longest_, measure::gas_length};
    bool const is_tube = pipe.bore <= 0;
    if (row == longest_ && is_tube && table_ends_before(pipe)) return say("maker's table carried on beyond its last row, to {}", length);
    auto const table = is_tube                      ? Words("maker's table")
                       : has_table(gas_, allowed_) ? Words("table")
                                                    : say("code's equation (no table for a drop of {} and this gas)",
                                                          Amount{allowed_, measure::gas_pressure});
    auto const words = say("{} row of the {}", Amount{row, measure::gas_length}, table);
    return row > longest_ * (1 + 1e-6) ? say("{}, next longer than {}", words, length) : words;
  }
  bool table_ends_before(GasPipe const& tube) const {
    return tube.table_length.back() * allowed_ / tube.table_drop < longest_ * (1 - 1e-9);
  }

  /// All pipes on the way to a burner that carry too much, by what does.
  Words wider_way(int b) const {
    std::vector<Words> changes;
    for (int i : line_.way_to(b))
      if (capacity_[i] < all_[i]) changes.push_back(wider(i));
    return changes.empty() ? Words("larger pipe from the meter to it") : listed(changes, ", ");
  }

  void judge_pipe(int i) {
    auto const& pipe = line_.pipes[i];
    if (all_[i] <= 0) {
      part_.find({"gas.leads_nowhere", pipe.name, Severity::note, {}, std::nullopt, common_practice,
                  say("gas pipe '{}' ends at no appliance", pipe.name), 1},
                 "Add the appliance at its end as [[gas_appliance]], or remove the pipe.");
      return;
    }
    auto const behind = burners_behind(i);
    bool const loses_too_much = std::any_of(behind.begin(), behind.end(), [&](int b) { return all_drop_[b] > allowed_; });
    Judgement j{.id = "gas.over_capacity",
                .place = pipe.name,
                .subject = say("{} would carry", pipe.size.empty() ? Words("the tube") : Words(pipe.size)),
                .actual = {"flow", all_[i], measure::gas_flow},
                .limit = {"capacity", capacity_[i], measure::gas_flow},
                .whose = say("{}; {}", row_words(pipe), code),
                .fix = say("Use {}.", wider(i)),
                .order = 60 + all_[i] / capacity_[i]};
    if (!loses_too_much) {
      j.severity = Severity::minor;
      j.consequence =
          "The pressure drop as laid out is within its limit. That counts only where the local code allows sizing by pressure drop.";
    }
    part_.judge(j);
    judge_end_piece(i);
  }

  std::vector<int> burners_behind(int i) const {
    std::vector<int> behind;
    for (int b = 0; b < int(line_.burners.size()); ++b) {
      auto const way = line_.way_to(b);
      if (std::find(way.begin(), way.end(), i) != way.end()) behind.push_back(b);
    }
    return behind;
  }

  /// A narrow piece at the end of a wider line.
  void judge_end_piece(int i) {
    auto const& pipe = line_.pipes[i];
    if (pipe.before < 0 || pipe.bore <= 0 || line_.pipes[pipe.before].bore <= pipe.bore) return;
    part_.judge({.id = "gas.piece_over_allowance",
                 .place = pipe.name,
                 .subject = say("{} of {} behind {} alone drops", Amount{pipe.length(), measure::gas_length}, pipe.size,
                                line_.pipes[pipe.before].size),
                 .actual = {"drop", drop_[i], measure::gas_pressure},
                 .limit = {"allowed_drop", allowed_, measure::gas_pressure},
                 .whose = whose_drop_,
                 .fix = say("Use {}. A larger drop needs the appliance manual and the local code to allow it.", wider(i)),
                 .order = 80,
                 .consequence = "That limit is for all pipe from the meter to the appliance."});
  }

  void judge_burner(int b) {
    auto const& burner = line_.burners[b];
    part_.judge({.id = "gas.over_allowance",
                 .place = burner.name,
                 .subject = "gas pressure drop",
                 .actual = {"drop", all_drop_[b], measure::gas_pressure},
                 .limit = {"allowed_drop", allowed_, measure::gas_pressure},
                 .whose = whose_drop_,
                 .fix = say("Use {}. A larger drop needs the appliance manual and the local code to allow it.", wider_way(b)),
                 .order = 90,
                 .consequence = "That is with all appliances firing."});

    if (std::isnan(burner.least_pressure)) {
      part_.missing.push_back("least_pressure of '" + burner.name + "', from its manual");
    } else if (!std::isnan(supply_)) {
      double const left = supply_ - all_drop_[b], at_best = supply_ - alone_drop_[b];
      bool const pipes_mend_it = supply_ - wide_.drop_to(b, all_, gas_) >= burner.least_pressure;
      part_.judge(
          {.id = "gas.low_pressure",
           .place = burner.name,
           .subject = "inlet pressure, all appliances firing,",
           .actual = {"pressure", left, measure::gas_pressure},
           .limit = {"least_pressure", burner.least_pressure, measure::gas_pressure},
           .sense = Judgement::at_least,
           .whose = users_manual,
           .fix = pipes_mend_it ? say("Use {}.", wider_way(b)) : Words("Raise the supply pressure. Larger pipe alone is not enough."),
           .order = 100,
           .consequence = say("It has {} when it fires alone.", Amount{at_best, measure::gas_pressure})});
    }
    if (!std::isnan(burner.most_pressure) && !std::isnan(supply_))
      part_.judge({.id = "gas.high_pressure",
                   .place = burner.name,
                   .subject = "static gas pressure",
                   .actual = {"pressure", supply_, measure::gas_pressure},
                   .limit = {"most_pressure", burner.most_pressure, measure::gas_pressure},
                   .whose = users_manual,
                   .fix = "Set the regulator lower, or add one at the appliance.",
                   .order = 95,
                   .consequence = "With nothing burning it is this much or more."});
  }

  double total() const {
    double input = 0;
    for (auto const& b : line_.burners) input += b.input;
    return input / gas_.heating_value;
  }

  void judge_supply() {
    for (auto const& [id, what, capacity] : {std::tuple{"gas.meter_small", "meter", *section_.meter},
                                             std::tuple{"gas.regulator_small", "regulator", *section_.regulator}}) {
      if (std::isnan(capacity)) {
        part_.missing.push_back(say("{}_capacity in [gas]: the gas supplier knows it", what));
        continue;
      }
      part_.judge({.id = id,
                   .place = what,
                   .subject = "gas, all appliances firing,",
                   .actual = {"flow", total(), measure::gas_flow},
                   .limit = {"capacity", capacity, measure::gas_flow},
                   .whose = say("{} capacity, your input", what),
                   .fix = "Order a larger one from the gas supplier before you cut pipe.",
                   .order = 85});
    }
  }

  void tables() {
    ReviewTable pipes{"gas_pipes",
                      "Gas pipes, all appliances firing",
                      {"pipe", "size", "equivalent length", "flow", "capacity", "drop", "pressure at its end", "size needed"},
                      {}};
    for (int i = 0; i < int(line_.pipes.size()); ++i) {
      double spent = 0;
      for (int k = i; k >= 0; k = line_.pipes[k].before) spent += drop_[k];
      auto const& p = line_.pipes[i];
      bool const suffices = all_[i] <= capacity_[i];
      pipes.rows.push_back({p.name,
                            p.size,
                            {p.length(), measure::gas_length},
                            {all_[i], measure::gas_flow},
                            {capacity_[i], measure::gas_flow},
                            {drop_[i], measure::gas_pressure},
                            {supply_ - spent, measure::gas_pressure},
                            suffices ? Words("as it is") : p.bore > 0 ? Words(wide_.pipes[i].size) : wider(i)});
    }
    ReviewTable burners{"gas_appliances",
                        "Gas pressure at the appliances",
                        {"appliance", "input", "gas", "drop, all firing", "inlet, all firing", "inlet, it alone", "minimum by its manual"},
                        {}};
    for (int b = 0; b < int(line_.burners.size()); ++b) {
      auto const& burner = line_.burners[b];
      burners.rows.push_back({burner.name, {burner.input, measure::power}, {burner.input / gas_.heating_value, measure::gas_flow},
                              {all_drop_[b], measure::gas_pressure}, {supply_ - all_drop_[b], measure::gas_pressure},
                              {supply_ - alone_drop_[b], measure::gas_pressure}, {burner.least_pressure, measure::gas_pressure}});
    }
    part_.tables = {pipes, burners};
    part_.sentences.push_back(say("All appliances firing use {} of {}. The farthest is {} from the meter, with fittings.",
                                  Amount{total(), measure::gas_flow}, name_, Amount{longest_, measure::gas_length}));
    for (int b = 0; b < int(line_.burners.size()); ++b)
      if (GasApplianceSection::is_boiler(line_.burners[b].name) && !std::isnan(supply_))
        part_.sentences.push_back(say("The {} has {} with all appliances firing, {} when it fires alone.", line_.burners[b].name,
                                      Amount{supply_ - all_drop_[b], measure::gas_pressure},
                                      Amount{supply_ - alone_drop_[b], measure::gas_pressure}));
    who_takes_the_pressure();
  }

  /// Of each boiler, and of whatever loses more than it may.
  void who_takes_the_pressure() {
    for (int b = 0; b < int(line_.burners.size()); ++b) {
      auto const& burner = line_.burners[b];
      if (!(all_drop_[b] > 0) || (!GasApplianceSection::is_boiler(burner.name) && all_drop_[b] <= allowed_)) continue;
      auto way = line_.way_to(b);
      std::stable_sort(way.begin(), way.end(), [&](int x, int y) { return drop_[std::size_t(x)] > drop_[std::size_t(y)]; });
      std::vector<Words> shares;
      for (int const i : way)
        shares.push_back(say(shares.empty() ? "'{}' takes {}" : "'{}' {}", line_.pipes[std::size_t(i)].name,
                             Amount{drop_[std::size_t(i)], measure::gas_pressure}));
      auto words = say("On the way to the {} {} of the {} drop with all appliances firing.", burner.name, listed(shares, ", "),
                       Amount{all_drop_[b], measure::gas_pressure});
      if (double const by_others = all_drop_[b] - alone_drop_[b]; by_others > 0.005 * unit::inch_water.scale)
        words += say(" Without the other appliances it is {} less.", Amount{by_others, measure::gas_pressure});
      part_.sentences.push_back(std::move(words));
    }
  }

  void say_what_is_left() {
    part_.cautions = {
        "Gas explodes. Have a licensed gas fitter install, test and light it. The appliance manual, the local code and the gas "
        "supplier decide."};
    part_.not_covered = {
        say("lines of {} and more (two-pound lines) and their regulators", Amount{1.5 * unit::psi.scale, measure::pressure}),
        "how a regulator's outlet sags as flow grows, and its vent",
        "capacity of shutoff valves, connectors and meters beyond what is stated", "diversity: all appliances are taken to fire at once",
        "support, protection, seismic restraint, buried pipe, altitude beyond the heating value in the file"};
    part_.reminders = {"Pressure test the new piping before it is closed in, with the appliances cut off.",
                       "Leak test all joints with gas on, and purge by the code.",
                       "A shutoff valve and a union at each appliance, within reach.",
                       "A sediment trap ahead of each appliance where the code asks for one.",
                       "Bond corrugated tube and metal pipe to the electrical ground.",
                       "Measure static and running gas pressure at the boiler at full fire, and write them down."};
    if (name_ == "propane") part_.reminders.push_back("Propane is heavier than air and settles in basements and pits.");
  }

  Job const& job_;
  GasSection section_;
  Entry const* stated_;
  ReviewPart part_;
  GasLine line_, wide_;
  FuelGas gas_{};
  std::string name_;
  double allowed_ = unit::inch_water.to_si(0.5), supply_ = 0, longest_ = 0;
  Words whose_drop_ = common_practice;
  std::vector<double> all_, drop_, capacity_, all_drop_, alone_drop_;  ///< by pipe, by pipe, by pipe, by burner, by burner
};

}  // namespace

ReviewPart review_gas(Job const& job) { return GasReview{job}.part(); }

double gas_left_at_boiler(Job const& job, double input) { return GasReview{job}.left_at_boiler(input); }

std::vector<AssumedValue> assumed_gas(Job const& job) {
  using G = GasSection;
  auto const* stated = job.document.find(G::kind);
  auto const* boiler = job.document.find("boiler");
  auto const section = section_of<G>(job.document, job.catalog);
  bool const names_gas = stated && value_of<&G::gas>(*stated).given;
  bool const is_propane = names_gas ? section.gas == 1 : boiler && get<&Boiler::fuel>(*boiler) == 1;
  auto const gas = is_propane ? FuelGas::propane() : FuelGas::natural_gas();
  auto const usual = usual_gas(is_propane);
  std::vector<AssumedValue> list;
  auto const add = [&]<auto M>(char const* key, double value, double least, double most, Measure const& m) {
    if (stated && value_of<M>(*stated).given) return;
    list.push_back({key, "in [gas]", value, least, most, m, [catalog = job.catalog](Document& document, Installation&, double si) {
                      auto at = std::find_if(document.tables.begin(), document.tables.end(),
                                             [](auto const& t) { return t.kind->name == G::kind; });
                      if (at == document.tables.end()) {
                        Entry table;
                        table.kind = find_kind(catalog, G::kind), table.values.resize(table.kind->fields.size());
                        at = document.tables.insert(at, std::move(table));
                      }
                      auto& v = value_of<M>(*at);
                      v.numbers = {si}, v.given = true;
                    }});
  };
  add.operator()<&G::heating_value>("heating_value", gas.heating_value, usual.heat_least, usual.heat_most, measure::heating_value);
  add.operator()<&G::specific_gravity>("specific_gravity", gas.specific_gravity, usual.gravity_least, usual.gravity_most, measure::plain);
  add.operator()<&G::allowed_drop>("allowed_drop", unit::inch_water.to_si(0.5), usual.drop_least, usual.drop_most, measure::gas_pressure);
  return list;
}

}  // namespace steadyfire
