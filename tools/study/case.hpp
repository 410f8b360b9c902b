#pragma once
/// One scenario, and what a study varies in it: each point is a scenario of its own, read, checked and run like a file.

#include <functional>

#include "tools/job/figures.hpp"
#include "tools/job/house_run.hpp"
#include "tools/study/turn.hpp"

namespace steadyfire {

/// What one number of a point does to the scenario.
struct Parameter {
  enum class As { value, factor, word };
  std::string name;                ///< as readers know it: "minimum fire"
  Turn turn;
  As as = As::value;               ///< a value in SI; a factor on each own value; the number of one of `words`
  std::vector<std::string> words{};
  /// "8 kBtu/h", "× 0.85", "buffer tank": a number of it as readers see it.
  std::string shown(double x, UnitSystem) const;
};

/// A number for each parameter.
using Point = std::vector<double>;

struct Outcome {
  std::vector<double> figures;  ///< SI, as asked; empty with a fault
  std::string fault;            ///< "" or why the point could not be simulated, in a line
};

/// How exactly points are run.
enum class Precision { full, rough };

class Case {
 public:
  /// Shape   `file` is for faults and for files beside it; `edits` hold for all points, as other days.
  /// Errors  BadInput where the scenario itself has faults or is no house; BadEdit.
  Case(std::string file, std::string text, std::vector<Edit> const& edits = {}, UnitSystem = UnitSystem::us);

  Document const& document() const { return document_; }
  Project const& project() const { return project_; }
  std::string const& text() const { return document_.text; }
  UnitSystem units() const { return units_; }
  /// Figures of the run and of each zone.
  std::vector<AskedFigure> const& known_figures() const { return known_; }
  /// Errors  BadAddress, with the nearest one.
  AskedFigure const& figure(std::string const& key) const;
  /// Errors  BadAddress.
  Turn turn(std::string const& address) const;

  /// The scenario's text at a point, comments and all: what a user could have written.
  std::string text_at(std::vector<Parameter> const&, Point const&) const;
  /// Runs a point; whatever is wrong with it is told by `fault`. Any thread may ask at any time.
  Outcome run(std::vector<Parameter> const&, Point const&, std::vector<AskedFigure> const&, Precision = Precision::full,
              std::function<bool()> const& interrupted = {}) const;
  /// The whole record of a point. Errors: BadInput, Stopped.
  Record record(std::vector<Parameter> const&, Point const&, Precision = Precision::full,
                std::function<bool()> const& interrupted = {}) const;

 private:
  Document document_;
  Project project_;
  UnitSystem units_;
  std::vector<AskedFigure> known_;
};

/// The first fault of some, in a line: "boiler: minimum_input is 200 kBtu/h, above its range (and 2 more)".
std::string in_a_line(Diagnostics const&);

}  // namespace steadyfire
