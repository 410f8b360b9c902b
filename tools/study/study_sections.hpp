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

  static constexpr std::string_view kind = "study", family = "study", summary = "Which scenario is run, at which points, and what is kept";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using S = StudySection;
    return {text<&S::scenario>("scenario", "path of the scenario, relative to the study"),
            field<&S::duration>("duration", unit::day, 0.001, 3660, "simulated time, for the scenario's own").optional("the scenario's"),
            steadyfire::count<&S::start_day>("start_day", 1, 366, "first day in the weather's year").optional("the scenario's"),
            choice<&S::points>("points", {"full grid", "Latin hypercube", "Sobol"}, "how values are combined").otherwise(0),
            steadyfire::count<&S::count>("count", 1, most_points, "how many points; not of a full grid, which follows from its values")
                .optional("needed for the last two"),
            steadyfire::count<&S::seed>("seed", 1, 1'000'000, "of a Latin hypercube: another seed, other points").otherwise(1),
            choice<&S::precision>("precision", {"full", "rough"}, "rough takes 60 to 90 % of the time; starts then err by 1 to 2 %")
                .otherwise(0),
            written_list<&S::figures>("figures", "keys of the figures below to keep").optional("all of them")};
  }
};

struct ParameterSection {
  std::string at;
  std::vector<std::string> values;
  std::string from, to, step;
  int steps, as;
  Entry spread;

  static constexpr std::string_view kind = "parameter", family = "parameter",
                                    summary = "Something of the scenario that is turned, by `values`, by a range, or by a spread";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using S = ParameterSection;
    return {text<&S::at>("at", "its address: \"boiler.minimum_input\", \"zone.bath.design_load\"; \"zone.design_load\" turns all zones'"),
            written_list<&S::values>("values", "a list of them, as the scenario would state them").optional(),
            written<&S::from>("from", "lower end of a range").optional(),
            written<&S::to>("to", "upper end of a range").optional(),
            count<&S::steps>("steps", 2, 100'000, "of a range on a full grid: how many values, both ends among them").optional(),
            written<&S::step>("step", "of a range on a full grid: from one value to the next").optional(),
            choice<&S::as>("as", {"value", "factor"}, "what the numbers are: the value, or a share (\"70 %\" or 0.7) of each own value")
                .otherwise(0),
            entry<&S::spread>("spread", "spread", "how likely values are; not on a full grid").optional("a range: each value as likely")};
  }
};

struct NormalSpread {
  std::string mean, deviation;
  static constexpr std::string_view kind = "normal", family = "spread", summary = "A bell, cut off where the key's own range ends";
  static std::vector<Field> schema() {
    using S = NormalSpread;
    return {written<&S::mean>("mean", "in the middle"),
            written<&S::deviation>("deviation", "standard deviation: two thirds lie within one of the mean")};
  }
};
struct UniformSpread {
  std::string from, to;
  static constexpr std::string_view kind = "uniform", family = "spread", summary = "Each value as likely";
  static std::vector<Field> schema() {
    using S = UniformSpread;
    return {written<&S::from>("from", "lower end"), written<&S::to>("to", "upper end")};
  }
};
struct TriangularSpread {
  std::string from, likely, to;
  static constexpr std::string_view kind = "triangular", family = "spread", summary = "Most likely at one value, never beyond the ends";
  static std::vector<Field> schema() {
    using S = TriangularSpread;
    return {written<&S::from>("from", "lower end"), written<&S::likely>("likely", "the most likely value"),
            written<&S::to>("to", "upper end")};
  }
};

struct ClaimSection {
  std::string figure, at_most, at_least;
  static constexpr std::string_view kind = "claim", family = "claim", summary = "A limit, and at how many of the points it is kept";
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
                                    summary = "A picture in the report; without any, usual ones are made";
  static constexpr Home home = Home::repeated;
  static constexpr bool is_nameless = true;
  static std::vector<Field> schema() {
    using S = PictureSection;
    return {choice<&S::sort>("kind", {"line", "heat map", "scatter", "influence"}, "of what sort"),
            text<&S::x>("x", "what lies to the right: a parameter's name; of a scatter a figure's key too").optional(),
            text<&S::y>("y", "what lies upwards; of a line a parameter that tells lines apart").optional(),
            text<&S::figure>("figure", "key of the figure shown; of a scatter it colours the points").optional()};
  }
};

}  // namespace steadyfire
