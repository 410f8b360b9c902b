#pragma once
/// The folder that `serve` opened: its scenarios are listed, read and saved, and nothing outside of it.

#include <filesystem>
#include <mutex>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace steadyfire::web {

/// What is not done, with the status that HTTP has for it.
struct Refused : std::runtime_error {
  Refused(int status, std::string const& words, std::string hint = "") : std::runtime_error{words}, status{status}, hint{std::move(hint)} {}
  int status;
  std::string hint;
};

/// A scenario's text. `stamp` is a hash of it, so it changes whenever the file does.
struct FileText { std::string name, text, stamp; };

struct FileEntry {
  std::string name, title;
  bool opened = false;  ///< the file that the call names
};

std::string stamp_of(std::string_view text);

/// Shape   names are relative, parts joined by "/", and end in ".toml"; hidden parts have no name here.
///         Threads may share one.
/// Errors  Refused 400 (a name that is none), 403 (it lies outside, by a symbolic link), 404, 413, 415 (no UTF-8), 507 (the
///         disk); std::system_error is not let out.
class Folder {
 public:
  /// A folder, or one scenario: then its folder, without the folders below.
  /// Errors  BadInput: E101.
  explicit Folder(std::filesystem::path const& what);

  /// The opened file first, then by name. Files that are TOML but no scenario are left out; at most 1000, five folders deep.
  std::vector<FileEntry> list() const;
  bool has(std::string const& name) const;
  FileText read(std::string const& name) const;

  /// Writes the file whole or not at all, and only if it still has `stamp`; without one, only if it is not there. The stamp of
  /// what is written, or the file as it stands now.
  ///
  /// Valid   against other saves through this Folder; another program that writes between the last look and the exchange of the
  ///         files (some microseconds) loses its change, but no file is made over.
  struct Saved { std::optional<FileText> changed; std::string stamp; };
  Saved save(std::string const& name, std::string const& text, std::optional<std::string> const& stamp);

  /// Makes a file of any sort that is not there yet, and the folders to it; false where it is. Errors: Refused.
  bool add(std::filesystem::path const& file, std::string_view content);

  /// A table (.csv) beside a scenario, for the engine, anywhere below the folder. Errors: Refused, 415 of what is no table, so that words
  /// of no other file get into an answer; tells nothing of what lies outside.
  std::string read_beside(std::filesystem::path const& file) const;

  std::filesystem::path const& root() const { return root_; }
  /// The name of the file that the call names; "" for a folder.
  std::string const& opened() const { return opened_; }

 private:
  std::filesystem::path inside(std::filesystem::path const& relative, bool may_lack) const;

  std::filesystem::path root_;  // canonical
  std::string opened_;
  std::mutex saving_;
};

}  // namespace steadyfire::web
