#pragma once
/// What a command writes, so that nothing is lost: not its inputs, not what it found, and not an older file.

#include <memory>
#include <string>
#include <vector>

#include "sim/core/files.hpp"

namespace steadyfire::cli {

/// The outputs of one command, each with the option that names it; "" is not asked for, "-" is standard output.
///
/// Shape   the command line adds and looks at them; the command begins them once it has read all that it reads, and before its work;
///         after its summary it writes them, and what was written has its name after `commit`.
/// Errors  BadInput (E108, E109, E242) before the work; std::system_error (exit code 4) where a file cannot be begun or is lost.
class Outputs {
 public:
  enum class Sort {
    file,      ///< replaces an older one
    new_file,  ///< must not be there
    store,     ///< opened by others, who go on with an older one
    folder     ///< made if need be
  };
  ~Outputs();
  /// `path` becomes "-" where it is another name of standard output.
  void add(std::string option, std::string& path, Sort = Sort::file);
  /// A folder with the files that may be written into it.
  void add_folder(std::string option, std::string& path, std::vector<std::string> const& files);
  void look() const;
  void begin();
  std::ostream& stream(std::string const& path);
  /// What `make` gives, where the path is asked for.
  template <class F>
  void write(std::string const& path, F const& make) {
    if (!path.empty()) stream(path) << make();
  }
  /// Each file that was written gets its name, also where another is lost; then the first loss is told.
  void commit();
  bool to_standard_output() const;

 private:
  struct One {
    std::string option, path;
    Sort sort;
    bool within = false;  ///< a folder of the same option
    std::unique_ptr<OutputFile> file{};
    bool written = false;
  };
  void look_at(One const&) const;
  [[noreturn]] static void keep(One const&, char const* what);
  void remove_what_was_begun() const;
  static void end_by(int signal);

  std::vector<One> all_;
  std::vector<std::filesystem::path> folders_made_;
};

}  // namespace steadyfire::cli
