#include "tools/cli/command.hpp"

#include <fmt/format.h>

#include <algorithm>

#include <cerrno>
#include <filesystem>
#include <iostream>
#include <system_error>

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

OutputFile::OutputFile(std::string path) : path_{path}, beside_{std::move(path)} {
  if (path_ == "-") return;
  std::error_code ignored;
  auto const kind = std::filesystem::status(path_, ignored).type();
  if (kind == std::filesystem::file_type::not_found || kind == std::filesystem::file_type::regular) beside_ += ".part";
  out_.open(beside_, std::ios::binary);
  if (!out_) throw std::system_error(errno, std::generic_category(), path_);
}

OutputFile::~OutputFile() {
  if (committed_ || beside_ == path_) return;
  out_.close();
  std::error_code ignored;
  std::filesystem::remove(beside_, ignored);
}

std::ostream& OutputFile::stream() { return path_ == "-" ? std::cout : out_; }

void OutputFile::commit() {
  flush_whole(stream(), path_ == "-" ? "standard output" : path_);
  if (beside_ == path_) return;
  std::error_code refused;
  std::filesystem::rename(beside_, path_, refused);
  if (refused) throw std::system_error(refused, path_);
  committed_ = true;
}

void flush_whole(std::ostream& out, std::string const& name) {
  bool const whole = bool(out);
  if (!whole) out.clear(), errno = EIO, out << '\n';  // tried once more, to learn why
  if (!(out << std::flush) || !whole) throw std::system_error(errno, std::generic_category(), name);
}

void write_file(std::string const& path, std::string const& content) {
  OutputFile file{path};
  file.stream() << content;
  file.commit();
}

void refuse_existing(std::string const& path) {
  if (!path.empty() && path != "-" && std::filesystem::exists(path))
    throw BadInput(fmt::format("{}: error[{}]: the file already exists\n  expected  a new file name\n  hint      nothing was written\n",
                               path, "E242"));
}

namespace {
BadInput no_place(std::string const& path, std::string const& what, char const* expected, char const* hint) {
  return BadInput(fmt::format("{}: error[{}]: {}\n  expected  {}\n  hint      {}; nothing was run\n", path, "E108", what, expected, hint));
}
}  // namespace

void refuse_without_folder(std::string const& path) {
  if (path.empty() || path == "-") return;
  std::error_code ignored;
  auto const folder = std::filesystem::path(path).parent_path();
  char const* const expected = "a file in a folder that exists";
  if (std::filesystem::is_directory(path, ignored)) throw no_place(path, "this is a folder, not a file", expected, "add a file name");
  if (!folder.empty() && !std::filesystem::is_directory(folder, ignored))
    throw no_place(path, "there is no folder '" + folder.string() + "'", expected, "create the folder, or correct its name");
}

void refuse_file_as_folder(std::string const& path) {
  std::error_code ignored;
  if (!path.empty() && std::filesystem::exists(path, ignored) && !std::filesystem::is_directory(path, ignored))
    throw no_place(path, "this is a file, not a folder", "the name of a folder", "choose another name");
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
