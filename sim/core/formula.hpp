#pragma once
/// A law as data: called with terms instead of numbers, it writes down what it does.

#include <string_view>
#include <type_traits>
#include <vector>

namespace steadyfire {

/// Steps that lead from inputs and constants to one value. The laws of one kind share their
/// steps and differ in their constants.
struct Formula {
  /// `input` and `constant` take the a-th of theirs; all others take the values of earlier
  /// steps. `at_least` is 1 where a ≥ b, else 0; `choose` is b where a is 1, else c.
  enum class Operation {
    input, constant, add, subtract, multiply, divide, negate, square_root, exponential, logarithm, power, absolute, lesser, greater,
    at_least, choose
  };
  struct Step {
    Operation operation;
    int a, b = -1, c = -1;  ///< −1: takes no such operand
    bool operator==(Step const&) const = default;
  };
  std::vector<Step> steps;
  int value = 0;  ///< which step it comes to
  std::vector<double> constants;

  double at(std::vector<double> const& inputs) const;
  bool operator==(Formula const&) const = default;
};

/// "square_root"
std::string_view name_of(Formula::Operation);

/// A number in a law that writes itself: what is done to it becomes a step.
///
/// Shape   a constant has no formula until it meets a term that has one.
/// Errors  `if` on a comparison does not compile: a law that forks on its arguments says so
///         by `lesser`, `greater`, `within` or `either`.
class Term {
 public:
  using Operation = Formula::Operation;
  template <class T>
    requires std::is_arithmetic_v<T>
  Term(T constant) : constant_{double(constant)} {}
  static Term input(Formula& formula, int i) {
    Term t{0};
    t.formula_ = &formula, t.step_ = add(formula, {Operation::input, i});
    return t;
  }
  /// Its step in a formula; a constant becomes one.
  int step_in(Formula&) const;

  friend Term operator+(Term const& a, Term const& b) { return taken(Operation::add, a, &b); }
  friend Term operator-(Term const& a, Term const& b) { return taken(Operation::subtract, a, &b); }
  friend Term operator*(Term const& a, Term const& b) { return taken(Operation::multiply, a, &b); }
  friend Term operator/(Term const& a, Term const& b) { return taken(Operation::divide, a, &b); }
  friend Term operator-(Term const& a) { return taken(Operation::negate, a); }
  friend Term operator>=(Term const& a, Term const& b) { return taken(Operation::at_least, a, &b); }
  friend Term sqrt(Term const& a) { return taken(Operation::square_root, a); }
  friend Term exp(Term const& a) { return taken(Operation::exponential, a); }
  friend Term log(Term const& a) { return taken(Operation::logarithm, a); }
  friend Term pow(Term const& a, double n) { Term const b = n; return taken(Operation::power, a, &b); }
  friend Term abs(Term const& a) { return taken(Operation::absolute, a); }
  friend Term lesser(Term const& a, Term const& b) { return taken(Operation::lesser, a, &b); }
  friend Term greater(Term const& a, Term const& b) { return taken(Operation::greater, a, &b); }
  friend Term within(Term const& x, Term const& least, Term const& most) { return lesser(greater(x, least), most); }
  template <class Then, class Else>
  friend Term either(Term const& condition, Then then, Else otherwise) {
    Term const b = then(), c = otherwise();
    return taken(Operation::choose, condition, &b, &c);
  }

 private:
  static int add(Formula& formula, Formula::Step step) { return formula.steps.push_back(step), int(formula.steps.size()) - 1; }
  static Term taken(Operation, Term const& a, Term const* b = nullptr, Term const* c = nullptr);

  double constant_;
  Formula* formula_ = nullptr;
  int step_ = -1;
};

}  // namespace steadyfire
