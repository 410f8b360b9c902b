#pragma once
/// Bytes as text in UTF-8.

#include <cstddef>
#include <string>
#include <string_view>

namespace steadyfire {

/// How many bytes from the first on are UTF-8 (RFC 3629): all of them where all is well.
std::size_t utf8_bytes(std::string_view);
inline bool is_utf8(std::string_view text) { return utf8_bytes(text) == text.size(); }

/// How many characters (code points) a text has.
std::size_t count_characters(std::string_view);

/// Whether it has a character that is no sign but moves a cursor or sets a terminal: below U+0020, or U+007F to U+009F.
bool has_control_character(std::string_view);

/// The text with '?' for each of these but tab and line feed, as a terminal is shown it.
std::string printable(std::string_view);

}  // namespace steadyfire
