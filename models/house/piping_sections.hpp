#pragma once
/// What the user says of the piping between boiler and zones.

#include "models/pipe_sizes.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// What joins the boiler to the zones.
struct NearBoilerSection {
  int arrangement, sensor;
  std::string size;
  Length supply_length, return_length, system_length, gap_length, straight_before, straight_after, separator_diameter;
  int elbows;
  Volume tank_volume;
  int tank_layers, tank_pipes;
  Length tank_pipe_length;
  double glycol;
  Temperature glycol_temperature;
  Entry tank_control, plates, lag_circulator, circulator, appliance_circulator, system_circulator, bypass, air_separator, dirt_separator,
      strainer;

  enum Arrangement { direct, tees, separator, buffer, exchanger };
  enum TankPipes { four, three, two };
  static constexpr std::string_view kind = "near boiler", family = "near boiler", summary = "Piping between boiler and zones";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        choice<&NearBoilerSection::arrangement>("arrangement",
                                                {"direct", "closely spaced tees", "hydraulic separator", "buffer tank", "plate exchanger"},
                                                "how boiler and zones meet"),
        text<&NearBoilerSection::size>("size", "pipe size near the boiler").optional("1 in copper M"),
        field<&NearBoilerSection::supply_length>("supply_length", foot, 0.5, 500, "boiler outlet to the tees, the tank or the header")
            .otherwise(6),
        field<&NearBoilerSection::return_length>("return_length", foot, 0.5, 500, "back to the boiler inlet").otherwise(6),
        field<&NearBoilerSection::system_length>("system_length", foot, 0.5, 500, "from tees or tank to the headers, each way")
            .otherwise(8),
        field<&NearBoilerSection::gap_length>("gap_length", foot, 0.1, 10, "pipe between closely spaced tees").otherwise(0.5),
        field<&NearBoilerSection::straight_before>("straight_before", foot, 0, 100, "straight pipe before the first of closely spaced tees")
            .optional("not stated, so not judged"),
        field<&NearBoilerSection::straight_after>("straight_after", foot, 0, 100, "straight pipe behind the second")
            .optional("not stated, so not judged"),
        count<&NearBoilerSection::elbows>("elbows", 0, 60, "in each of these pipes").otherwise(4),
        field<&NearBoilerSection::tank_volume>("tank_volume", gallon, 0.2, 2000, "water in the separator or the buffer tank")
            .optional("separator 3 gal, buffer tank 40 gal"),
        count<&NearBoilerSection::tank_layers>("tank_layers", 2, 80, "layers of its water").otherwise(8),
        field<&NearBoilerSection::separator_diameter>("separator_diameter", inch, 0.5, 60, "of a hydraulic separator, inside")
            .optional("by its volume and a height of 4 ft"),
        choice<&NearBoilerSection::tank_pipes>("tank_pipes", {"four", "three", "two"},
                                               "into a buffer tank: four; three, boiler and zone supply meeting before it; or two, so that "
                                               "only what the zones don't take goes through it")
            .otherwise(0),
        field<&NearBoilerSection::tank_pipe_length>("tank_pipe_length", foot, 0.2, 100, "from a tee to the tank, with three or two pipes")
            .otherwise(3),
        entry<&NearBoilerSection::tank_control>("tank_control", "tank control", "charges a buffer tank by its own thermometer")
            .optional("the boiler fires while a zone calls"),
        entry<&NearBoilerSection::plates>("exchanger", "exchanger", "between the boiler's water and the zones', for a plate exchanger")
            .optional(),
        number<&NearBoilerSection::glycol>("zone_glycol", 0, 0.6, "propylene glycol, by mass, on the zones' side of a plate exchanger")
            .optional(),
        field<&NearBoilerSection::glycol_temperature>("zone_glycol_temperature", degF, 23, 210, "at which its heat capacity is taken")
            .otherwise(100),
        choice<&NearBoilerSection::sensor>("control_sensor", {"boiler outlet", "system supply"}, "where the boiler's control measures")
            .otherwise(0),
        entry<&NearBoilerSection::circulator>("circulator", "circulator", "the boiler's")
            .optional("a small one where the arrangement needs one"),
        entry<&NearBoilerSection::appliance_circulator>(
            "appliance_circulator", "circulator", "the one inside the boiler: its curve is the head left after the boiler's own loss")
            .optional(),
        entry<&NearBoilerSection::lag_circulator>("lag_circulator", "circulator", "of a second boiler")
            .optional("as the first boiler's"),
        entry<&NearBoilerSection::system_circulator>("system_circulator", "circulator", "one for all zones, where zones have valves")
            .optional(),
        entry<&NearBoilerSection::bypass>("bypass", "bypass", "from the supply header to the return header").optional("none"),
        entry<&NearBoilerSection::air_separator>("air_separator", "air separator", "in the boiler's supply").optional("none"),
        entry<&NearBoilerSection::dirt_separator>("dirt_separator", "dirt separator", "in the boiler's return").optional("none"),
        entry<&NearBoilerSection::strainer>("strainer", "strainer", "in the boiler's return, before its circulator").optional("none")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    check_pipe_size(value_under(e, "size"), e.who, faults);
    auto const& arrangement = value_under(e, "arrangement");
    bool const has_plates = arrangement.numbers == std::vector{double(exchanger)};
    if (has_plates && !value_under(e, "exchanger").given)
      faults.add({"E205", arrangement.at, e.who + ": a plate exchanger is arranged, and 'exchanger' does not say which",
                  "exchanger = { rated_conductance = …, rated_flow = …, rated_head_loss = … }", ""});
    for (auto const* key : {"exchanger", "zone_glycol"})
      if (auto const& v = value_under(e, key); v.given && !has_plates)
        faults.add({"E222", v.at, e.who + ": '" + key + "' is given, but boiler and zones share their water",
                    "arrangement = \"plate exchanger\"", "what fills the whole house stands in [fluid]", arrangement.at});
    if (auto const& control = value_under(e, "tank_control"); control.given && arrangement.numbers != std::vector{double(buffer)})
      faults.add({"E222", control.at, e.who + ": 'tank_control' is given, and there is no buffer tank", "arrangement = \"buffer tank\"", "",
                  arrangement.at});
    for (auto const* key : {"straight_before", "straight_after"})
      if (auto const& v = value_under(e, key); v.given && arrangement.numbers != std::vector{double(tees)})
        faults.add({"E222", v.at, e.who + ": '" + key + "' is given, and there are no closely spaced tees",
                    "arrangement = \"closely spaced tees\"", "", arrangement.at});
    auto const &diameter = value_under(e, "separator_diameter"), &size = value_under(e, "size");
    bool const has_separator = arrangement.numbers == std::vector{double(separator)};
    if (diameter.given && !has_separator)
      faults.add({"E222", diameter.at, e.who + ": a separator's diameter is given, and there is no hydraulic separator",
                  "arrangement = \"hydraulic separator\"", "", arrangement.at});
    if (auto const pipe = find_pipe_size(size.text.empty() ? "1 in copper M" : size.text);
        diameter.given && has_separator && pipe && diameter.numbers.at(0) <= pipe->inside_diameter)
      faults.add({"E252", diameter.at,
                  e.who + ": the hydraulic separator is no wider than the bore of its pipes, " +
                      show(pipe->inside_diameter, measure::diameter, UnitSystem::us),
                  "a wider vessel", "three bores are usual: common practice, no source", size.at});
    auto const &own = value_under(e, "appliance_circulator"), &other = value_under(e, "circulator");
    if (own.given && other.given)
      faults.add({"E222", own.at, e.who + ": the boiler has two circulators", "appliance_circulator or circulator",
                  "one for all zones is the system_circulator", other.at});
  }
};

/// How zones are taken off the mains.
struct HeadersSection {
  int arrangement;
  std::string size;
  Length spacing, back_length;
  double balancing_cv;
  Entry diverter_tee;

  enum Arrangement { one_point, direct_return, reverse_return, manifold, single_pipe };
  static constexpr std::string_view kind = "headers", family = "headers",
                                    summary = "How zones are taken off the mains, in their order in the file";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    return {choice<&HeadersSection::arrangement>("arrangement", {"one point", "direct return", "reverse return", "manifold", "single pipe"},
                                                 "one point: headers so short and wide that they lose nothing")
                .otherwise(0),
            text<&HeadersSection::size>("size", "of the mains").optional("as near the boiler"),
            field<&HeadersSection::spacing>("spacing", foot, 0.1, 500, "from one zone's take-off to the next, in supply and in return")
                .otherwise(8),
            field<&HeadersSection::back_length>("back_length", foot, 0.1, 2000,
                                                "from the last take-off back to the boiler: of a reverse return as long as the supply "
                                                "main, of a single pipe as the spacing, if not given")
                .optional(),
            number<&HeadersSection::balancing_cv>("balancing_cv", 0.01, 100,
                                                  "manifold: of the balancing valve of a zone that states none, gpm at 1 psi")
                .typical(1, 2, 4),
            entry<&HeadersSection::diverter_tee>("diverter_tee", "diverter tee", "single pipe: past each zone").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) { check_pipe_size(value_under(e, "size"), e.who, faults); }
};

}  // namespace steadyfire
