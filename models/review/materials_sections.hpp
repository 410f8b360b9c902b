#pragma once
/// What the user adds to a list counted from the graph.

#include "sim/component/kind.hpp"

namespace steadyfire {

struct MaterialsSection {
  Fraction waste;

  static constexpr std::string_view kind = "materials", family = "materials", summary = "What the materials list adds";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    return {field<&MaterialsSection::waste>("waste", unit::percent, 0, 100, "added to lengths of pipe, tube and insulation for cutting")
                .optional("none: lengths are as drawn")};
  }
};

}  // namespace steadyfire
