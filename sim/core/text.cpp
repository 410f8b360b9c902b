#include "sim/core/text.hpp"

#include <algorithm>

namespace steadyfire {
namespace {
unsigned char byte(char c) { return static_cast<unsigned char>(c); }
bool continues(char c) { return (byte(c) & 0xC0) == 0x80; }
}  // namespace

std::size_t utf8_bytes(std::string_view text) {
  std::size_t i = 0;
  while (i < text.size()) {
    auto const lead = byte(text[i]);
    std::size_t const length = lead < 0x80 ? 1 : lead < 0xC2 ? 0 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : lead < 0xF5 ? 4 : 0;
    if (length == 0 || i + length > text.size()) return i;
    for (std::size_t k = 1; k < length; ++k)
      if (!continues(text[i + k])) return i;
    auto const second = length > 1 ? byte(text[i + 1]) : 0;
    // Longer than need be, a half of a pair of UTF-16, beyond U+10FFFF.
    if ((lead == 0xE0 && second < 0xA0) || (lead == 0xED && second > 0x9F) || (lead == 0xF0 && second < 0x90) ||
        (lead == 0xF4 && second > 0x8F))
      return i;
    i += length;
  }
  return i;
}

std::size_t count_characters(std::string_view text) {
  return std::size_t(std::count_if(text.begin(), text.end(), [](char c) { return !continues(c); }));
}

namespace {

/// Bytes of the control character that begins here; 0 where none does.
std::size_t control_bytes(std::string_view text, std::size_t i) {
  if (byte(text[i]) < 0x20 || byte(text[i]) == 0x7F) return 1;
  return byte(text[i]) == 0xC2 && i + 1 < text.size() && byte(text[i + 1]) < 0xA0 ? 2 : 0;
}

}  // namespace

bool has_control_character(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i)
    if (control_bytes(text, i) > 0) return true;
  return false;
}

std::string printable(std::string_view text) {
  std::string shown;
  for (std::size_t i = 0; i < text.size(); ++i) {
    auto const bytes = text[i] == '\t' || text[i] == '\n' ? 0 : control_bytes(text, i);
    shown += bytes > 0 ? '?' : text[i];
    i += bytes > 1 ? bytes - 1 : 0;
  }
  return shown;
}

}  // namespace steadyfire
