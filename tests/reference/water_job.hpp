#pragma once
/// A job whose water side is reviewed, from the text of its file, with its flows and its run.

#include <gtest/gtest.h>

#include "tests/project_of.hpp"
#include "tests/told.hpp"
#include "tools/review/reviewer.hpp"

namespace steadyfire::water_job {

class ConstantOutdoors final : public Forcing {
public:
  explicit ConstantOutdoors(double kelvin) : kelvin_{kelvin} {}
  double at(double) const override { return kelvin_; }
  double slope(double) const override { return 0; }
  double next_knot(double) const override { return 1e300; }

private:
  double kelvin_;
};

/// The part of that name in the review of a job; runs it for as long as its [run] says.
inline ReviewPart part_of(std::string const& id, std::string const& text) {
  auto const document = document_of(text);
  auto const project = project_of(document);
  auto const flows = study_flows(project.installation, flows_options_of(project));
  RunOptions options;
  options.duration = *project.run.duration, options.start_water = *project.run.start_water;
  options.ground = project.ground, options.unheated = project.unheated;
  auto const run = run_study(project.installation, options, ConstantOutdoors{project.installation.outdoor_design}, nullptr, nullptr).record;
  for (auto const reviewer : reviewers())
    if (auto part = reviewer({document, catalog(), project, flows, run, nullptr, nullptr}); part.id == id) return part;
  ADD_FAILURE() << "nobody reviews " << id;
  return {};
}

/// Errors  std::out_of_range if there is none.
inline double cell(ReviewPart const& part, std::string const& table, std::size_t row, std::string const& column) {
  for (auto const& t : part.tables)
    if (t.id == table)
      for (std::size_t c = 0; c < t.columns.size(); ++c)
        if (t.columns[c] == column && t.rows.at(row).at(c).is_number) return t.rows[row][c].value;
  throw std::out_of_range("no number under " + column);
}
inline std::size_t row_of(ReviewPart const& part, std::string const& table, std::string const& first) {
  for (auto const& t : part.tables)
    if (t.id == table)
      for (std::size_t r = 0; r < t.rows.size(); ++r)
        if (us(t.rows[r].at(0).words) == first) return r;
  throw std::out_of_range("no row " + first);
}
inline bool finds(ReviewPart const& part, std::string const& id) {
  return std::any_of(part.findings.begin(), part.findings.end(), [&](auto const& f) { return f.id == id; });
}
inline Finding const& finding(ReviewPart const& part, std::string const& id) {
  for (auto const& f : part.findings)
    if (f.id == id) return f;
  throw std::out_of_range("no finding " + id);
}
inline Judgement const& held(ReviewPart const& part, std::string const& id) {
  for (auto const& j : part.in_order)
    if (j.id == id) return j;
  throw std::out_of_range("nothing in order is called " + id);
}
inline bool says(std::vector<Words> const& lines, std::string const& words) {
  return std::any_of(lines.begin(), lines.end(), [&](auto const& line) { return us(line).find(words) != std::string::npos; });
}

/// One zone straight through, the boiler of 80 kBtu/h; `side` are further tables.
inline std::string house(std::string const& side, std::string const& zone = "", std::string const& near_boiler = "") {
  return R"(format = 1
title = "A job"
[site]
outdoor_design = "5 degF"
[boiler]
heating_input = "80 kBtu/h"
minimum_input = "10 kBtu/h"
[near_boiler]
)" + (near_boiler.empty() ? "arrangement = \"direct\"\n" : near_boiler) +
         R"([run]
duration = "1 h"
[[zone]]
name = "house"
design_load = "30 kBtu/h"
emitter = { kind = "fin-tube baseboard", length = "90 ft" }
)" + zone +
         side;
}

}  // namespace steadyfire::water_job
