#pragma once
/// Tube laid in equal loops side by side: what heated floors, ceilings, walls and snow-melt slabs share.

#include "sim/core/count_up.hpp"
#include "models/emitters/tube_film.hpp"
#include "models/pipe_sizes.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

struct TubeLoops {
  PipeSize tube{};
  int count = 1;
  double length = 0;  ///< of one loop [m]

  static constexpr std::string_view usual_tube = "1/2 in PEX";
  static constexpr double longest = 91.44;  ///< of a loop where no count is stated [m]: 300 ft
  static Words count_help() { return say("equal loops; 0 chooses enough to keep each under {}", Amount{longest, measure::length}); }
  static PipeSize tube_of(std::string const& size) { return find_pipe_size(size.empty() ? usual_tube : size).value(); }

  /// Loops on an area [m²] at a spacing [m]. Where no length is stated it follows from both; where no count
  /// is stated, as many as keep each loop below `longest`, or as the stated length needs.
  TubeLoops(std::string const& size, double area, double spacing, double stated_length, int stated_count) : tube{tube_of(size)} {
    double const all = area / spacing;
    bool const is_stated = !std::isnan(stated_length);
    count = stated_count > 0 ? stated_count : is_stated ? std::max(1, int(count_near(all / stated_length)))
                                                        : std::max(1, int(count_up(all / longest)));
    length = is_stated ? stated_length : all / count;
  }
  TubeLoops() = default;

  template <class Flow>
  Flow loss(Flow flow, double loss_coefficient, Fluid const& fluid) const {
    return pipe_loss(flow / double(count), length, tube.inside_diameter, tube.roughness, loss_coefficient, fluid);
  }
  Cells cells(int segments) const {
    double const bore = std::numbers::pi / 4 * tube.inside_diameter * tube.inside_diameter, all = count * length;
    return {segments, bore * all, tube.wall_heat_capacity_per_length * all};
  }
  /// Of one metre of tube [m·K/W].
  double wall_resistance() const {
    return std::log(tube.outside_diameter / tube.inside_diameter) / (2 * std::numbers::pi * tube.wall_conductivity);
  }
  double film_resistance(double flow, Fluid const& fluid) const {
    return steadyfire::film_resistance(flow / count, tube.inside_diameter, fluid);
  }
};

}  // namespace steadyfire
