#pragma once
/// What the user adds to a list counted from the graph.

#include "sim/component/kind.hpp"

namespace steadyfire {

struct MaterialsSection {
  Fraction waste;

  static constexpr std::string_view kind = "materials", family = "materials", summary = "Allowances in the materials list";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    return {field<&MaterialsSection::waste>("waste", unit::percent, 0, 100, "cutting allowance on pipe, tube and insulation")
                .optional("none: lengths as drawn")};
  }
};

}  // namespace steadyfire
