#include "plots/page_text.hpp"

#include <algorithm>
#include <cctype>
#include <utility>

#include "sim/core/text.hpp"

namespace steadyfire {
namespace {

void replace_all(std::string& text, std::string_view what, std::string_view by) {
  for (size_t at = 0; (at = text.find(what, at)) != std::string::npos; at += by.size()) text.replace(at, what.size(), by);
}
bool starts_character(char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }  // in UTF-8
size_t characters(std::string_view text) {
  size_t n = 0;
  for (char c : text) n += starts_character(c);
  return n;
}
std::string first_characters(std::string_view text, size_t n) {
  size_t i = 0;
  for (; i < text.size(); ++i) {
    if (starts_character(text[i]) && n-- == 0) break;
  }
  return std::string{text.substr(0, i)};
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string out;
  for (char c : printable(text)) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\'': out += "&#39;"; break;
      default: out += c;
    }
  }
  return out;
}

std::string printed(double si, Measure const& m, UnitSystem system) {
  std::string text = show(si, m, system);
  replace_all(text, " ", "\u00a0");
  return text;
}

std::string begun_large(std::string words) {
  if (!words.empty()) words[0] = char(std::toupper(static_cast<unsigned char>(words[0])));
  return words;
}

std::string counted(size_t n) {
  auto out = std::to_string(n);
  for (auto at = long(out.size()) - 3; at > 0; at -= 3) out.insert(size_t(at), "\u00a0");
  return out;
}

std::vector<std::string> lines_of(std::string_view text, size_t width, size_t most) {
  std::vector<std::string> lines;
  std::string line;
  for (size_t at = 0; at < text.size();) {
    size_t const end = std::min(text.find(' ', at), text.size());
    auto const word = text.substr(at, end - at);
    if (!line.empty() && characters(line) + 1 + characters(word) > width) lines.push_back(std::exchange(line, {}));
    if (!word.empty()) line += (line.empty() ? "" : " ") + std::string{word};
    at = end + 1;
  }
  if (!line.empty()) lines.push_back(line);
  bool const cut = lines.size() > most;
  if (cut) lines.resize(most);
  for (auto& l : lines) {
    if (characters(l) > width || (cut && &l == &lines.back())) l = first_characters(l, width - 1) + "…";
  }
  return lines;
}

}  // namespace steadyfire
