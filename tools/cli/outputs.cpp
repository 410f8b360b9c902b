#include "tools/cli/outputs.hpp"

#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <iostream>
#include <optional>
#include <system_error>

#include "sim/core/diagnostic.hpp"

namespace steadyfire::cli {
namespace fs = std::filesystem;
namespace {

Outputs const* begun = nullptr;  // what a signal has to take away

[[noreturn]] void refuse(std::string const& path, char const* code, std::string const& words, std::string const& expected,
                         std::string const& hint) {
  throw BadInput(fmt::format("{}: error[{}]: {}\n  expected  {}\n  hint      {}; nothing was run\n", path, code, words, expected, hint));
}

/// Whether a name is standard output's: one of its own names, or that of the file that it goes to.
bool is_standard_output(std::string const& path) {
  for (auto const* name : {"-", "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"})
    if (path == name) return true;
  struct stat out{}, other{};
  return ::fstat(STDOUT_FILENO, &out) == 0 && S_ISREG(out.st_mode) && ::stat(path.c_str(), &other) == 0 && out.st_dev == other.st_dev &&
         out.st_ino == other.st_ino;
}

/// The same file, whatever links lead to it. Devices and pipes take any number of outputs.
bool are_same(fs::path const& a, fs::path const& b) {
  std::error_code none;
  if (fs::is_other(fs::status(a, none))) return false;
  return fs::equivalent(a, b, none) || behind_links(a) == behind_links(b);
}

bool ends_in(fs::path const& path, std::string_view ending) {
  return path.extension() == ending || behind_links(path).extension() == ending;
}

}  // namespace

Outputs::~Outputs() {
  begun = nullptr;
  all_.clear();
  std::error_code not_empty;
  for (auto i = folders_made_.rbegin(); i != folders_made_.rend(); ++i) fs::remove(*i, not_empty);
}

void Outputs::add(std::string option, std::string& path, Sort sort) {
  if (path.empty()) return;
  if (sort != Sort::folder && is_standard_output(path)) path = "-";
  all_.push_back({std::move(option), path, sort});
}

void Outputs::add_folder(std::string option, std::string& path, std::vector<std::string> const& files) {
  if (path.empty()) return;
  all_.push_back({option, path, Sort::folder});
  for (auto const& file : files) all_.push_back({option, (fs::path{path} / file).string(), Sort::file, true});
}

bool Outputs::to_standard_output() const {
  return std::any_of(all_.begin(), all_.end(), [](One const& one) { return one.path == "-"; });
}

void Outputs::look() const {
  for (auto const& one : all_)
    if (one.path != "-") look_at(one);
  for (auto b = all_.begin(); b != all_.end(); ++b)
    for (auto a = all_.begin(); a != b; ++a) {
      if (a->path == "-" && b->path == "-")
        throw BadInput(fmt::format("error[{}]: {} and {} both go to standard output\n  expected  - for one of them\n", "E109", a->option,
                                   b->option));
      if (a->option != b->option && are_same(a->path, b->path))
        refuse(b->path, "E109", fmt::format("{} and {} write the same file", a->option, b->option), "a file for each",
               "choose another name for one of them");
    }
}

void Outputs::keep(One const& one, char const* what) {
  refuse(one.path, "E109", fmt::format("{} would replace {}", one.option, what), "a new file, or an older result of the same sort",
         "choose another name for " + one.option);
}

void Outputs::look_at(One const& one) const {
  std::error_code none;
  auto const& path = one.path;
  if (one.sort == Sort::new_file && fs::exists(path, none))
    throw BadInput(fmt::format("{}: error[{}]: the file already exists\n  expected  a new file name\n  hint      nothing was written\n",
                               path, "E242"));
  if (one.sort == Sort::folder) {
    if (fs::exists(path, none) && !fs::is_directory(path, none))
      refuse(path, "E108", "this is a file, not a folder", "the name of a folder", "choose another name");
    return;
  }
  char const* const expected = "a file in a folder that exists";
  auto const folder = fs::path{path}.parent_path();
  if (fs::is_directory(path, none)) refuse(path, "E108", "this is a folder, not a file", expected, "add a file name");
  if (!one.within && !folder.empty() && !fs::is_directory(folder, none))
    refuse(path, "E108", "there is no folder '" + folder.string() + "'", expected, "create the folder, or correct its name");
  if (!fs::exists(path, none)) return;
  if (ends_in(path, ".toml")) keep(one, "a TOML file");
  if (ends_in(path, ".store") && one.sort != Sort::store) keep(one, "a store of a study");
}

void Outputs::begin() {
  for (auto const& one : all_)
    if (one.path != "-" && was_read(one.path))
      keep(one, "a file that this command reads");
  begun = this;
  for (int const signal : {SIGINT, SIGTERM, SIGHUP})  // where no one listens to them
    if (auto const before = std::signal(signal, end_by); before != SIG_DFL) std::signal(signal, before);
  for (auto& one : all_) {
    if (one.path == "-" || one.sort == Sort::store) continue;
    if (one.sort != Sort::folder) {
      one.file = std::make_unique<OutputFile>(one.path, one.sort == Sort::new_file ? OutputFile::Over::nothing : OutputFile::Over::a_file);
      continue;
    }
    std::vector<fs::path> missing;
    for (auto above = fs::path{one.path}; !above.empty() && !fs::exists(above); above = above.parent_path()) missing.push_back(above);
    std::error_code refused;
    folders_made_.insert(folders_made_.end(), missing.rbegin(), missing.rend());
    fs::create_directories(one.path, refused);
    if (refused) throw std::system_error(refused, one.path);
  }
}

void Outputs::end_by(int signal) {
  if (begun) begun->remove_what_was_begun();
  std::signal(signal, SIG_DFL);
  std::raise(signal);
}

/// In a signal: no more than the system's own calls.
void Outputs::remove_what_was_begun() const {
  for (auto const& one : all_)
    if (one.file) ::unlink(one.file->beside().c_str());
}

std::ostream& Outputs::stream(std::string const& path) {
  if (path == "-") return std::cout;
  for (auto& one : all_)
    if (one.path == path && one.file) return one.written = true, one.file->stream();
  throw InternalError("an output that was not begun: " + path);
}

void Outputs::commit() {
  std::cout.flush();
  std::optional<std::system_error> loss;
  for (auto& one : all_)
    if (one.written) try {
        one.file->commit();
      } catch (std::system_error const& e) {
        if (!loss) loss = e;
      }
  if (loss) throw *loss;
}

}  // namespace steadyfire::cli
