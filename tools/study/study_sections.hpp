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

  static constexpr std::string_view kind = "study", family = "study", summary = "A study: scenario, points and figures to keep";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using S = StudySection;
    return {text<&S::scenario>("scenario", "path of the scenario, relative to the study"),
            field<&S::duration>("duration", unit::day, 0.001, 3660, "run length").optional("the scenario's"),
            steadyfire::count<&S::start_day>("start_day", 1, 366, "first day, 1 to 366 in the weather's year").optional("the scenario's"),
            choice<&S::points>("points", {"full grid", "Latin hypercube", "Sobol"}, "how values are combined").otherwise(0),
            steadyfire::count<&S::count>("count", 1, most_points, "number of points; a full grid has its own")
                .optional("required for the last two"),
            steadyfire::count<&S::seed>("seed", 1, 1'000'000, "Latin hypercube: another seed gives other points").otherwise(1),
            choice<&S::precision>("precision", {"full", "rough"}, "rough saves 10 to 40% of the time; starts within 2%")
                .otherwise(0),
            written_list<&S::figures>("figures", "figures to keep, by key").optional("all of them")};
  }
};

struct ParameterSection {
  std::string at;
  std::vector<std::string> values;
  std::string from, to, step;
  int steps, as;
  Entry spread;

  static constexpr std::string_view kind = "parameter", family = "parameter",
                                    summary = "A scenario value to vary, by `values`, a range or a spread";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using S = ParameterSection;
    return {text<&S::at>("at", "address: \"boiler.minimum_input\", \"zone.bath.design_load\"; \"zone.design_load\" for all zones"),
            written_list<&S::values>("values", "list of values, as in the scenario").optional(),
            written<&S::from>("from", "lower end of a range").optional(),
            written<&S::to>("to", "upper end of a range").optional(),
            count<&S::steps>("steps", 2, 100'000, "full grid: number of values, with both ends").optional(),
            written<&S::step>("step", "full grid: step from one value to the next").optional(),
            choice<&S::as>("as", {"value", "factor"}, "the numbers are values, or factors (\"70%\" or 0.7) on each value")
                .otherwise(0),
            entry<&S::spread>("spread", "spread", "distribution of the values; not with a full grid")
                .optional("a range: every value equally likely")};
  }
};

struct NormalSpread {
  std::string mean, deviation;
  static constexpr std::string_view kind = "normal", family = "spread", summary = "Normal distribution, cut off at the key's own range";
  static std::vector<Field> schema() {
    using S = NormalSpread;
    return {written<&S::mean>("mean", "average"),
            written<&S::deviation>("deviation", "standard deviation: two thirds of values are within it")};
  }
};
struct UniformSpread {
  std::string from, to;
  static constexpr std::string_view kind = "uniform", family = "spread", summary = "Every value equally likely";
  static std::vector<Field> schema() {
    using S = UniformSpread;
    return {written<&S::from>("from", "lower end"), written<&S::to>("to", "upper end")};
  }
};
struct TriangularSpread {
  std::string from, likely, to;
  static constexpr std::string_view kind = "triangular", family = "spread", summary = "Triangular distribution with a most likely value";
  static std::vector<Field> schema() {
    using S = TriangularSpread;
    return {written<&S::from>("from", "lower end"), written<&S::likely>("likely", "most likely value"),
            written<&S::to>("to", "upper end")};
  }
};

struct ClaimSection {
  std::string figure, at_most, at_least;
  static constexpr std::string_view kind = "claim", family = "claim", summary = "A limit, and the share of points that meet it";
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
                                    summary = "A picture in the report; without any, the usual ones";
  static constexpr Home home = Home::repeated;
  static constexpr bool is_nameless = true;
  static std::vector<Field> schema() {
    using S = PictureSection;
    return {choice<&S::sort>("kind", {"line", "heat map", "scatter", "influence"}, "type of picture"),
            text<&S::x>("x", "horizontal axis: a parameter; for a scatter also a figure").optional(),
            text<&S::y>("y", "vertical axis; for lines the parameter of each line").optional(),
            text<&S::figure>("figure", "key of the figure shown; colors the points of a scatter").optional()};
  }
};

}  // namespace steadyfire
