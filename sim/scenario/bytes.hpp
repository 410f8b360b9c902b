#pragma once
/// Where in a text the parts of its TOML stand.

#include <algorithm>
#include <string>
#include <vector>

#include "sim/scenario/toml.hpp"

namespace steadyfire {

/// From the line and column of toml++, which counts code points, to bytes of the text, which must outlive it.
class Bytes {
 public:
  explicit Bytes(std::string const& text) : text_{text} {
    std::size_t characters = 0;
    for (std::size_t i = 0; i <= text.size(); ++i) {
      if (i == 0 || text[i - 1] == '\n') lines_.push_back(i), before_.push_back(characters);
      if (i < text.size() && is_first(i) && characters++ % apart == 0) marks_.push_back(i);
    }
  }
  std::size_t at(toml::source_position p) const {
    auto const character = before_.at(p.line - 1) + std::max<std::size_t>(p.column, 1) - 1;
    if (character / apart >= marks_.size()) return text_.size();
    std::size_t i = marks_[character / apart];
    for (auto left = character % apart; left > 0 && i < text_.size(); --left) do ++i;
      while (i < text_.size() && !is_first(i));
    return i;
  }
  /// What stands there, as it is written.
  std::string of(toml::node const& n) const { return end(n) > begin(n) ? text_.substr(begin(n), end(n) - begin(n)) : ""; }
  std::size_t begin(toml::node const& n) const { return at(n.source().begin); }
  std::size_t end(toml::node const& n) const { return at(n.source().end); }
  std::size_t begin(toml::key const& k) const { return at(k.source().begin); }
  /// Past the end of the line that holds a byte.
  std::size_t next_line(std::size_t i) const {
    auto const found = text_.find('\n', i);
    return found == text_.npos ? text_.size() : found + 1;
  }
  std::size_t line_start(std::size_t i) const { return *std::prev(std::upper_bound(lines_.begin(), lines_.end(), i)); }

 private:
  bool is_first(std::size_t i) const { return (static_cast<unsigned char>(text_[i]) & 0xC0) != 0x80; }

  static constexpr std::size_t apart = 64;
  std::string const& text_;
  std::vector<std::size_t> lines_, before_;  ///< where each begins, and the characters before it
  std::vector<std::size_t> marks_;           ///< where every 64th character begins, so that long lines take no longer
};

}  // namespace steadyfire
