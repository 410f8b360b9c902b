#include "sim/march/static_lu.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "sim/march/loops.hpp"

namespace steadyfire {
namespace {

/// The entries beside the diagonal, by row and by column, while nodes are taken out.
struct Entries {
  std::vector<std::set<int>> of_row, of_column;
  explicit Entries(int size) : of_row(size), of_column(size) {}
  void add(int row, int column) {
    if (row != column) of_row[row].insert(column), of_column[column].insert(row);
  }
  /// Leaves what its elimination puts between those that hang on it and those it hangs on.
  void take_out(int node) {
    for (int row : of_column[node]) of_row[row].erase(node);
    for (int column : of_row[node]) of_column[column].erase(node);
    for (int row : of_column[node])
      for (int column : of_row[node]) add(row, column);
  }
};

/// Takes out, again and again, the node whose elimination makes the fewest products (H. M. Markowitz 1957, on the
/// diagonal alone).
///
/// Among equals, the one behind which the fewest others wait comes first; none counts as one. So a chain of cells is
/// taken apart everywhere at once, not from its end: the sums of a solution then need not wait for each other.
std::vector<int> least_product_order(Entries left) {
  int const size = int(left.of_row.size());
  std::vector<int> order;
  std::vector<bool> gone(size);
  std::vector<int> depth(size);
  auto const cost = [&](int i) { return std::pair{std::max(left.of_row[i].size() * left.of_column[i].size(), std::size_t(1)), depth[i]}; };
  for (int step = 0; step < size; ++step) {
    int best = -1;
    for (int i = 0; i < size; ++i)
      if (!gone[i] && (best < 0 || cost(i) < cost(best))) best = i;
    gone[best] = true;
    for (auto const* others : {&left.of_row[best], &left.of_column[best]})
      for (int i : *others) depth[i] = std::max(depth[i], depth[best] + 1);
    left.take_out(best);
    order.push_back(best);
  }
  return order;
}

}  // namespace

StaticLu::StaticLu(Sparse const& pattern, int first) : first_{first}, size_{int(pattern.row_start.size()) - 1 - first} {
  auto const each_entry = [&](auto const& visit) {
    for (int i = 0; i < size_; ++i)
      for (int k = pattern.row_start[i + first]; k < pattern.row_start[i + first + 1]; ++k)
        if (int const j = pattern.column[k] - first; j >= 0) visit(k, i, j);
  };
  Entries left(size_);
  each_entry([&](int, int i, int j) { left.add(i, j); });
  auto const order = least_product_order(left);

  for (int const p : order) left.take_out(p);  // what remains of its row and column is what it met when its turn came
  std::map<std::pair<int, int>, unsigned> position;
  auto const enter = [&](std::vector<Entry>& list, int row, int column) {
    position.emplace(std::pair{row, column}, unsigned(position.size()));
    list.push_back({unsigned(row + first), unsigned(column + first)});
  };
  for (int i = 0; i < size_; ++i) position.emplace(std::pair{i, i}, unsigned(i));
  for (int const p : order)
    for (int const i : left.of_column[p]) enter(lower_, i, p);
  for (auto p = order.rbegin(); p != order.rend(); ++p)
    for (int const j : left.of_row[*p]) enter(upper_, *p, j);
  for (int const p : order) {
    pivots_.push_back({p, int(left.of_column[p].size()), int(left.of_row[p].size())});
    for (int const i : left.of_column[p])
      for (int const j : left.of_row[p]) products_.push_back(position.at({i, j}));
  }
  each_entry([&](int k, int i, int j) { loads_.push_back({unsigned(k), position.at({i, j})}); });
  value_.resize(position.size());
  std::vector<bool> loaded(value_.size());
  for (auto const& load : loads_) loaded[load.position] = true;
  for (unsigned k = 0; k < value_.size(); ++k)
    if (!loaded[k]) put_in_.push_back(k);
}

/// Its inner loops run twice or three times: made for whole vectors, as compilers like to, they take a quarter longer.
[[gnu::optimize("no-tree-vectorize")]] bool StaticLu::factor(double const* slopes, double gamma) {
  double* const value = value_.data();
  for (unsigned const position : put_in_) value[position] = 0;
#pragma GCC unroll 4
  for (auto const& load : loads_) value[load.position] = -gamma * slopes[load.slot];
  for (int i = 0; i < size_; ++i) value[i] += 1;
  double sound = 0;
  double *lower = value + size_, *upper = value + value_.size();
  unsigned const* product = products_.data();
  for (auto const& pivot : pivots_) {
    double const inverse = value[pivot.place] = 1 / value[pivot.place];
    sound += inverse;
    upper -= pivot.behind;
    for (auto const end = lower + pivot.below; lower < end; ++lower) {
      double const share = *lower *= inverse;
      for (int j = 0; j < pivot.behind; ++j) value[*product++] -= share * upper[j];
    }
    for (int j = 0; j < pivot.behind; ++j) upper[j] *= inverse;
  }
  return std::isfinite(sound);
}

void StaticLu::solve(double* b) const {
  double const *const lower = value_.data() + size_, *const upper = lower + lower_.size();
  auto const take = [b](std::vector<Entry> const& entries, double const* value) {
    Entry const* const entry = entries.data();
#pragma GCC unroll 4
    for (std::size_t k = 0, count = entries.size(); k < count; ++k) b[entry[k].row] -= value[k] * b[entry[k].column];
  };
  take(lower_, lower);
  loops::multiply(size_, value_.data(), b + first_);
  take(upper_, upper);
}

}  // namespace steadyfire
