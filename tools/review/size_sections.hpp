#pragma once
/// What a review of the boiler's size is told.

#include "sim/component/kind.hpp"
#include "sim/record/reason_figures.hpp"

namespace steadyfire {

/// By what the size is judged.
struct SizeSection {
  Time wanted_burn;
  Fraction most_of_load;

  static constexpr std::string_view kind = "size", family = "size", summary = "By what `check` judges the boiler's size";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    return {field<&SizeSection::wanted_burn>("wanted_burn", unit::minute, 0.5, 240,
                                             "burn needed with the smallest zone calling alone")
                .otherwise(10),
            field<&SizeSection::most_of_load>("most_of_load", unit::percent, 100, 1000,
                                              "output noted above this share of design load (ANSI/ACCA 3: 140%, edition not checked)")
                .otherwise(100 * oversized)};
  }
};

/// Another boiler that could stand there: `check` runs the house with each.
struct CandidateSection {
  Power heating_input, minimum_input, dhw_input, dhw_minimum_input;
  Fraction dhw_efficiency;
  double price;

  static constexpr std::string_view kind = "candidate", family = "candidate",
                                    summary = "A boiler to compare: `check` runs the house with each";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    using C = CandidateSection;
    return {field<&C::heating_input>("heating_input", kBtu_per_hour, 5, 5000, "maximum heating input (the rating)"),
            field<&C::minimum_input>("minimum_input", kBtu_per_hour, 1, 5000, "minimum fire: lowest steady input"),
            field<&C::dhw_input>("dhw_input", kBtu_per_hour, 5, 5000, "maximum input for hot water").optional("as in [boiler]"),
            field<&C::dhw_minimum_input>("dhw_minimum_input", kBtu_per_hour, 1, 5000, "minimum input for hot water")
                .optional("as in [boiler]"),
            field<&C::dhw_efficiency>("dhw_efficiency", percent, 50, 100, "output into hot water as a share of dhw_input, from the manual")
                .optional("as in [boiler]"),
            number<&C::price>("price", 0, 1e7, "price, in your currency").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &most = value_of<&CandidateSection::heating_input>(e), &least = value_of<&CandidateSection::minimum_input>(e);
    if (!most.numbers.empty() && !least.numbers.empty() && least.numbers[0] > most.numbers[0])
      faults.add({"E223", least.at, e.who + ": minimum_input is above heating_input", "minimum_input at most heating_input",
          "swap or correct the two inputs", most.at});
  }
};

}  // namespace steadyfire
