#include "sim/core/formula.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace steadyfire {
namespace {

double result(Formula::Operation operation, double a, double b, double c) {
  using enum Formula::Operation;
  switch (operation) {
    case input: case constant: return a;
    case add: return a + b;
    case subtract: return a - b;
    case multiply: return a * b;
    case divide: return a / b;
    case negate: return -a;
    case square_root: return std::sqrt(a);
    case exponential: return std::exp(a);
    case logarithm: return std::log(a);
    case power: return std::pow(a, b);
    case absolute: return std::abs(a);
    case lesser: return std::min(a, b);
    case greater: return std::max(a, b);
    case at_least: return a >= b ? 1 : 0;
    case choose: return a == 1 ? b : c;
  }
  return a;
}

}  // namespace

std::string_view name_of(Formula::Operation operation) {
  static constexpr std::string_view names[]{"input",  "constant",    "add",         "subtract",  "multiply", "divide",
                                            "negate", "square_root", "exponential", "logarithm", "power",    "absolute",
                                            "lesser", "greater",     "at_least",    "choose"};
  static_assert(std::size(names) == std::size_t(Formula::Operation::choose) + 1);
  return names[int(operation)];
}

double Formula::at(std::vector<double> const& inputs) const {
  std::vector<double> results;
  for (auto const& s : steps) {
    auto const of = [&](int step) { return step < 0 ? 0 : results[step]; };
    results.push_back(s.operation == Operation::input      ? inputs[s.a]
                    : s.operation == Operation::constant ? constants[s.a]
                                                         : result(s.operation, of(s.a), of(s.b), of(s.c)));
  }
  return results[value];
}

int Term::step_in(Formula& formula) const {
  if (formula_) return step_;
  formula.constants.push_back(constant_);
  return add(formula, {Operation::constant, int(formula.constants.size()) - 1});
}

Term Term::taken(Operation operation, Term const& a, Term const* b, Term const* c) {
  Formula* formula = a.formula_;
  for (auto const* other : {b, c})
    if (!formula && other) formula = other->formula_;
  if (!formula) return result(operation, a.constant_, b ? b->constant_ : 0, c ? c->constant_ : 0);
  int const first = a.step_in(*formula), second = b ? b->step_in(*formula) : -1, third = c ? c->step_in(*formula) : -1;
  Term t{0};
  t.formula_ = formula, t.step_ = add(*formula, {operation, first, second, third});
  return t;
}

}  // namespace steadyfire
