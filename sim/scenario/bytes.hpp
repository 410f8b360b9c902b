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
    for (std::size_t i = 0; i <= text.size(); ++i)
      if (i == 0 || text[i - 1] == '\n') lines_.push_back(i);
  }
  std::size_t at(toml::source_position p) const {
    std::size_t i = lines_.at(p.line - 1);
    for (auto column = p.column; column > 1 && i < text_.size(); --column)
      do ++i;
      while (i < text_.size() && (static_cast<unsigned char>(text_[i]) & 0xC0) == 0x80);
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
  std::string const& text_;
  std::vector<std::size_t> lines_;
};

}  // namespace steadyfire
