#include "tools/cli/command.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tools/job/catalog.hpp"

namespace steadyfire::cli {

Project load(std::string const& scenario) {
  Document document;
  return load(scenario, document);
}

Project load(std::string const& scenario, Document& document) {
  std::string const text = read_text(scenario);
  Diagnostics faults;
  document = read_document(scenario, text, catalog(), faults);
  auto project = make_project(document, catalog(), faults);
  if (!faults.empty() || !project.file_faults.empty()) throw BadInput(faults.render(scenario, text) + project.file_faults.rendered);
  return project;
}

std::string to_words(std::vector<Finding> findings, UnitSystem system) {
  if (findings.empty()) return "No findings.\n";
  std::string text;
  for (auto const& group : grouped(std::move(findings))) {
    auto const& f = group.first;
    text += fmt::format("  {:<8} {}{}{}\n", word_for(f.severity), f.place, f.place.empty() ? "" : ": ", f.words.in(system));
    if (!group.others.empty()) text += fmt::format("{:11}Also: {}\n", "", group.also().in(system));
    text += fmt::format("{:11}{}[{}]\n", "", f.fix.empty() ? "" : "Fix: " + f.fix_in(system) + " ", f.id);
  }
  return text;
}

}  // namespace steadyfire::cli
