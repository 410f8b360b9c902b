#include "tools/cli/command.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <system_error>

#include "models/catalog.hpp"

namespace steadyfire::cli {

Project load(std::string const& scenario) {
  std::string const text = read_text(scenario);
  Diagnostics faults;
  Document const document = read_document(scenario, text, catalog(), faults);
  Project project;
  if (faults.empty()) project = make_project(document, catalog(), faults);
  if (!faults.empty()) throw BadInput(faults.render(scenario, text));
  return project;
}

void write_file(std::string const& path, std::string const& content) {
  if (path == "-") {
    std::cout << content << std::flush;
    if (!std::cout) throw std::system_error(errno, std::generic_category(), "standard output");
    return;
  }
  std::string const beside = path + ".part";
  {
    std::ofstream out{beside, std::ios::binary};
    out << content << std::flush;
    if (!out) {
      int const why = errno;
      out.close();
      std::error_code ignored;
      std::filesystem::remove(beside, ignored);
      throw std::system_error(why, std::generic_category(), path);
    }
  }
  std::error_code refused;
  std::filesystem::rename(beside, path, refused);
  if (refused) {
    std::error_code ignored;
    std::filesystem::remove(beside, ignored);
    throw std::system_error(refused, path);
  }
}

std::string to_words(std::vector<Finding> const& findings, UnitSystem) {
  if (findings.empty()) return "Nothing to complain of.\n";
  std::string text;
  for (auto const& f : findings) text += fmt::format("  {:<8} {}: {}\n{:11}[{}; {}]\n", f.weight, f.place, f.words, "", f.id, f.whose);
  return text;
}

}  // namespace steadyfire::cli
