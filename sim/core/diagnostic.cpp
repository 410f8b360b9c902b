#include "sim/core/diagnostic.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/core/text.hpp"

namespace steadyfire {

namespace {
std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    auto const end = std::min(text.find('\n'), text.size());
    auto line = text.substr(0, end);
    if (line.ends_with('\r')) line.remove_suffix(1);
    lines.push_back(line);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

/// Where the characters of a line from one on begin; its end where it has fewer.
std::size_t byte_of(std::string_view line, std::size_t from, int characters) {
  auto const continues = [&](std::size_t i) { return (static_cast<unsigned char>(line[i]) & 0xC0) == 0x80; };
  for (; characters > 0 && from < line.size(); --characters) do ++from;
    while (from < line.size() && continues(from));
  return from;
}

/// A part of a line as characters of UTF-8: columns count characters. Control characters would move the caret, or worse the terminal's
/// cursor: they are shown as '?', as is what is no UTF-8.
std::vector<std::string> characters_of(std::string_view part) {
  std::vector<std::string> characters;
  for (std::size_t i = 0, next; i < part.size(); i = next) {
    next = byte_of(part, i, 1);
    std::string c{part.substr(i, next - i)};
    characters.push_back(c == "\t" || (is_utf8(c) && !has_control_character(c)) ? std::move(c) : "?");
  }
  return characters;
}

/// "   15 | speed = …" and the carets below it; of a long line the part around the place.
std::string excerpt(std::vector<std::string_view> const& lines, Position at) {
  constexpr int widest = 120, before = 60;
  if (at.line < 1 || at.line > int(lines.size())) return {};
  auto const line = lines[std::size_t(at.line) - 1];
  int const size = int(count_characters(line)), column = std::max(at.column - 1, 0);
  int const from = size > widest ? std::clamp(column - before, 0, size - widest) : 0, to = std::min(size, from + widest);
  auto const begin = byte_of(line, 0, from);
  auto const characters = characters_of(line.substr(begin, byte_of(line, begin, to - from) - begin));
  std::string shown, carets;
  for (auto const& c : characters) shown += c;
  for (int i = 0; i < std::min(column - from, int(characters.size())); ++i) carets += characters[std::size_t(i)] == "\t" ? '\t' : ' ';
  carets.append(std::size_t(std::max(1, std::min(at.length, to - column))), '^');
  return fmt::format("{:5} | {}\n", at.line, shown) + (at.column > 0 ? "      | " + carets + "\n" : "");
}

std::string advice_line(std::string_view label, std::string const& words) {
  return words.empty() ? "" : fmt::format("  {:<10}{}\n", label, words);
}

std::string span_of_time(double seconds) {
  auto left = std::llround(std::abs(seconds));
  std::string words;
  for (auto [size, name] : {std::pair{86400LL, "d"}, {3600LL, "h"}, {60LL, "min"}, {1LL, "s"}})
    if (left >= size) words += fmt::format("{}{} {}", words.empty() ? "" : " ", left / size, name), left %= size;
  return words.empty() ? "0 s" : seconds < 0 ? "-" + words : words;
}
}  // namespace

constexpr std::size_t most_kept = 1000, most_told = 50;

void Diagnostics::add(Diagnostic d) {
  if (!is_full()) list_.push_back(std::move(d));
  ++count_;
}

bool Diagnostics::is_full() const { return list_.size() >= most_kept; }

std::vector<Diagnostic> Diagnostics::told() const {
  auto sorted = list_;
  std::stable_sort(sorted.begin(), sorted.end(), [](auto const& a, auto const& b) { return a.at < b.at; });
  if (sorted.size() > most_told) sorted.resize(most_told);
  return sorted;
}

std::string Diagnostics::more() const { return count_ > most_told ? fmt::format("and {} more", count_ - most_told) : ""; }

std::string Diagnostics::render(std::string const& file, std::string const& text) const {
  auto const lines = lines_of(text);
  std::string out;
  for (auto const& d : told()) {
    out += d.file.empty() ? file : d.file;
    if (d.at.line > 0) out += fmt::format(":{}", d.at.line);
    if (d.at.line > 0 && d.at.column > 0) out += fmt::format(":{}", d.at.column);
    out += fmt::format(": error[{}]: {}\n", d.code, d.message);
    if (d.file.empty()) out += excerpt(lines, d.at);
    out += advice_line("expected", d.expected);
    out += advice_line("hint", d.hint);
    if (d.other.line > 0) out += advice_line("see also", fmt::format("line {}", d.other.line)) + excerpt(lines, d.other);
  }
  return out + (more().empty() ? "" : file + ": " + more() + " errors\n");
}

Stopped::Stopped(std::string code_, double time_, std::string what, std::string where, std::string likely, std::string hint)
    : Stopped{std::move(code_), time_, std::move(what), "at t = " + span_of_time(time_),
              Advice{std::move(where), std::move(likely), std::move(hint)}} {}

Stopped::Stopped(std::string code_, double time_, std::string what, std::string const& when, Advice all)
    : std::runtime_error{fmt::format("error[{}]: {} {}\n{}{}{}", code_, what, when, advice_line("where", all.where),
                                     advice_line("likely", all.likely), advice_line("hint", all.hint))},
      code{std::move(code_)},
      time{time_},
      message{what + " " + when},
      advice{std::move(all)},
      words_{std::move(what)} {}

BadInput::BadInput(Diagnostics const& all, std::string const& file, std::string const& text)
    : std::runtime_error{all.render(file, text)}, faults{all.list()} {
  for (auto& d : faults)
    if (d.file.empty()) d.file = file;
}

void FileFaults::add(BadInput const& e) { add(FileFaults{e.faults, e.what()}); }
void FileFaults::add(FileFaults const& more) {
  list.insert(list.end(), more.list.begin(), more.list.end());
  rendered += more.rendered;
}

std::string nearest(std::string_view word, std::vector<std::string> const& known) {
  // Edit distance with exchanged neighbours (optimal string alignment), letter case ignored.
  auto const lower = [](char c) { return c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c; };
  std::size_t const n = word.size();
  std::size_t best = std::max<std::size_t>(1, n / 3) + 1;
  std::string found;
  if (n == 0 || n > 100) return found;
  for (auto const& k : known) {
    std::vector<std::size_t> previous, last(n + 1), row(n + 1);
    for (std::size_t j = 0; j <= n; ++j) last[j] = j;
    for (std::size_t i = 1; i <= k.size(); ++i) {
      row[0] = i;
      for (std::size_t j = 1; j <= n; ++j) {
        bool const same = lower(k[i - 1]) == lower(word[j - 1]);
        row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + !same});
        if (i > 1 && j > 1 && lower(k[i - 1]) == lower(word[j - 2]) && lower(k[i - 2]) == lower(word[j - 1]))
          row[j] = std::min(row[j], previous[j - 2] + 1);
      }
      previous = last, last = row;
    }
    if (last[n] < best) best = last[n], found = k;
  }
  return found;
}

}  // namespace steadyfire
