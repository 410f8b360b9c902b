#pragma once
#include "sim/core/count_up.hpp"
#include "models/emitters/heated_space.hpp"
#include "models/fittings.hpp"
#include "models/friction.hpp"
#include "models/insulation.hpp"
#include "models/pipe_sizes.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Straight pipe with its fittings.
///
///   loss = (f·L/D + ΣK)·ρ·v·|v|/2        heat lost = U'·L·(T_water − T_around), bare c·L·(T_water − T_around)^n
///
/// Shape   one branch; water cells in a row; lost heat goes to a room, half of it radiated, or to the unheated space.
/// Valid   5–95 °C; f from laminar to turbulent by models/friction.hpp.
/// Source  Darcy–Weisbach; fittings by models/fittings.hpp.
struct Pipe {
  Length length, drop, diameter, roughness, equivalent_length, insulation;
  Conductivity insulation_conductivity;
  Fraction emissivity, share_inside;
  std::string size;
  double loss_coefficient, friction_factor;
  int elbows, tees_through, tees_branch, fitting_source, cell_count;
  bool is_purgeable;
  Reference around;

  // From prepare(): what the size says.
  double bore = 0, wall_roughness = 0, metal_per_metre = 0, sum_of_k = 0;
  double loss_per_metre = 0;  ///< [W/(m·K)]; of a bare pipe at 60 °C in 20 °C
  BarePipeLoss bare;

  static constexpr std::string_view kind = "pipe", family = "piping", summary = "Pipe with its fittings";
  static constexpr Role role = Role::pipe;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        field<&Pipe::length>("length", foot, 0, 5000, "developed length"),
        field<&Pipe::drop>("drop", foot, -300, 300, "height of a downward run, where slow water leaves air")
            .optional("from the heights of its joints"),
        flag<&Pipe::is_purgeable>("purgeable", "air can be purged from it at fill").otherwise(1),
        text<&Pipe::size>("size", "nominal size: \"3/4 in copper M\", \"1/2 in PEX\", \"1-1/4 in steel 40\"")
            .optional("as arranged; your own pipe needs a size or diameter"),
        field<&Pipe::diameter>("diameter", inch, 0.1, 40, "inside diameter, instead of a size").optional(),
        field<&Pipe::roughness>("roughness", micrometre, 0, 5000, "wall roughness").optional("by material with a size, else 1.5 µm"),
        number<&Pipe::loss_coefficient>("loss_coefficient", 0, 1e5, "total K of fittings").otherwise(0),
        number<&Pipe::friction_factor>("friction_factor", 1e-4, 1, "fixed Darcy friction factor, for textbook cases").optional(),
        field<&Pipe::equivalent_length>("equivalent_length", foot, 0, 2000, "equivalent length of fittings").otherwise(0),
        count<&Pipe::elbows>("elbows", 0, 200, "90° elbows").otherwise(0),
        count<&Pipe::tees_through>("tees_through", 0, 100, "tees, straight through").otherwise(0),
        count<&Pipe::tees_branch>("tees_branch", 0, 100, "tees, through the branch").otherwise(0),
        choice<&Pipe::fitting_source>("fitting_source", {"screwed K", "equivalent length"}, "table for elbows and tees").otherwise(1),
        field<&Pipe::insulation>("insulation", inch, 0, 4, "insulation thickness; 0 is bare").otherwise(0.5),
        field<&Pipe::insulation_conductivity>("insulation_conductivity", watt_per_metre_kelvin, 0.01, 1, "conductivity of the insulation")
            .otherwise(0.036),
        field<&Pipe::emissivity>("emissivity", percent, 1, 100, "emissivity of a bare pipe's surface")
            .optional("by material: tarnished copper 50%, steel and PEX 90%"),
        count<&Pipe::cell_count>("cells", 0, 200,
                                 say("water cells along it; 0: one per {}, 1 to 8", Amount{5, measure::length})).otherwise(0),
        reference<&Pipe::around>("around", "room", "room that it runs through").optional("the unheated space"),
        field<&Pipe::share_inside>("share_inside", percent, 0, 100, "share of it in that room; the rest lies in the unheated space")
            .otherwise(100)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &size = value_of<&Pipe::size>(e), &diameter = value_of<&Pipe::diameter>(e);
    check_pipe_size(size, e.who, faults);
    if (!e.ports.empty() && size.text.empty() && diameter.numbers.empty())
      faults.add(
          {"E205", e.at, e.who + ": 'size' or 'diameter' is missing", "size = \"3/4 in copper M\", or diameter = \"0.811 in\"",
              "state one of them", {}, {}, "size"});
    each_value<&Pipe::elbows, &Pipe::tees_through, &Pipe::tees_branch>(e, [&](std::string const& key, Value const& n) {
      if (n.given && !diameter.numbers.empty())
        faults.add({"E222", n.at, e.who + ": " + key + " needs a nominal size", "size instead of diameter",
                    "or write the fittings as loss_coefficient"});
    });
    if (size.given && diameter.given)
      faults.add(
          {"E222", diameter.at, e.who + " has both 'size' and 'diameter'", "one of them", "remove 'diameter'", size.at});
  }

  void prepare() {
    auto const nominal = find_pipe_size(size);
    bore = std::isnan(*diameter) ? nominal.value().inside_diameter : *diameter;
    double const outside = nominal ? nominal->outside_diameter : bore * 1.1;
    wall_roughness = !std::isnan(*roughness) ? *roughness : nominal ? nominal->roughness : 1.5e-6;
    metal_per_metre = nominal ? nominal->wall_heat_capacity_per_length : 0;
    if (is_bare()) {
      double constexpr room = 293.15, warm = 333.15;
      double const ε = !std::isnan(*emissivity) ? *emissivity : nominal ? nominal->emissivity : 0.9;
      bare = BarePipeLoss(outside, ε), loss_per_metre = bare_loss_per_metre(outside, ε, warm, room);
    } else {
      loss_per_metre = insulated_loss_per_metre(outside, *insulation, *insulation_conductivity, 9);
    }
    if (cell_count == 0) cell_count = std::clamp(int(count_near(*length / 5)), 1, 8);
    sum_of_k = loss_coefficient;
    auto const add = [&](int n, std::string_view fitting) {
      if (n > 0) sum_of_k += n * fitting_k(FittingSource(fitting_source), fitting, bore).value();
    };
    add(elbows, "elbow"), add(tees_through, "tee through"), add(tees_branch, "tee branch");
  }

  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    return pipe_loss(flow, *length + *equivalent_length, bore, wall_roughness, sum_of_k, s.local(), friction_factor);
  }
  BoreFlow bore_flow(int, Site const& s) const {
    double const v = std::abs(s.flow()) / s.local().density / (3.14159265358979 / 4 * bore * bore),
                 Re = s.local().density * v * bore / s.local().viscosity;
    double const f = !std::isnan(friction_factor) ? friction_factor
                     : Re > 0                     ? steadyfire::friction_factor(Re, wall_roughness / bore)
                                                  : Field::none;
    return {bore, v, Re, f, *drop, is_purgeable};
  }
  Cells cells(int, Fluid const&) const {
    return {cell_count, 3.14159265358979 / 4 * bore * bore * *length, metal_per_metre * *length, true};
  }
  bool is_bare() const { return *insulation <= 0; }
  struct Surroundings {
    HeatedSpace space;
    double share;  ///< of the pipe
  };
  std::array<Surroundings, 2> surroundings(Site const& s) const {
    double constexpr radiated = 0.5;
    double const inside = around ? *share_inside : 0;
    HeatedSpace const unheated{{account::piping, account::piping, 0}, given::unheated};
    return {{{around ? heated_space(s, around, radiated) : unheated, inside}, {unheated, 1 - inside}}};
  }
  void links(Links& book, Site const& s) const {
    if (is_bare()) return;
    double const G = loss_per_metre * *length / cell_count;
    for (auto const& [space, share] : surroundings(s))
      for (int i = 0; i < cell_count && share > 0; ++i) book.link(s.water(i), space.to, share * G, s.water(i), space.at);
  }
  void laws(auto& book, Site const& s) const {
    if (!is_bare()) return;
    for (auto const& [space, share] : surroundings(s))
      for (int i = 0; i < cell_count && share > 0; ++i)
        book.heat(s.water(i), space.to,
                  [c = share * bare.coefficient * *length / cell_count, n = bare.exponent](auto water, auto air) {
                    return c * odd_power(water - air, n);
                  },
                  s.water(i), space.at);
  }
};

}  // namespace steadyfire
