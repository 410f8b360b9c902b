#pragma once
/// What a study of many runs leaves behind: columns of numbers, from which pictures and words are made. SI.

#include <string>
#include <vector>

#include "sim/core/measure.hpp"

namespace steadyfire {

/// A column: something that was varied, or a figure that was kept.
struct StudyColumn {
  std::string key, name;           ///< "boiler.minimum_input" or "most_in_one_hour"; "minimum fire"
  Measure measure = measure::plain;
  bool is_factor = false;          ///< of something turned: its numbers multiply
  bool lower_is_better = false, higher_is_better = false;  ///< of a figure; neither where it is no merit
  std::vector<std::string> words;  ///< of something turned that is one of some words: its numbers count them
  std::vector<double> numbers;     ///< by point; NaN where there is nothing to tell
  std::string heading{};           ///< of its CSV column, "" for `name`
};

/// A question about uncertain houses, answered.
struct ClaimRecord {
  std::string words;               ///< "at most 6 burner starts in any hour"
  long held = 0, of = 0;           ///< points at which it holds, of those that could be simulated
  double least = 0, most = 1;      ///< the share is between these with 95 % confidence
};

/// How much of a figure's spread one thing turned explains.
struct InfluenceRecord {
  std::string figure, input;       ///< keys of columns
  double rank_correlation = 0;     ///< −1 … 1, Spearman's
  double share = 0;                ///< of the figure's variance of ranks, by a linear model of ranks; 0 … 1
};

enum class PictureSort { line, heat_map, scatter, influence };
struct PictureRecord {
  PictureSort sort;
  std::string x, y, figure;        ///< keys of columns; of a line y tells the lines apart, or is ""
};

struct StudyRecord {
  std::string title, scenario, program_version, points;  ///< points: "full grid", "Latin hypercube", "Sobol"
  std::vector<StudyColumn> inputs, figures;              ///< all of one length: points that could be simulated
  long asked = 0, failed = 0;
  std::vector<std::pair<std::string, long>> faults;      ///< why points failed, and how many
  std::vector<ClaimRecord> claims;
  std::vector<InfluenceRecord> influences;
  std::vector<PictureRecord> pictures;
  std::vector<std::string> words, cautions;              ///< what it comes to, in sentences
};

}  // namespace steadyfire
