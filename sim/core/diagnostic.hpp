#pragma once
/// What is wrong with an input, told so that it can be corrected.

#include <stdexcept>
#include <string>
#include <vector>

namespace steadyfire {

/// A place in a text; line and column count from 1, 0 is unknown.
struct Position {
  int line = 0, column = 0, length = 1;
  friend auto operator<=>(Position const&, Position const&) = default;
};

/// One fault of an input file.
///
/// Shape  `message` says key and what was found, `expected` what would be right,
///        `hint` what to do; the last two may be empty.
struct Diagnostic {
  std::string code;  ///< "E204"; every code has an entry in sim/core/errors.md
  Position at;
  std::string message, expected, hint;
  Position other{};  ///< a second place that matters, as the first of two with one name
  std::string file{};  ///< empty: the file being read
  std::string key{};   ///< the key that the table at the place lacks, where that is the fault
};

/// All faults of one file, in file order when shown. A file may have any number of them: the first thousand found are kept and fifty of
/// these told; the others are counted.
class Diagnostics {
 public:
  void add(Diagnostic);
  bool empty() const { return count_ == 0; }
  std::size_t count() const { return count_; }
  /// Whether a further fault would only be counted: its words need not be made.
  bool is_full() const;
  /// Those kept, as they were found.
  std::vector<Diagnostic> const& list() const { return list_; }
  /// The first of them by place.
  std::vector<Diagnostic> told() const;
  /// "and 99950 more" than are told, or "".
  std::string more() const;

  /// "file:line:column: error[E204]: …" of those told, with the line, a caret, expected and hint. `text` is the file's text.
  std::string render(std::string const& file, std::string const& text) const;

 private:
  std::vector<Diagnostic> list_;
  std::size_t count_ = 0;
};

/// Thrown by a reader that cannot go on; carries what it found (exit code 2).
struct BadInput : std::runtime_error {
  explicit BadInput(std::string rendered) : std::runtime_error{std::move(rendered)} {}
  /// All faults of one file, rendered with its text; "" shows no lines.
  BadInput(Diagnostics const&, std::string const& file, std::string const& text);
  std::vector<Diagnostic> faults{};  ///< each with its file; empty where only words are known
};

/// Faults of files that a scenario names, as a weather file: as fields, and as they are printed.
struct FileFaults {
  std::vector<Diagnostic> list{};
  std::string rendered{};
  bool empty() const { return rendered.empty(); }
  void add(BadInput const&);
  void add(FileFaults const&);
};

/// A simulation that cannot go on: place, time and likely reason (exit code 3).
class Stopped : public std::runtime_error {
 public:
  Stopped(std::string code, double time, std::string what, std::string where, std::string likely, std::string hint);
  /// The same, told of a state outside time: `when` is "with bath and kitchen calling".
  Stopped of_state(std::string const& when) const { return {code, time, words_, when, advice}; }
  std::string code;
  double time;  ///< [s] from the start
  std::string message;  ///< "no hydraulic solution at t = 3 h"
  struct Advice { std::string where, likely, hint; } advice;  ///< each may be empty

 private:
  Stopped(std::string code, double time, std::string what, std::string const& when, Advice);
  std::string words_;
};

/// A broken promise inside the program: never the user's fault.
struct InternalError : std::logic_error { using std::logic_error::logic_error; };

/// The known word nearest to `word` by edit distance, or "" if none is near.
std::string nearest(std::string_view word, std::vector<std::string> const& known);

}  // namespace steadyfire
