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
  explicit Balance(Plan& plan) : plan_{plan} {}

  /// Flows or modes changed. Returns whether the pattern did: it may depend on
  /// the directions of flow, never on a temperature or a mode.
  bool settle(Now const&);
  void rates(Now const&, double* rates) const;                 ///< by place, in [K/s], accounts [W]
  void curved_rates(Now const&, double* rates) const;          ///< adds the curved laws' part alone
  void slopes(Now const&, std::vector<double>& values) const;  ///< ∂rate/∂x on pattern()
  Sparse const& pattern() const { return linear_; }            ///< its values are the straight part A
  std::vector<int> const& curved_slots() const { return curved_slots_; }  ///< entries of the pattern that laws add to, rising
  double outdoor_slope = 0;                                    ///< [K/s] of the outdoor temperature now

 private:
  void carry_water(Now const&, Links&) const;
  void lay_pattern(std::vector<Matter> const& links, std::vector<Matter> const& laws);
  Plan& plan_;
  Sparse linear_;
  std::vector<Matter> last_links_, last_laws_;
  std::vector<int> link_slot_, law_slot_, curved_slots_;
};

}  // namespace steadyfire
