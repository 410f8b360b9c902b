#include "sim/scenario/toml.hpp"

#include <algorithm>
#include <vector>

namespace steadyfire {
namespace {

/// The byte at which keys and brackets go deeper than that; npos for nowhere. Of a text that is no TOML it may be any.
std::size_t too_deep_at(std::string_view text) {
  std::vector<int> open;  // levels that each bracket opens, with the dots of the key before it
  int depth = 0, dots = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    char const c = text[i];
    if (auto const three = text.substr(i, 3); three == "\"\"\"" || three == "'''") {
      for (i += 3; i < text.size() && text.substr(i, 3) != three; ++i)
        if (c == '"' && text[i] == '\\') ++i;
      i += 2;
    } else if (c == '"' || c == '\'') {
      for (++i; i < text.size() && text[i] != c && text[i] != '\n'; ++i)
        if (c == '"' && text[i] == '\\') ++i;
      if (i < text.size() && text[i] == '\n') --i;  // not closed: the line ends all the same
    } else if (c == '#') {
      i = std::min(text.find('\n', i), text.size()) - 1;
    } else if (c == '[' || c == '{') {
      open.push_back(dots + 1), depth += dots + 1, dots = 0;
    } else if (c == ']' || c == '}') {
      if (!open.empty()) depth -= open.back(), open.pop_back();
      dots = 0;
    } else if (c == ',' || c == '\n') {
      dots = 0;
    } else if (c == '.') {
      ++dots;
    }
    if (depth + dots > deepest_toml) return i;
  }
  return text.npos;
}

}  // namespace

toml::table parse_toml(std::string_view text) {
  auto const at = too_deep_at(text);
  if (at == text.npos) return toml::parse(text);
  toml::source_position place{1, 1};
  for (char const c : text.substr(0, at))
    if (c == '\n') ++place.line, place.column = 1;
    else if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) ++place.column;
  throw toml::parse_error{nested_too_deeply, place};
}

}  // namespace steadyfire
