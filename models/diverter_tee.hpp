#pragma once
#include "models/pipe_sizes.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Diverter tee in the main of a single-pipe system, between the two take-offs of a zone:
/// its throat loses head, and that head drives the zone.
///
///   Δp = K·ρ·v²/2, v in the main
///
/// Shape   one branch without cells: what runs past the zone. K serves both tees of a zone.
/// Valid   the jet's suction on the branch is counted as loss of the main; K from 3 to 12, common practice, no source.
struct DiverterTee {
  double loss_coefficient;
  std::string size;
  Length diameter;

  double bore = 0;  // from prepare()

  static constexpr std::string_view kind = "diverter tee", family = "diverter tee",
                                    summary = "Diverter tee of a single-pipe system, past a zone";
  static constexpr Role role = Role::pipe;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    return {number<&DiverterTee::loss_coefficient>("loss_coefficient", 0.1, 200, "K of the run past the zone").typical(3, 6, 12),
            text<&DiverterTee::size>("size", "nominal size of the main").optional(),
            field<&DiverterTee::diameter>("diameter", unit::inch, 0.1, 40, "inside diameter of the main, instead of a size").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &size = value_of<&DiverterTee::size>(e), &diameter = value_of<&DiverterTee::diameter>(e);
    check_pipe_size(size, e.who, faults);
    if (!e.ports.empty() && size.text.empty() && diameter.numbers.empty())
      faults.add({"E205", e.at, e.who + ": 'size' or 'diameter' is missing",
                  "size = \"3/4 in copper M\", or diameter = \"0.811 in\"", "", {}, {}, "size"});
    if (size.given && diameter.given)
      faults.add({"E222", diameter.at, e.who + " has both 'size' and 'diameter'", "one of them",
                  "remove 'diameter'", size.at});
  }
  void prepare() { bore = std::isnan(*diameter) ? find_pipe_size(size).value().inside_diameter : *diameter; }

  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    double const section = 3.14159265358979 / 4 * bore * bore;
    return loss_coefficient / (2 * s.local().density * section * section) * flow * abs(flow);
  }
  BoreFlow bore_flow(int, Site const& s) const {
    double const v = std::abs(s.flow()) / s.local().density / (3.14159265358979 / 4 * bore * bore);
    return {bore, v, s.local().density * v * bore / s.local().viscosity};
  }
};

}  // namespace steadyfire
