#include "sim/core/formula.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "sim/core/dual.hpp"

namespace steadyfire {
namespace {

template <class Law>
Formula written(Law law) {
  Formula f;
  Term const a = Term::input(f, 0), b = Term::input(f, 1);
  f.value = Term(law(a, b)).step_in(f);
  return f;
}

TEST(Formula, GivesWhatTheLawGives) {
  auto const smooth = [](auto a, auto b) {
    using std::abs, std::exp, std::log, std::pow, std::sqrt;
    return -sqrt(a) * exp(b / a) + pow(abs(b - a), 1.3) - 2.0 * log(a);
  };
  auto const bent = [](auto a, auto b) {
    using N = decltype(a);
    return within(a, N(2), N(3)) + lesser(a, b) * greater(N(b), N(1));
  };
  auto const forked = [](auto a, auto b) {
    using N = decltype(a);
    return either(a >= N(2), [&] { return N(b * 3.0); }, [&] { return N(7); });
  };
  for (double const a : {0.5, 2.0, 2.5, 4.0})
    for (double const b : {-1.0, 0.3, 5.0}) {
      EXPECT_DOUBLE_EQ(written(smooth).at({a, b}), smooth(a, b)) << a << ", " << b;
      EXPECT_DOUBLE_EQ(written(bent).at({a, b}), bent(a, b)) << a << ", " << b;
      EXPECT_DOUBLE_EQ(written(forked).at({a, b}), forked(a, b)) << a << ", " << b;
    }
}

TEST(Formula, ItsStepsKeepTheirShapeWhateverTheConstants) {
  auto const law = [](double c) { return written([c](auto a, auto b) { return c * a + b; }); };
  auto one = law(1), two = law(2);
  EXPECT_NE(one, two);
  one.constants.clear(), two.constants.clear();
  EXPECT_EQ(one, two);
}

TEST(Formula, ALawMayGiveBackAnInputOrAConstant) {
  EXPECT_EQ(written([](auto a, auto) { return a; }).at({3, 4}), 3);
  EXPECT_EQ(written([](auto, auto) { return 5.0; }).at({3, 4}), 5);
  EXPECT_EQ(written([](auto a, auto) { return decltype(a)(2) * decltype(a)(3); }).at({3, 4}), 6);  // constants alone
}

}  // namespace
}  // namespace steadyfire

// Within the namespace, as laws call it: without an overload of our own the plain number might be cut to a whole one.
namespace steadyfire {
TEST(Numbers, AbsOfAPlainNumberKeepsItsFraction) { EXPECT_DOUBLE_EQ(abs(-0.3), 0.3); }
}  // namespace steadyfire
