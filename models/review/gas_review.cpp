#include "models/review/gas_review.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "models/gas/gas_line.hpp"
#include "models/house/section_of.hpp"

namespace steadyfire {
namespace {

constexpr char const* code = "NFPA 54 and IFGC 402.4, longest-length method (2018 edition); the local code decides";

class GasReview {
 public:
  explicit GasReview(Job const& job)
      : job_{job}, section_{section_of<GasSection>(job.document, job.catalog)}, stated_{job.document.find(GasSection::kind)} {}

  ReviewPart part() {
    part_.id = "gas", part_.title = "Gas piping";
    Diagnostics faults;
    line_ = gas_line_of(job_.document.tables, faults);
    if (!faults.empty() || line_.pipes.empty()) {
      part_.missing.push_back("no [[gas_pipe]] is stated: nothing of the gas line was checked");
      say_what_is_left();
      return std::move(part_);
    }
    choose_gas();
    solve();
    for (int i = 0; i < int(line_.pipes.size()); ++i) judge_pipe(i);
    for (int b = 0; b < int(line_.burners.size()); ++b) judge_burner(b);
    judge_supply();
    tables();
    say_what_is_left();
    return std::move(part_);
  }

 private:
  bool is_given(char const* key) const { return stated_ && value_under(*stated_, key).given; }
  std::string tell(double si, Measure const& m) const { return show(si, m, job_.units); }

  void choose_gas() {
    auto const* boiler = job_.document.find("boiler");
    bool const is_propane = is_given("gas") ? section_.gas == 1 : boiler && value_under(*boiler, "fuel").numbers == std::vector{1.0};
    gas_ = is_propane ? FuelGas::propane() : FuelGas::natural_gas();
    name_ = is_propane ? "propane" : "natural gas";
    auto const assume = [&](char const* what, std::string value, char const* usual) {
      part_.missing.push_back(fmt::format("the {} is not stated: {} is taken, usual are {} ({})", what, value, usual, common_practice));
    };
    if (is_given("heating_value")) gas_.heating_value = *section_.heating_value;
    else assume("heating value of the gas", tell(gas_.heating_value, measure::heating_value),
                is_propane ? "2450 to 2550 Btu/ft3" : "950 to 1100 Btu/ft3, and much less at altitude");
    if (is_given("specific_gravity")) gas_.specific_gravity = section_.specific_gravity;
    else assume("specific gravity of the gas", fmt::format("{:.2f}", gas_.specific_gravity), is_propane ? "1.50 to 1.55" : "0.55 to 0.70");
    if (is_given("allowed_drop")) allowed_ = *section_.allowed_drop, whose_drop_ = "allowed_drop of [gas], your input";
    else assume("allowed pressure drop", tell(allowed_, measure::gas_pressure), "0.3 to 0.5 inH2O");
    supply_ = *section_.supply;
    if (std::isnan(supply_)) part_.missing.push_back("supply_pressure of [gas] is not stated: pressures left are not known, drops are");
  }

  void solve() {
    all_ = line_.flows(gas_);
    longest_ = line_.longest();
    wide_ = line_.widened(gas_, allowed_);
    for (std::size_t i = 0; i < line_.pipes.size(); ++i) {
      drop_.push_back(line_.pipes[i].drop(all_[i], gas_));
      capacity_.push_back(longest_ > 0 ? line_.pipes[i].flow_at(allowed_ / longest_, gas_) : 0);
    }
    for (int b = 0; b < int(line_.burners.size()); ++b) {
      all_drop_.push_back(line_.drop_to(b, all_, gas_));
      alone_drop_.push_back(line_.drop_to(b, line_.flows(gas_, b), gas_));
    }
  }

  /// What to lay instead of a pipe.
  std::string wider(int i) const {
    auto const &now = line_.pipes[i], &then = wide_.pipes[i];
    if (now.bore <= 0)
      return fmt::format("a size whose table gives {} at {} of length", tell(all_[i], measure::gas_flow),
                         tell(longest_, measure::gas_length));
    if (then.flow_at(allowed_ / wide_.longest(), gas_) < all_[i])
      return "more than the largest size known here; two lines, or a higher pressure";
    return then.size == now.size ? "" : fmt::format("{} for '{}'", then.size, now.name);
  }
  /// All that has to become wider on the way to a burner.
  std::string wider_way(int b) const {
    std::vector<std::string> changes;
    for (int i : line_.way_to(b))
      if (capacity_[i] < all_[i]) changes.push_back(wider(i));
    return fmt::format("{}", fmt::join(changes, ", "));
  }

  void judge_pipe(int i) {
    auto const& pipe = line_.pipes[i];
    if (all_[i] <= 0) {
      part_.find({"gas.leads_nowhere", pipe.name, Severity::note, {}, std::nullopt, common_practice,
                  fmt::format("gas pipe '{}' leads to no appliance that the file names", pipe.name), 1},
                 "name what stands there, or plan for what will");
      return;
    }
    auto const behind = burners_behind(i);
    bool const loses_too_much = std::any_of(behind.begin(), behind.end(), [&](int b) { return all_drop_[b] > allowed_; });
    Judgement j{.id = "gas.over_capacity",
                .place = pipe.name,
                .subject = fmt::format("gas carried by '{}', {}, by the table for the longest length of {}", pipe.name, pipe.size,
                                       tell(longest_, measure::gas_length)),
                .actual = {"flow", all_[i], measure::gas_flow},
                .limit = {"capacity", capacity_[i], measure::gas_flow},
                .whose = code,
                .fix = wider(i),
                .order = 60 + all_[i] / capacity_[i]};
    if (!loses_too_much) {
      j.severity = Severity::minor;
      j.fix += "; as laid out the drops stay within the allowance, which passes only where the local code takes sizing by pressure drop";
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
                 .subject = fmt::format("pressure drop of '{}' alone, {} of {} behind {}", pipe.name,
                                        tell(pipe.length(), measure::gas_length), pipe.size, line_.pipes[pipe.before].size),
                 .actual = {"drop", drop_[i], measure::gas_pressure},
                 .limit = {"allowed_drop", allowed_, measure::gas_pressure},
                 .whose = whose_drop_,
                 .fix = wider(i) + "; left as it is it passes only if the appliance's manual and the local code allow that drop",
                 .order = 80});
  }

  void judge_burner(int b) {
    auto const& burner = line_.burners[b];
    part_.judge({.id = "gas.over_allowance",
                 .place = burner.name,
                 .subject = fmt::format("gas pressure drop from the meter to '{}' with every appliance firing", burner.name),
                 .actual = {"drop", all_drop_[b], measure::gas_pressure},
                 .limit = {"allowed_drop", allowed_, measure::gas_pressure},
                 .whose = whose_drop_,
                 .fix = wider_way(b) + "; else only if the appliance's manual and the local code allow that drop",
                 .order = 90});

    if (std::isnan(burner.least_pressure)) {
      part_.missing.push_back("least_pressure of '" + burner.name + "' is not stated: its manual has it");
    } else if (!std::isnan(supply_)) {
      double const left = supply_ - all_drop_[b], at_best = supply_ - alone_drop_[b];
      bool const pipes_mend_it = supply_ - wide_.drop_to(b, all_, gas_) >= burner.least_pressure;
      part_.judge({.id = "gas.low_pressure",
                   .place = burner.name,
                   .subject = fmt::format("gas pressure left at '{}' with every appliance firing", burner.name),
                   .actual = {"pressure", left, measure::gas_pressure},
                   .limit = {"least_pressure", burner.least_pressure, measure::gas_pressure},
                   .sense = Judgement::at_least,
                   .whose = users_manual,
                   .fix = (pipes_mend_it ? wider_way(b) : "a higher supply pressure: wider pipe alone does not do it") +
                             fmt::format("; it has {} while it fires alone", tell(at_best, measure::gas_pressure)),
                   .order = 100});
    }
    if (!std::isnan(burner.most_pressure) && !std::isnan(supply_))
      part_.judge({.id = "gas.high_pressure",
                   .place = burner.name,
                   .subject = fmt::format("gas pressure at '{}' with nothing flowing, at least", burner.name),
                   .actual = {"pressure", supply_, measure::gas_pressure},
                   .limit = {"most_pressure", burner.most_pressure, measure::gas_pressure},
                   .whose = users_manual,
                   .fix = "a regulator set lower, or one before the appliance",
                   .order = 95});
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
        part_.missing.push_back(fmt::format("{}_capacity of [gas] is not stated: the supplier knows it", what));
        continue;
      }
      part_.judge({.id = id,
                   .place = what,
                   .subject = fmt::format("gas through the {} with every appliance firing", what),
                   .actual = {"flow", total(), measure::gas_flow},
                   .limit = {"capacity", capacity, measure::gas_flow},
                   .whose = "its capacity (your input)",
                   .fix = "ask the supplier for a larger one before pipe is cut",
                   .order = 85});
    }
  }

  void tables() {
    ReviewTable pipes{"gas_pipes",
                      "Gas pipes, every appliance firing",
                      {"pipe", "size", "length with fittings", "carries", "may carry", "drop", "pressure at its end", "size that would do"},
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
                            suffices ? std::string("as it is") : p.bore > 0 ? wide_.pipes[i].size : wider(i)});
    }
    ReviewTable burners{"gas_appliances",
                        "Gas pressure at the appliances",
                        {"appliance", "input", "takes", "drop, all firing", "left, all firing", "left, it alone", "least by its manual"},
                        {}};
    for (int b = 0; b < int(line_.burners.size()); ++b) {
      auto const& burner = line_.burners[b];
      burners.rows.push_back({burner.name, {burner.input, measure::power}, {burner.input / gas_.heating_value, measure::gas_flow},
                              {all_drop_[b], measure::gas_pressure}, {supply_ - all_drop_[b], measure::gas_pressure},
                              {supply_ - alone_drop_[b], measure::gas_pressure}, {burner.least_pressure, measure::gas_pressure}});
    }
    part_.tables = {pipes, burners};
    part_.sentences.push_back(
        fmt::format("Everything firing, {} of {} run from the meter; the farthest appliance lies {} from it, with fittings.",
                    tell(total(), measure::gas_flow), name_, tell(longest_, measure::gas_length)));
    for (int b = 0; b < int(line_.burners.size()); ++b)
      if (GasApplianceSection::is_boiler(line_.burners[b].name) && !std::isnan(supply_))
        part_.sentences.push_back(fmt::format("At the {} {} are left with every appliance firing, {} with it alone.", line_.burners[b].name,
                                              tell(supply_ - all_drop_[b], measure::gas_pressure),
                                              tell(supply_ - alone_drop_[b], measure::gas_pressure)));
  }

  void say_what_is_left() {
    part_.cautions = {"Gas burns and explodes. Gas pipe is laid, tested and lit by those licensed to; the appliance's manual, the local "
                      "code and the gas supplier decide, not this program."};
    part_.not_covered = {"pressures of 1.5 psi and more (two-pound lines) and the regulators they need",
                         "the way a regulator's outlet sags as flow grows, and its vent",
                         "capacity of shut-off valves, connectors and meters beyond what is stated",
                         "diversity: every appliance is taken to fire at once",
                         "support, protection, seismic restraint, pipe below ground, altitude beyond the stated heating value"};
    part_.reminders = {"pressure test of the new piping before it is closed in, with the appliances cut off",
                       "leak test of all joints with gas on, and purging by the code",
                       "a shut-off valve and a union at each appliance, within reach",
                       "a sediment trap before each appliance that the code asks one for",
                       "bonding of corrugated tube and of metal pipe to the electrical ground",
                       "static and running gas pressure measured at the boiler at full fire, and written down"};
    if (name_ == "propane") part_.reminders.push_back("propane is heavier than air and lies in cellars and pits");
  }

  Job const& job_;
  GasSection section_;
  Entry const* stated_;
  ReviewPart part_;
  GasLine line_, wide_;
  FuelGas gas_{};
  std::string name_;
  double allowed_ = unit::inch_water.to_si(0.5), supply_ = 0, longest_ = 0;
  std::string whose_drop_ = common_practice;
  std::vector<double> all_, drop_, capacity_, all_drop_, alone_drop_;  ///< by pipe, by pipe, by pipe, by burner, by burner
};

}  // namespace

ReviewPart review_gas(Job const& job) { return GasReview{job}.part(); }

}  // namespace steadyfire
