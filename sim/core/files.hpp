#pragma once
/// Files: what a scenario names beside itself, wherever that lies, and what a command leaves behind.

#include <filesystem>
#include <fstream>
#include <functional>
#include <stdexcept>
#include <string>

namespace steadyfire {

/// A file that is not given; `what()` tells why.
struct NoFile : std::runtime_error { using std::runtime_error::runtime_error; };

/// All its bytes. Errors: NoFile.
std::string read_file(std::filesystem::path const&);

/// "", or why `read_file` would not give it: words for before its name, as "there is no file".
std::string refusal_of(std::filesystem::path const&);

/// From then on `read_file` asks this one, on any thread; empty is the disk again. It throws NoFile for what it does not give.
/// Valid   while nothing reads: a program sets it once, before its work begins.
void set_file_source(std::function<std::string(std::filesystem::path const&)>);

/// Remembers a file of the disk as read; `read_file` does so by itself.
void note_read(std::filesystem::path const&);
/// Whether this very file was read, under whatever name: such a file is the user's, and nothing is written over it.
bool was_read(std::filesystem::path const&);

/// What a name stands for once all links on its way are followed; the file itself need not be there.
std::filesystem::path behind_links(std::filesystem::path const&);

/// A file that is written whole or not at all: to one beside it, which takes its name at `commit`. One that is replaced keeps its
/// permissions, and where a link has the name it is what the link leads to. What is no plain file, as a pipe, is written straight.
///
/// Errors  std::system_error with its name, of the constructor where it cannot be begun.
class OutputFile {
 public:
  enum class Over { a_file, nothing };  ///< what may have the name already
  explicit OutputFile(std::filesystem::path const&, Over = Over::a_file);
  ~OutputFile();
  OutputFile(OutputFile const&) = delete;
  std::ostream& stream() { return out_; }
  /// Without it nothing is left. Errors: EEXIST over nothing where there is a file by now.
  void commit();
  /// The file beside; empty for what is written straight.
  std::filesystem::path const& beside() const { return beside_; }

 private:
  std::string const name_;
  std::filesystem::path const target_;
  Over const over_;
  std::filesystem::path beside_;
  std::ofstream out_;
};

/// Errors  std::system_error where anything written to it was lost; `name` is how it is told.
void flush_whole(std::ostream&, std::string const& name);

}  // namespace steadyfire
