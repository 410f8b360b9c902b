#pragma once
/// A scenario from its text, as commands read it from a file, and its run.

#include "tools/job/catalog.hpp"
#include "tools/job/house_run.hpp"

namespace steadyfire {

/// `file` is what faults call it, and where files that it names are looked for.
///
/// Errors  BadInput with all faults, here and below.
inline Document document_of(std::string const& text, std::string const& file = "test.toml") {
  Diagnostics faults;
  auto document = read_document(file, text, catalog(), faults);
  if (!faults.empty()) throw BadInput(faults, file, text);
  return document;
}

inline Project project_of(Document const& document) {
  Diagnostics faults;
  auto project = make_project(document, catalog(), faults);
  if (!faults.empty()) throw BadInput(faults, document.file, document.text);
  if (!project.file_faults.empty()) throw BadInput(project.file_faults.rendered);
  return project;
}

inline Project project_of(std::string const& text, std::string const& file = "test.toml") { return project_of(document_of(text, file)); }

/// Its run through so many seconds, whatever its file says of the length.
inline RunResult run_for(Project const& project, double seconds) {
  auto options = options_of(project);
  options.duration = seconds;
  return run_study(project.installation, options, RunWeather{project}, {}, {});
}

}  // namespace steadyfire
