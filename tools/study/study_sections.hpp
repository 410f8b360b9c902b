#pragma once
/// The tables of a study file. Their help texts are its reference page.

#include "models/house/sections.hpp"

namespace steadyfire {

constexpr int most_points = 10'000'000;

struct StudySection {
  std::string scenario;
  Time duration;
  int start_day;
  int points, count, seed, precision;
  std::vector<std::string> figures;

  static constexpr std::string_view kind = "study", family = "study", summary = "The scenario, its points, and the figures to keep";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using S = StudySection;
    return {
        text<&S::scenario>("scenario", "path of the scenario, relative to the study"),
        field<&S::duration>("duration", unit::day, 0.001, 3660, "simulated time, in place of the scenario's").optional("the scenario's"),
        steadyfire::count<&S::start_day>("start_day", 1, 366, "first day in the weather year").optional("the scenario's"),
        choice<&S::points>("points", {"full grid", "Latin hypercube", "Sobol"}, "how the values are combined").otherwise(0),
        steadyfire::count<&S::count>("count", 1, most_points, "number of points; not for a full grid")
            .optional("required for the last two"),
        steadyfire::count<&S::seed>("seed", 1, 1'000'000, "seed of a Latin hypercube: another seed gives other points").otherwise(1),
        choice<&S::precision>("precision", {"full", "rough"}, "rough takes 60 to 90% of the time; starts are then off by 1 to 2%")
            .otherwise(0),
        written_list<&S::figures>("figures", "figures to keep, by their keys below").optional("all of them")};
  }
};

struct ParameterSection {
  std::string at;
  std::vector<std::string> values;
  std::string from, to, step;
  int steps, as;
  Entry spread;

  static constexpr std::string_view kind = "parameter", family = "parameter",
                                    summary = "A value of the scenario to vary, by `values`, by a range, or by a spread";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using S = ParameterSection;
    return {
        text<&S::at>("at", "its address: \"boiler.minimum_input\", \"zone.bath.design_load\"; \"zone.design_load\" varies all zones"),
        written_list<&S::values>("values", "a list of values, written as in the scenario").optional(),
        written<&S::from>("from", "lower end of a range").optional(),
        written<&S::to>("to", "upper end of a range").optional(),
        count<&S::steps>("steps", 2, 100'000, "of a range on a full grid: number of values, with both ends").optional(),
        written<&S::step>("step", "of a range on a full grid: from one value to the next").optional(),
        choice<&S::as>("as", {"value", "factor"}, "the numbers are the value, or a factor (\"70%\" or 0.7) on each own value").otherwise(0),
        entry<&S::spread>("spread", "spread", "how likely the values are; not on a full grid")
            .optional("each value of a range is equally likely")};
  }
};

struct NormalSpread {
  std::string mean, deviation;
  static constexpr std::string_view kind = "normal", family = "spread", summary = "Normal distribution, cut off at the range of the key";
  static std::vector<Field> schema() {
    using S = NormalSpread;
    return {written<&S::mean>("mean", "average value"),
            written<&S::deviation>("deviation", "standard deviation: two thirds of the values are within one of the average")};
  }
};
struct UniformSpread {
  std::string from, to;
  static constexpr std::string_view kind = "uniform", family = "spread", summary = "Each value equally likely";
  static std::vector<Field> schema() {
    using S = UniformSpread;
    return {written<&S::from>("from", "lower end"), written<&S::to>("to", "upper end")};
  }
};
struct TriangularSpread {
  std::string from, likely, to;
  static constexpr std::string_view kind = "triangular", family = "spread", summary = "Most likely at one value, never outside the ends";
  static std::vector<Field> schema() {
    using S = TriangularSpread;
    return {written<&S::from>("from", "lower end"), written<&S::likely>("likely", "the most likely value"),
            written<&S::to>("to", "upper end")};
  }
};

struct ClaimSection {
  std::string figure, at_most, at_least;
  static constexpr std::string_view kind = "claim", family = "claim", summary = "A limit; the study counts the points that meet it";
  static constexpr Home home = Home::repeated;
  static constexpr bool is_nameless = true;
  static std::vector<Field> schema() {
    using S = ClaimSection;
    return {text<&S::figure>("figure", "key of a figure"), written<&S::at_most>("at_most", "upper limit").optional(),
            written<&S::at_least>("at_least", "lower limit").optional()};
  }
};

struct PictureSection {
  int sort;
  std::string x, y, figure;
  static constexpr std::string_view kind = "picture", family = "picture",
                                    summary = "A picture in the report; without any, the report picks some";
  static constexpr Home home = Home::repeated;
  static constexpr bool is_nameless = true;
  static std::vector<Field> schema() {
    using S = PictureSection;
    return {choice<&S::sort>("kind", {"line", "heat map", "scatter", "influence"}, "what it shows"),
            text<&S::x>("x", "horizontal axis: a parameter name; for a scatter also a figure key").optional(),
            text<&S::y>("y", "vertical axis; for a line, the parameter that makes several lines").optional(),
            text<&S::figure>("figure", "key of the figure shown; for a scatter it colors the points").optional()};
  }
};

}  // namespace steadyfire
