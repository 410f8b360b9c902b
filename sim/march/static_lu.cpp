#include "sim/march/static_lu.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

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

StaticLu::StaticLu(Sparse const& pattern, int first) : size_{int(pattern.row_start.size()) - 1 - first} {
  auto const each_entry = [&](auto const& visit) {
    for (int i = 0; i < size_; ++i)
      for (int k = pattern.row_start[i + first]; k < pattern.row_start[i + first + 1]; ++k)
        if (int const j = pattern.column[k] - first; j >= 0) visit(k, i, j);
  };
  Entries entries(size_);
  each_entry([&](int, int i, int j) { entries.add(i, j); });
  order_ = least_product_order(entries);

  std::vector<int> pivot(size_);
  for (int r = 0; r < size_; ++r) pivot[order_[r]] = r;
  std::vector<std::set<int>> rows(size_);
  for (int r = 0; r < size_; ++r) {
    auto& row = rows[r];
    row.insert(r);
    for (int j : entries.of_row[order_[r]]) row.insert(pivot[j]);
    for (auto c = row.begin(); *c < r; ++c) row.insert(rows[*c].upper_bound(*c), rows[*c].end());  // what is put in lies behind c
  }
  start_.push_back(0);
  for (int r = 0; r < size_; ++r) {
    diagonal_.push_back(start_[r] + int(std::distance(rows[r].begin(), rows[r].find(r))));
    column_.insert(column_.end(), rows[r].begin(), rows[r].end());
    start_.push_back(int(column_.size()));
  }
  auto const position = [&](int row, int column) {
    return int(std::lower_bound(column_.begin() + start_[row], column_.begin() + start_[row + 1], column) - column_.begin());
  };
  for (int r = 0; r < size_; ++r)
    for (int k = start_[r]; k < diagonal_[r]; ++k)
      for (int m = diagonal_[column_[k]] + 1; m < start_[column_[k] + 1]; ++m) target_.push_back(position(r, column_[m]));
  each_entry([&](int k, int i, int j) { loads_.push_back({k, position(pivot[i], pivot[j])}); });
  for (int& place : order_) place += first;
  value_.resize(column_.size()), inverse_.resize(size_), work_.resize(size_);
}

bool StaticLu::factor(double const* slopes, double gamma) {
  std::fill(value_.begin(), value_.end(), 0);
  for (auto const& load : loads_) value_[load.position] = -gamma * slopes[load.slot];
  int const* target = target_.data();
  double* const value = value_.data();
  for (int r = 0; r < size_; ++r) {
    double& pivot = value[diagonal_[r]];
    pivot += 1;
    for (int k = start_[r]; k < diagonal_[r]; ++k) {
      int const c = column_[k];
      double const l = value[k] *= inverse_[c];
      for (int m = diagonal_[c] + 1, end = start_[c + 1]; m < end; ++m) value[*target++] -= l * value[m];
    }
    inverse_[r] = 1 / pivot;
    if (!std::isfinite(inverse_[r])) return false;
  }
  return true;
}

void StaticLu::solve(double* b) const {
  int const* const column = column_.data();
  double const* const value = value_.data();
  double* const work = work_.data();
  for (int r = 0; r < size_; ++r) {
    double sum = b[order_[r]];
    for (int k = start_[r]; k < diagonal_[r]; ++k) sum -= value[k] * work[column[k]];
    work[r] = sum;
  }
  for (int r = size_; r-- > 0;) {
    double sum = work[r];
    for (int k = diagonal_[r] + 1; k < start_[r + 1]; ++k) sum -= value[k] * work[column[k]];
    b[order_[r]] = work[r] = sum * inverse_[r];
  }
}

}  // namespace steadyfire
