#pragma once
/// Sentences with quantities in them: made where the numbers are, told at the border in the reader's units.

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "sim/core/measure.hpp"

namespace steadyfire {

/// A number with the way it is shown.
struct Amount {
  double si = 0;
  Measure measure;
};

/// A text whose digits, not only its units, hang on the system: a sum that holds for the numbers as they are printed.
struct InEach { std::string us, si; };

/// Text and amounts in order. Plain text turns into words by itself; `say` puts amounts in.
class Words {
 public:
  Words() = default;
  Words(std::string text) { add(std::move(text)); }
  Words(std::string_view text) : Words(std::string(text)) {}
  Words(char const* text) : Words(std::string(text)) {}
  Words(Amount amount) { parts_.emplace_back(amount); }
  Words(InEach texts) { parts_.emplace_back(std::move(texts)); }
  Words(int number) : Words(std::to_string(number)) {}
  Words(long number) : Words(std::to_string(number)) {}
  Words(std::size_t number) : Words(std::to_string(number)) {}
  Words(double) = delete;  ///< a number has a measure

  bool empty() const { return parts_.empty(); }
  /// The sentence in one system of units: "flow 1.7 gpm, needs 2.0 gpm".
  std::string in(UnitSystem) const;
  /// The sentence without its numbers: "flow {}, needs {}".
  std::string frame() const;

  Words& operator+=(Words const& more);
  friend Words operator+(Words a, Words const& b) { return a += b; }

 private:
  void add(std::string text);
  std::vector<std::variant<std::string, Amount, InEach>> parts_;
};

/// `pattern` with each {} replaced by the next of `these`; {{ and }} stand for braces.
/// Errors  InternalError where their numbers differ.
Words say_all(std::string_view pattern, std::vector<Words> const& these);
template <class... A>
Words say(std::string_view pattern, A const&... these) { return say_all(pattern, {Words(these)...}); }

/// "a, b and c"; `last` stands before the last.
Words listed(std::vector<Words> const&, std::string_view last = " and ");

/// All in one system of units.
std::vector<std::string> told(std::vector<Words> const&, UnitSystem);

}  // namespace steadyfire
