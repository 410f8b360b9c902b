#pragma once
/// A small house with side data, reviewed: for tests that meet a reviewer as a user does.

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/project_of.hpp"
#include "tests/told.hpp"
#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// One zone and a boiler of this input; `side` are further tables, `boiler` further lines of [boiler].
inline std::string job_text(std::string const& side, double input_kBtu, std::string const& boiler = "") {
  return fmt::format(R"(format = 1
title = "A job"
[site]
outdoor_design = "5 degF"
[boiler]
heating_input = "{} kBtu/h"
minimum_input = "{} kBtu/h"
{}
[near_boiler]
arrangement = "direct"
[[zone]]
name = "house"
design_load = "30 kBtu/h"
emitter = {{ kind = "fin-tube baseboard", length = "90 ft" }}
)", input_kBtu, input_kBtu / 10, boiler) + side;
}

/// The part of the review of that job. `run` and `flows` stand for what the studies would have found.
inline ReviewPart reviewed_part(std::string const& id, std::string const& side, double input_kBtu, std::string const& boiler = "",
                                Record const& run = {}, FlowsRecord const& flows = {}) {
  auto const document = document_of(job_text(side, input_kBtu, boiler));
  auto const project = project_of(document);
  for (auto const reviewer : reviewers())
    if (auto part = reviewer({document, catalog(), project, flows, run, {}, {}}); part.id == id) return part;
  ADD_FAILURE() << "nobody reviews " << id;
  return {};
}

inline std::vector<std::string> serious(ReviewPart const& part) {
  std::vector<std::string> list;
  for (auto const& f : part.findings)
    if (f.severity == Severity::serious) list.push_back(f.id + " " + f.place);
  return list;
}
inline std::vector<std::string> held(ReviewPart const& part) {
  std::vector<std::string> list;
  for (auto const& j : part.in_order) list.push_back(j.id + " " + j.place);
  return list;
}
/// Errors  std::out_of_range if there is none.
inline Finding const& finding(ReviewPart const& part, std::string const& id) {
  for (auto const& f : part.findings)
    if (f.id == id) return f;
  throw std::out_of_range("no finding " + id);
}
inline ReviewCell const& cell_of(ReviewPart const& part, std::string const& table, int row, std::string const& column) {
  for (auto const& t : part.tables)
    if (t.id == table)
      for (std::size_t c = 0; c < t.columns.size(); ++c)
        if (t.columns[c] == column) return t.rows.at(row).at(c);
  throw std::out_of_range("no column " + column);
}
inline double cell(ReviewPart const& part, std::string const& table, int row, std::string const& column) {
  return cell_of(part, table, row, column).value;
}
inline std::string words(ReviewPart const& part, std::string const& table, int row, std::string const& column) {
  return us(cell_of(part, table, row, column).words);
}

}  // namespace steadyfire
