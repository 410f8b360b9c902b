#include "sim/core/files.hpp"

#include <fstream>
#include <sstream>

namespace steadyfire {
namespace {

std::function<std::string(std::filesystem::path const&)> source;

std::string read_from_disk(std::filesystem::path const& file) {
  std::ifstream in{file, std::ios::binary};
  std::ostringstream text;
  if (in) text << in.rdbuf();
  if (!in || (text.fail() && !std::filesystem::is_regular_file(file))) throw NoFile{"there is no file to be read here"};
  return text.str();
}

}  // namespace

std::string read_file(std::filesystem::path const& file) { return source ? source(file) : read_from_disk(file); }

std::string refusal_of(std::filesystem::path const& file) {
  if (!source) return std::filesystem::is_regular_file(file) ? "" : "there is no file";
  try {
    (void)source(file);
    return "";
  } catch (NoFile const& e) {
    return e.what();
  }
}

void set_file_source(std::function<std::string(std::filesystem::path const&)> other) { source = std::move(other); }

}  // namespace steadyfire
