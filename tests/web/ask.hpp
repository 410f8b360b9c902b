#pragma once
/// Asks as the page sends them.

#include <filesystem>

#include "sim/core/files.hpp"
#include "tools/web/engine.hpp"
#include "tests/paths.hpp"

namespace steadyfire::web {

/// The shipped scenarios, by their paths.
inline std::vector<std::string> shipped_scenarios() {
  std::vector<std::string> files;
  for (auto const& entry : std::filesystem::directory_iterator{in_source("/scenarios")})
    if (entry.path().extension() == ".toml") files.push_back(entry.path().string());
  std::sort(files.begin(), files.end());
  return files;
}

inline Json about_text(std::string const& text, char const* units = "us") {
  return {{"text", text}, {"file", in_source("/scenarios/as_sent.toml")}, {"units", units}};
}
inline Json about(std::string const& file, char const* units = "us") {
  return {{"text", read_file(file)}, {"file", file}, {"units", units}};
}

inline Json with_edits(Json request, Json edits) {
  request["edits"] = std::move(edits);
  return request;
}
inline Json set_edit(Json const& at, std::string const& value) { return {{"do", "set"}, {"at", at}, {"value", value}}; }
inline Json place(std::string const& table, int index, std::vector<std::string> const& path) {
  return {{"table", table}, {"index", index}, {"path", path}};
}

}  // namespace steadyfire::web
