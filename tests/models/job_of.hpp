#pragma once
/// A job to be reviewed, from the text of its file.

#include <gtest/gtest.h>

#include "tests/project_of.hpp"
#include "tests/told.hpp"
#include "tools/review/reviewer.hpp"

namespace steadyfire {

class JobOf {
 public:
   explicit JobOf(std::string const& text)
       : document_{document_of(text)}, project_{project_of(document_)}, flows_{study_flows(project_.installation,
                                                                                           flows_options_of(project_))} {}
   Job job() const { return {document_, catalog(), project_, flows_, run_, {}, {}}; }
   Project const& project() const { return project_; }
   Document const& document() const { return document_; }

 private:
  Document document_;
  Project project_;
  FlowsRecord flows_;
  Record run_;
};

inline std::vector<std::string> ids_of(ReviewPart const& part) {
  std::vector<std::string> ids;
  for (auto const& f : part.findings) ids.push_back(f.id);
  return ids;
}

/// The row of a table whose cell in a column reads so; fails the test if there is none.
inline std::vector<ReviewCell> row_with(ReviewTable const& table, std::size_t column, std::string const& words) {
  for (auto const& row : table.rows)
    if (us(row.at(column).words) == words) return row;
  ADD_FAILURE() << table.id << " has no row with '" << words << "'";
  return std::vector<ReviewCell>(table.columns.size(), ReviewCell{""});
}

}  // namespace steadyfire
