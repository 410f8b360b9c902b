#pragma once
#include "sim/core/count_up.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Upright vessel of water in layers: a hydraulic separator, or with more water a buffer tank.
///
///   layer carried by the flow   C·T' = W·(T_above − T)           (below, where the flow rises)
///   conduction                  q = k·A·(T_upper − T_lower)/d    A = volume/height, d: between middles
///   warm water below cool       q = C/60 s·(T_lower − T_upper), only where T_lower > T_upper
///   standby loss                UA·(T − T_unheated), shared by volume
///
/// Shape   one branch, top to bottom. The joints at its ends hold the top and the bottom layer: whatever
///         pipes open there mix in it, and `stirred` says how much of the vessel the inflow stirs.
/// Valid   first-order upwind: as many stirred vessels in a row as there are layers, so that a front
///         widens as 1/√layers. An overturn takes about a minute, where nature takes seconds.
/// Source  stirred vessels in series, Fourier conduction; `stirred` and standby loss: common practice, no source.
struct Tank {
  Volume volume;
  Length height, diameter;
  int layers;
  Fraction stirred, thermometer;
  Conductance loss_conductance;

  double port_volume = 0, inner_volume = 0;  // of an end layer, and of each between [m³]; from prepare()

  static constexpr std::string_view kind = "tank", family = "tank", summary = "Hydraulic separator or buffer tank";
  static constexpr Role role = Role::tank;
  static constexpr std::array branches{Branch{"top", "bottom"}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        field<&Tank::volume>("volume", gallon, 0.1, 2000, "tank volume"),
        field<&Tank::height>("height", foot, 0.2, 20, "inside height").otherwise(4),
        field<&Tank::diameter>("diameter", inch, 0.5, 200, "inside diameter; sets the height")
            .optional("from volume and height"),
        count<&Tank::layers>("layers", 2, 80, "water layers, top to bottom").otherwise(8),
        field<&Tank::stirred>("stirred", percent, 0, 50, "share of the water mixed by the inflow at each end").typical(2, 5, 20),
        field<&Tank::thermometer>("thermometer", percent, 0, 100, "height of its sensor, from the bottom").otherwise(50),
        field<&Tank::loss_conductance>("standby_loss", Btu_per_hour_degF, 0, 200, "standby loss to the unheated space, per degree")
            .typical(0.5, 3, 8)};
  }
  void prepare() {
    if (!std::isnan(*diameter)) height = {*volume / (3.14159265358979 / 4 * *diameter * *diameter)};
    port_volume = layers == 2 ? *volume / 2 : std::max(*volume / layers, *stirred * *volume);
    inner_volume = layers == 2 ? 0 : (*volume - 2 * port_volume) / (layers - 2);
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const&) const { return 10.0 * flow * abs(flow) + 0.1 * flow; }  // a wide vessel: 0.1 kPa at 3 kg/s
  Cells cells(int, Fluid const&) const { return {layers - 2, inner_volume * (layers - 2), 0}; }
  double port_water(int) const { return port_volume; }
  std::vector<OwnState> states() const { return {{"thermometer", 0, 293.15, 0.1}}; }
  void begin(Site const& s, std::span<double> own) const { own[0] = s[felt(s)]; }
  Place felt(Site const& s) const { return layer(s, int(count_near((1 - *thermometer) * (layers - 1)))); }

  Place layer(Site const& s, int i) const { return i == 0 ? s.inlet() : i == layers - 1 ? s.outlet() : s.water(i - 1); }
  double volume_of(int i) const { return i == 0 || i == layers - 1 ? port_volume : inner_volume; }
  void links(Links& book, Site const& s) const {
    double constexpr pocket = 1 / 30.0;  // [1/s]
    book.follow(s.own(), felt(s), pocket);
    double const area = *volume / *height;
    for (int i = 0; i < layers; ++i)
      book.link(layer(s, i), account::piping, *loss_conductance * volume_of(i) / *volume, layer(s, i), given::unheated);
    for (int i = 0; i + 1 < layers; ++i) {
      double const apart = (volume_of(i) + volume_of(i + 1)) / 2 / area;
      book.link(layer(s, i), layer(s, i + 1), s.fluid().conductivity * area / apart);
    }
  }
  void laws(auto& book, Site const& s) const {
    double constexpr overturn = 60;  // [s]
    for (int i = 0; i + 1 < layers; ++i) {
      Place const upper = layer(s, i), lower = layer(s, i + 1);
      double const G = s.fluid().density * s.fluid().heat_capacity * std::min(volume_of(i), volume_of(i + 1)) / overturn;
      auto const rising = [G](auto below, auto above) { return G * greater(below - above, decltype(below)(0)); };
      book.heat(lower, upper, rising, lower, upper);
    }
  }
  void findings(Site const& s, std::vector<Finding>& list) const {
    double constexpr calm = 0.15;  // [m/s] 0.5 ft/s
    double const v = std::abs(s.flow()) / s.local().density / (*volume / *height);
    if (v <= calm) return;
    list.push_back({.id = "separator.fast",
                    .place = "",
                    .severity = Severity::minor,
                    .figures = {{"velocity", v, measure::velocity}},
                    .limit = Figure{"limit", calm, measure::velocity},
                    .whose = common_practice,
                    .words = say("velocity between its ends {}, limit {} ({}). Hot and cool water mix in it; air and dirt pass through.",
                                 Amount{v, measure::velocity}, Amount{calm, measure::velocity}, common_practice),
                    .order = 12,
                    .fix = "use a wider separator."});
  }
};

}  // namespace steadyfire
