#pragma once
/// x' = A·x + laws(x). A gathers advection and every link when flows or modes
/// change; between events only the curved laws are asked, one call a batch.

#include "sim/network/plan.hpp"

namespace steadyfire {

/// Compressed rows over all places.
struct Sparse {
  std::vector<int> row_start, column;
  std::vector<double> value;
  bool operator==(Sparse const&) const = default;
};

class Balance {
 public:
  /// An entry of the pattern that curved laws add to.
  struct Bend { int slot, row, column; };

  explicit Balance(Plan& plan) : plan_{plan}, links_{plan.per_heat.data()} {}

  /// Flows or modes changed. Returns whether the pattern did: it may depend on
  /// the directions of flow, never on a temperature or a mode.
  bool settle(Now const&);
  void rates(Now const&, double* rates) const;                      ///< by place, in [K/s], accounts [W]
  void curved_rates(Now const&, double* rates) const;               ///< adds the curved laws' part alone
  void slopes(Now const&, std::vector<double>& values) const;       ///< ∂rate/∂x on pattern()
  void curved_slopes(Now const&, double* by_bend) const;            ///< adds the curved laws' part alone, by entry of bends()
  Sparse const& pattern() const { return linear_; }                 ///< its values are the straight part A
  std::vector<Bend> const& bends() const { return bends_; }         ///< by rising slot
  std::vector<int> const& bent_rows() const { return bent_rows_; }  ///< of bends(), each once, rising
  double outdoor_slope = 0;                                         ///< [K/s] of the outdoor temperature now

 private:
  void carry_water(Now const&, Links&) const;
  bool directions_changed(Now const&);
  void lay_pattern(std::vector<Matter> const& links, std::vector<Matter> const& laws);
  Plan& plan_;
  Sparse linear_;
  Links links_;
  std::vector<Matter> laws_, laid_links_, laid_laws_;
  std::vector<signed char> directions_;
  std::vector<int> link_slot_, law_bend_, bent_rows_;  // by entry of the books; see above
  std::vector<Bend> bends_;
};

}  // namespace steadyfire
