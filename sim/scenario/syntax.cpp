#include "sim/scenario/syntax.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "sim/scenario/toml.hpp"

namespace steadyfire {

namespace {
using std::string_view;
constexpr auto nowhere = string_view::npos;

string_view trimmed(string_view s) {
  auto const first = s.find_first_not_of(" \t\r");
  return first == nowhere ? s.substr(0, 0) : s.substr(first, s.find_last_not_of(" \t\r") - first + 1);
}
/// A text's part up to the first of some characters.
string_view until(string_view s, string_view ends) { return s.substr(0, s.find_first_of(ends)); }
bool has(string_view s, string_view part) { return s.find(part) != nowhere; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_quote(char c) { return c == '"' || c == '\''; }
bool only_of(string_view s, string_view characters) { return s.find_first_not_of(characters) == nowhere; }
bool continues_character(char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; }
int characters(string_view s) {
  return int(std::count_if(s.begin(), s.end(), [](char c) { return !continues_character(c); }));
}
std::string replaced(string_view s, char from, char to) {
  std::string changed{s};
  std::replace(changed.begin(), changed.end(), from, to);
  return changed;
}

/// Where the parser stopped: in or behind which value of which key, within which open brackets.
class Spot {
public:
  Spot(string_view text, Position at) : text_{text} {
    for (int n = 1; n < at.line && stop < text.size(); ++n) stop = std::min(text.find('\n', stop), text.size() - 1) + 1;
    for (int column = 1; stop < text.size() && text[stop] != '\n' && column < at.column; ++column) do
        ++stop;
      while (stop < text.size() && continues_character(text[stop]));
    scan();
  }

  std::size_t stop = 0;           ///< the byte
  std::size_t quote = nowhere;    ///< the opening quote of the text it stopped in
  std::vector<std::size_t> open;  ///< the brackets around it
  std::size_t value = nowhere;    ///< where the value begins
  string_view key;                ///< of the value
  std::size_t key_begin = 0;      ///< where the last key begins, whole or not

  string_view line() const {
    auto const begin = stop == 0 ? 0 : text_.rfind('\n', stop - 1) + 1;
    return trimmed(until(text_.substr(begin), "\n"));
  }
  /// The value with its quotes, up to what ends it.
  string_view written() const {
    auto const rest = value == nowhere ? string_view{} : trimmed(until(text_.substr(value), "\n"));
    std::size_t const closing = !rest.empty() && is_quote(rest[0]) ? std::min(rest.find(rest[0], 1), rest.size()) : 0;
    return trimmed(rest.substr(0, rest.find_first_of(open.empty() ? "#" : "#,]}", closing)));
  }
  string_view outer_key() const { return keys_.empty() ? key : keys_.back(); }
  char opener() const { return open.empty() ? '\0' : text_[open.back()]; }
  Position at(string_view part) const {
    auto const byte = std::size_t(part.data() - text_.data());
    auto const begin = byte == 0 ? 0 : text_.rfind('\n', byte - 1) + 1;
    return {1 + int(std::count(text_.begin(), text_.begin() + long(byte), '\n')), 1 + characters(text_.substr(begin, byte - begin)),
            std::max(1, characters(part))};
  }
  Position here() const { return at(text_.substr(stop, 1)); }
  Position at_byte(std::size_t byte) const { return at(text_.substr(byte, 1)); }
  /// The first line before this one of which something is true, back to the table's heading or to the beginning.
  Position before(bool within_table, auto is_it) const {
    Position found;
    auto const mine = line();
    for (auto rest = text_; !rest.empty(); rest.remove_prefix(std::min(rest.find('\n'), rest.size() - 1) + 1)) {
      auto const candidate = trimmed(until(rest, "\n"));
      if (candidate.data() == mine.data()) break;
      if (within_table && candidate.starts_with('[')) found = {};
      if (found.line == 0 && is_it(candidate)) found = at(candidate);
    }
    return found;
  }

private:
  void scan() {
    auto const next_statement = [&](std::size_t from) { quote = value = nowhere, key_begin = from, open.clear(), keys_.clear(); };
    for (std::size_t i = 0; i < stop; ++i) {
      char const c = text_[i];
      if (quote != nowhere) {
        if (c == '\\' && text_[quote] == '"') ++i;
        else if (c == text_[quote]) quote = nowhere;
        else if (c == '\n') next_statement(i + 1);
      } else if (auto const three = text_.substr(i, 3); three == "\"\"\"" || three == "'''") {
        i = std::min(text_.find(three, i + 3), stop) + 2;
      } else if (c == '#') {
        i = std::min(text_.find('\n', i), stop) - 1;
      } else if (is_quote(c)) {
        quote = i;
      } else if (c == '\n' && open.empty()) {
        next_statement(i + 1);
      } else if (c == '=' && value == nowhere) {
        key = trimmed(text_.substr(key_begin, i - key_begin)), value = i + 1;
      } else if ((c == '[' || c == '{') && value != nowhere) {
        open.push_back(i), keys_.push_back(key), value = c == '[' ? i + 1 : nowhere, key_begin = i + 1;
      } else if (c == ',' && !open.empty()) {
        value = opener() == '[' ? i + 1 : nowhere, key_begin = i + 1;
      } else if ((c == ']' || c == '}') && !open.empty()) {
        value = open.back(), key = keys_.back(), open.pop_back(), keys_.pop_back();
      }
    }
  }
  string_view text_;
  std::vector<string_view> keys_;  // by the brackets that open their values
};

using Slip = std::optional<Diagnostic>;
Diagnostic slip(Position at, std::string words, std::string expected, std::string hint = "") {
  return {"E105", at, std::move(words), std::move(expected), std::move(hint)};
}
std::string const line_end = "the end of the line, or # and a comment";

/// A value in quotes with something behind it.
Slip explain_behind_text(Spot const& p, string_view v) {
  auto const closing = v.find(v[0], 1);
  auto const behind = closing == nowhere ? string_view{} : trimmed(v.substr(closing + 1));
  if (behind.empty()) return {};
  if (is_digit(v[closing - 1]) && v.back() == v[0])
    return slip(p.at(behind), fmt::format("{} ends at its second quote, and text follows", p.key),
        "in for inches, such as \"3/4 in copper M\"",
                "write in instead of the inch mark");
  if (has(behind, "=") && behind[0] != '#')
    return slip(p.at(behind), "a second key on the same line",
                p.open.empty() ? "one key per line" : "a comma between keys");
  return slip(p.at(behind), fmt::format("extra text after the value of {}", p.key), p.open.empty() ? line_end : "a comma between items");
}

/// 20 ft, -5 degF, 3/4 in, $1.20/therm without quotes: the likeliest slip of all.
bool is_quantity(string_view v) {
  if (v.starts_with('+') || v.starts_with('-')) v.remove_prefix(1);
  bool const price = v.starts_with('$');
  if (price || v.starts_with('.')) v.remove_prefix(1);
  return !v.empty() && is_digit(v[0]) && (price || !only_of(v, "0123456789."));
}

Slip explain_value(Spot const& p) {
  auto const v = p.written();
  std::string const assigned = p.opener() == '[' ? "" : fmt::format("{} = ", p.key);
  auto const wrong = [&](string_view how, std::string const& right, std::string hint = "") {
    return slip(p.at(v), fmt::format("{} is {}{}", p.key, v, how), assigned + right, std::move(hint));
  };
  auto const quoted = [](string_view s) { return fmt::format("\"{}\"", s); };
  if (v.empty())
    return p.opener() == '['
               ? Slip{}
               : slip(p.here(), fmt::format("{} has no value", p.key), assigned + "\"…\"", "write a value, or leave the key out");
  if (is_quote(v[0])) return explain_behind_text(p, v);
  for (string_view curved : {"“", "”", "„", "‘", "’", "«", "»"})
    if (v.starts_with(curved))
      return wrong(", in curved quotes", "\"…\"", "use straight quotes; a plain text editor writes them");
  if (v[0] == '=') return slip(p.at(v.substr(0, 1)), fmt::format("two equals signs after {}", p.key), assigned + "…");
  if (v[0] == '(') return wrong(", in round brackets", "[…]", "write lists in square brackets");
  if (has(v, "=")) return slip(p.here(), "a comma is missing between two keys", "{ key = …, key = … }");
  if (v.find_first_of("\"'") != nowhere)
    return wrong(", with only one quote", quoted(trimmed(until(v, "\"'"))), "put text between two quotes");
  if (v.back() == ';')
    return slip(p.at(v.substr(v.size() - 1)), fmt::format("a semicolon after {}", p.key), p.open.empty() ? line_end : "a comma");
  if (auto const comma = v.find(','); comma != nowhere && comma > 0 && is_digit(v[comma - 1])) {
    auto const pointed = replaced(v, ',', '.');
    return wrong(", with a comma", is_quantity(pointed) ? quoted(pointed) : pointed,
                 "use a point for decimals and no commas");
  }
  if (p.opener() == '[' && is_digit(v[0]) && only_of(v, "0123456789.+- \t"))
    return slip(p.here(), fmt::format("a comma is missing between two numbers of {}", p.key), "[0, 16]");
  if (v.size() == 5 && v[2] == ':' && is_digit(v[0])) return wrong(" without quotes", quoted(v), "write a time of day in quotes");
  if (is_quantity(v)) return wrong(" without quotes", quoted(v), "write a number with its unit in quotes");
  if (v[0] == '.') return wrong("", fmt::format("0{}", v), "put a digit before the point");
  if (is_digit(v[0]) && v.back() == '.') return wrong("", fmt::format("{}0", v), "put a digit after the point");
  if (v[0] == '0' && only_of(v, "0123456789"))
    return wrong("", std::string(v.substr(std::min(v.find_first_not_of('0'), v.size() - 1))), "remove the zeros in front");
  for (string_view word : {"True", "TRUE", "yes", "Yes", "YES", "on", "On"})
    if (v == word) return wrong("", "true", "use lower case, without quotes");
  for (string_view word : {"False", "FALSE", "no", "No", "NO", "off", "Off"})
    if (v == word) return wrong("", "false", "use lower case, without quotes");
  if ((v[0] | 0x20) >= 'a' && (v[0] | 0x20) <= 'z') return wrong(" without quotes", quoted(v), "write words in quotes");
  return {};
}

/// A list or a table in braces that goes wrong between its items.
Slip explain_items(Spot const& p, string_view text, string_view words) {
  if (p.open.empty()) return {};
  bool const list = p.opener() == '[';
  bool const goes_on = p.at_byte(p.open.back()).line == p.here().line && !has(words, "end-of-file") && !has(words, "'\\n'");
  auto const sign = text.substr(p.stop, 1);
  if (has(words, "dangling comma") || has(words, "saw comma"))
    return slip(p.here(), "a comma with nothing after it", list ? "an item" : "no comma before }");
  if (list && sign == ";") return slip(p.here(), "a semicolon between two items of a list", "a comma");
  if (goes_on && has(words, "expected '='")) {
    auto const inner = trimmed(text.substr(p.key_begin, p.stop - p.key_begin));
    return slip(p.here(), fmt::format("{} after {}", sign == ":" ? "a colon" : "no equals sign", inner), fmt::format("{} = …", inner));
  }
  if (goes_on && sign != (list ? "}" : "]")) return {};
  return slip(p.at_byte(p.open.back()), fmt::format("the {} of {} is not closed", list ? "list" : "table in braces", p.outer_key()),
              list ? "a comma between items, and ] for each [" : "} on the same line",
              list ? "" : "keep it on one line, or give it its own heading, such as [zone.emitter]");
}

Diagnostic explain_twice(Spot const& p) {
  auto const line = p.line();
  if (!line.starts_with('[')) {
    auto const key = p.open.empty() ? trimmed(until(line, "=")) : p.key;
    auto d = slip(p.at(key), fmt::format("{} is used twice in one table", key), "one of them");
    if (p.open.empty()) d.other = p.before(true, [&](string_view s) { return trimmed(until(s, "=")) == key; });
    return d;
  }
  auto const name_of = [](string_view heading) {
    return until(heading.substr(std::min(heading.find_first_not_of("[ "), heading.size())), " ]");
  };
  auto const name = name_of(line);
  bool repeats = line.starts_with("[[");
  auto const first = p.before(false, [&](string_view s) {
    bool const is_it = s.starts_with('[') && name_of(s) == name;
    repeats |= is_it && s.starts_with("[[");
    return is_it;
  });
  auto d = slip(p.at(line), fmt::format("[{}] is used twice", name), "one table with the keys of both",
                "only tables in double brackets may repeat");
  if (repeats)
    d.message = fmt::format("[{}] has single brackets in one place and double in another", name),
    d.expected = fmt::format("[[{}]] each time", name), d.hint = "";
  d.other = first;
  return d;
}

Diagnostic explain_heading(Spot const& p) {
  auto const heading = trimmed(until(p.line(), "#"));
  auto const inner = trimmed(until(heading.substr(std::min(heading.find_first_not_of("[ "), heading.size())), "]"));
  bool const repeats = has(heading, "[[") || has(heading, "]]");
  auto const right = (repeats ? "[[" : "[") + (inner.empty() ? "site" : replaced(inner, ' ', '_')) + (repeats ? "]]" : "]");
  auto const behind = trimmed(heading.substr(std::min(heading.find_last_of(']'), heading.size() - 1) + 1));
  if (inner.empty()) return slip(p.at(heading), "a table heading without a name", right);
  if (!has(heading, "]")) return slip(p.at(heading), "the table heading is not closed", right);
  if (has(inner, " ")) return slip(p.at(heading), "the table heading has a space in it", right);
  if (!behind.empty()) return slip(p.at(behind), fmt::format("extra text after {}", right), line_end);
  return slip(p.at(heading), "unpaired brackets in the table heading", right);
}

/// A line that is neither a key with its value nor a heading nor a comment.
Diagnostic explain_line(Spot const& p) {
  auto const line = p.line(), begin = line.substr(0, 1);
  std::string const expected = "key = value, a heading such as [site], or # and a comment";
  if (begin == "{" || begin == "<") return slip(p.at(begin), fmt::format("a line starts with {}", begin), expected,
      "check that this file is a scenario");
  if (line.starts_with("//") || line.starts_with("--") || begin == ";")
    return slip(p.at(line), "a comment must start with #",
                fmt::format("# {}", trimmed(line.substr(std::min(line.find_first_not_of("/-;"), line.size())))));
  if (begin == "(") return slip(p.at(line), "a table heading in round brackets", "[site] or [[zone]]");
  auto const key = trimmed(until(line, "=:\"'0123456789"));
  auto const sign = trimmed(line.substr(key.size())).substr(0, 1);
  if (key.empty() || (static_cast<unsigned char>(key[0]) & 0x80))
    return slip(p.here(), "a line cannot start this way", expected, "use letters a to z, digits, _ and - in keys");
  if (sign.empty()) return slip(p.at(line), "this line has no key and value", expected);
  if (sign == ":") return slip(p.at(sign), fmt::format("a colon after {}", key), fmt::format("{} = …", key));
  if (has(key, " ")) return slip(p.at(key), fmt::format("the key {} has a space in it", key), replaced(key, ' ', '_') + " = …");
  if (sign != "=") return slip(p.here(), fmt::format("no equals sign after {}", key), fmt::format("{} = …", key));
  return slip(p.here(), "this line is not readable", expected);
}
}  // namespace

Diagnostic explain_syntax(string_view text, Position at, string_view words) {
  Spot const p{text, at};
  auto const says = [&](string_view part) { return has(words, part); };
  if (says("invalid utf-8"))
    return slip(at, "a character that is not UTF-8", "a text file in UTF-8",
                "save it again with encoding UTF-8, or use plain letters");
  if (says(nested_too_deeply))
    return {"E110", at, fmt::format("keys or brackets are nested more than {} deep here", deepest_toml),
            fmt::format("a.b.c with at most {} parts; as few brackets within each other", deepest_toml),
            "check that this file is a scenario"};
  if (says("cannot redefine")) return explain_twice(p);
  if (says("after '\\r'"))
    return slip(at, "lines end in carriage returns only", "line feeds",
                "save it again with line ends LF or CRLF");
  if (says("expected space or tab"))
    return slip(at, "an unusual space character", "a plain space", "delete it and type a space");
  if (says("escape sequence"))
    return slip(at, "a backslash in double quotes", "\"weather/year.csv\", with slashes",
                "use slashes, or single quotes around the text");
  if (says("string") && (says("control characters") || says("end-of-file")) && p.quote != nowhere) {
    bool const at_end = p.stop >= text.size() || text[p.stop] == '\n' || text[p.stop] == '\r';
    auto const begun = trimmed(text.substr(p.quote, p.stop - p.quote));
    if (at_end)
      return slip(p.at(begun), "this quote is not closed on the same line", fmt::format("{}{}", begun, begun[0]),
                  "put text between two quotes");
    return slip(at, "an invisible character in the text", "letters, digits, signs and spaces", "delete the text and type it again");
  }
  if (says("not representable")) return slip(p.at(p.written()), fmt::format("{} is too large", p.key), "a smaller number");
  if (says("table header")) return explain_heading(p);
  if (auto d = explain_items(p, text, words)) return *d;
  if (p.value != nowhere)
    if (auto d = explain_value(p)) return *d;
  if (says("expected '='") || says("root table") || (p.value == nowhere && p.open.empty() && says("end-of-file"))) return explain_line(p);
  auto const rule = words.substr(std::min(words.find(": ") + 2, words.size()));  // after "Error while parsing …"
  return slip(at, "the file cannot be read from here on", "", fmt::format("TOML reader: {}", rule));
}

}  // namespace steadyfire
