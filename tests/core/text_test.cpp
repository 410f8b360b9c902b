#include "sim/core/text.hpp"

#include <gtest/gtest.h>

#include <string>

namespace steadyfire {
namespace {

// RFC 3629, sections 3 and 4: the first and last of each length, and the octets that never appear.
TEST(Text, Utf8IsWhatTheStandardSays) {
  for (std::string const good : {"", "a", "\x7F", "\xC2\x80", "\xDF\xBF", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80", "\xEF\xBF\xBF",
                                 "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF", "36 °F"})
    EXPECT_TRUE(is_utf8(good)) << good;
  for (std::string const bad : {"\x80", "\xC0\x80", "\xC1\xBF", "\xE0\x9F\xBF", "\xED\xA0\x80", "\xF0\x8F\xBF\xBF", "\xF4\x90\x80\x80",
                                "\xF5\x80\x80\x80", "\xFF", "\xC2", "\xE2\x82", "\xE9t\xE9"})
    EXPECT_EQ(utf8_bytes("°" + bad), 2u) << bad;
}

TEST(Text, CharactersAreCodePoints) { EXPECT_EQ(count_characters("5 °F\xF0\x9F\x94\xA5"), 5u); }

TEST(Text, ControlCharactersAreThoseOfAsciiAndUnicode) {
  for (std::string const bad : {"\x1b[2J", "a\n", "\t", "\x7F", "x\xC2\x80", "\xC2\x9Bm"}) EXPECT_TRUE(has_control_character(bad)) << bad;
  for (std::string const good : {"bath", "\xC2\xA0", "°", "é", "\xE2\x80\x9C"}) EXPECT_FALSE(has_control_character(good)) << good;
}

}  // namespace
}  // namespace steadyfire
