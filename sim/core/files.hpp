#pragma once
/// Files that a scenario names beside itself, wherever they lie: on the disk unless the program says otherwise.

#include <filesystem>
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

}  // namespace steadyfire
