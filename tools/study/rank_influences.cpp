#include "tools/study/rank_influences.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numeric>

namespace steadyfire {
namespace {

using Vector = Eigen::VectorXd;

/// Ranks less their mean, of length 1; all 0 where all values are equal.
Vector ranks(Vector const& values) {
  std::vector<long> order(std::size_t(values.size()));
  std::iota(order.begin(), order.end(), 0L);
  std::sort(order.begin(), order.end(), [&](long a, long b) { return values[a] < values[b]; });
  Vector rank(values.size());
  for (std::size_t from = 0, to; from < order.size(); from = to) {
    to = from + 1;
    while (to < order.size() && values[order[to]] == values[order[from]]) ++to;
    for (std::size_t i = from; i < to; ++i) rank[order[i]] = double(from + to) / 2 - double(order.size()) / 2;
  }
  double const length = rank.norm();
  return length > 0 ? Vector{rank / length} : rank;
}

}  // namespace

std::vector<RankInfluence> rank_influences(std::vector<double> const& inputs, std::vector<double> const& output) {
  auto const rows = long(output.size()), columns = rows == 0 ? 0 : long(inputs.size()) / rows;
  std::vector<RankInfluence> all(std::size_t(columns), {std::nan(""), std::nan("")});
  if (rows == 0) return all;
  using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
  Eigen::Map<Rows const> const given(inputs.data(), rows, columns);
  Vector const y = ranks(Eigen::Map<Vector const>(output.data(), rows));
  std::vector<long> turned;
  Eigen::MatrixXd x(rows, columns);
  for (long k = 0; k < columns; ++k)
    if (Vector const r = ranks(given.col(k)); !r.isZero(0)) x.col(long(turned.size())) = r, turned.push_back(k);
  auto const many = long(turned.size());
  if (many == 0 || rows <= many + 1 || y.isZero(0)) return all;
  auto const ranked = x.leftCols(many);
  Vector const correlations = ranked.transpose() * y, coefficients = ranked.colPivHouseholderQr().solve(y);
  for (long i = 0; i < many; ++i)
    all[std::size_t(turned[std::size_t(i)])] = {correlations[i], std::clamp(correlations[i] * coefficients[i], 0.0, 1.0)};
  return all;
}

}  // namespace steadyfire
