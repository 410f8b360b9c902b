#pragma once
/// What a vent may be made of, and how hot it may get.

#include <array>
#include <string_view>

#include "sim/core/quantity.hpp"

namespace steadyfire {

struct VentMaterial {
  std::string_view name;
  double most;  ///< [K] of the flue gas; 0 where only the maker says it
  std::string_view whose;
};

/// Source  classes of ULC S636 and the PVC limit: a trade magazine's column on the codes.
inline constexpr std::array vent_materials{
    VentMaterial{"PVC", unit::degF.to_si(140), "common limit of PVC, no published source; the vent maker's governs"},
    VentMaterial{"PVC S636", unit::degC.to_si(65), "ULC S636 class II A"},
    VentMaterial{"CPVC", unit::degC.to_si(90), "ULC S636 class II B"},
    VentMaterial{"polypropylene", unit::degC.to_si(110), "ULC S636 class II C"},
    VentMaterial{"stainless steel", 0, "the vent maker"},
    VentMaterial{"aluminum", 0, "the vent maker"}};

}  // namespace steadyfire
