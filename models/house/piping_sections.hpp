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
  static constexpr std::string_view kind = "near boiler", family = "near boiler", summary = "Near-boiler piping";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        choice<&NearBoilerSection::arrangement>("arrangement",
                                                {"direct", "closely spaced tees", "hydraulic separator", "buffer tank", "plate exchanger"},
                                                "how the boiler loop joins the zones"),
        text<&NearBoilerSection::size>("size", "pipe size near the boiler").optional("1 in copper M"),
        field<&NearBoilerSection::supply_length>("supply_length", foot, 0.5, 500, "pipe length from boiler outlet to tees, tank or header")
            .otherwise(6),
        field<&NearBoilerSection::return_length>("return_length", foot, 0.5, 500, "pipe length back to the boiler inlet").otherwise(6),
        field<&NearBoilerSection::system_length>("system_length", foot, 0.5, 500, "pipe length from tees or tank to the headers, each way")
            .otherwise(8),
        field<&NearBoilerSection::gap_length>("gap_length", foot, 0.1, 10, "pipe between the closely spaced tees").otherwise(0.5),
        field<&NearBoilerSection::straight_before>("straight_before", foot, 0, 100, "straight pipe ahead of the first closely spaced tee")
            .optional("unknown (not checked)"),
        field<&NearBoilerSection::straight_after>("straight_after", foot, 0, 100, "straight pipe after the second closely spaced tee")
            .optional("unknown (not checked)"),
        count<&NearBoilerSection::elbows>("elbows", 0, 60, "elbows in each of these pipes").otherwise(4),
        field<&NearBoilerSection::tank_volume>("tank_volume", gallon, 0.2, 2000, "volume of the hydraulic separator or buffer tank")
            .optional(say("separator {}, buffer tank {}", Amount{gallon.to_si(3), measure::whole_volume},
                          Amount{gallon.to_si(40), measure::whole_volume})),
        count<&NearBoilerSection::tank_layers>("tank_layers", 2, 80, "water layers in the model").otherwise(8),
        field<&NearBoilerSection::separator_diameter>("separator_diameter", inch, 0.5, 60, "inside diameter of the hydraulic separator")
            .optional(say("from its volume and a height of {}", Amount{foot.to_si(4), measure::length})),
        choice<&NearBoilerSection::tank_pipes>("tank_pipes", {"four", "three", "two"},
                                               "connections of the buffer tank; with two, only surplus flow enters it")
            .otherwise(0),
        field<&NearBoilerSection::tank_pipe_length>("tank_pipe_length", foot, 0.2, 100, "pipe length from tee to tank, three or two pipes")
            .otherwise(3),
        entry<&NearBoilerSection::tank_control>("tank_control", "tank control", "control that charges a buffer tank by its own sensor")
            .optional("none: the boiler fires while a zone calls"),
        entry<&NearBoilerSection::plates>("exchanger", "exchanger", "plate heat exchanger between boiler water and zone water")
            .optional(),
        number<&NearBoilerSection::glycol>("zone_glycol", 0, 0.6, "propylene glycol on the zone side of a plate exchanger, by mass")
            .optional(),
        field<&NearBoilerSection::glycol_temperature>("zone_glycol_temperature", degF, 23, 210, "temperature for its heat capacity")
            .otherwise(100),
        choice<&NearBoilerSection::sensor>("control_sensor", {"boiler outlet", "system supply"}, "location of the boiler's supply sensor")
            .otherwise(0),
        entry<&NearBoilerSection::circulator>("circulator", "circulator", "boiler circulator")
            .optional("a small one where the arrangement needs one"),
        entry<&NearBoilerSection::appliance_circulator>(
            "appliance_circulator", "circulator", "circulator inside the boiler; its curve is the head available outside")
            .optional(),
        entry<&NearBoilerSection::lag_circulator>("lag_circulator", "circulator", "circulator of the second boiler")
            .optional("same as the first boiler's"),
        entry<&NearBoilerSection::system_circulator>("system_circulator", "circulator", "one circulator for all zones with zone valves")
            .optional(),
        entry<&NearBoilerSection::bypass>("bypass", "bypass", "bypass valve from supply header to return header").optional("none"),
        entry<&NearBoilerSection::air_separator>("air_separator", "air separator", "air separator in the boiler supply").optional("none"),
        entry<&NearBoilerSection::dirt_separator>("dirt_separator", "dirt separator", "dirt separator in the boiler return")
            .optional("none"),
        entry<&NearBoilerSection::strainer>("strainer", "strainer", "strainer in the boiler return, ahead of its circulator")
            .optional("none")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    check_pipe_size(value_of<&NearBoilerSection::size>(e), e.who, faults);
    using S = NearBoilerSection;
    auto const& arrangement = value_of<&S::arrangement>(e);
    bool const has_plates = arrangement.numbers == std::vector{double(exchanger)};
    if (has_plates && !value_of<&S::plates>(e).given)
      faults.add({"E205", arrangement.at, e.who + ": arrangement \"plate exchanger\" needs 'exchanger'",
                  "exchanger = { rated_conductance = …, rated_flow = …, rated_head_loss = … }", "take them from the data sheet"});
    each_value<&S::plates, &S::glycol>(e, [&](std::string const& key, Value const& v) {
      if (v.given && !has_plates)
        faults.add({"E222", v.at, e.who + ": '" + key + "' does not go with this arrangement: boiler and zones share their water",
                    "arrangement = \"plate exchanger\"", "for glycol in the whole system use [fluid]", arrangement.at});
    });
    if (auto const& control = value_of<&S::tank_control>(e); control.given && arrangement.numbers != std::vector{double(buffer)})
      faults.add({"E222", control.at, e.who + ": 'tank_control' needs a buffer tank", "arrangement = \"buffer tank\"",
          "change the arrangement, or remove 'tank_control'",
                  arrangement.at});
    each_value<&S::straight_before, &S::straight_after>(e, [&](std::string const& key, Value const& v) {
      if (v.given && arrangement.numbers != std::vector{double(tees)})
        faults.add({"E222", v.at, e.who + ": '" + key + "' needs closely spaced tees",
                    "arrangement = \"closely spaced tees\"", "change the arrangement, or remove this key", arrangement.at});
    });
    auto const &diameter = value_of<&S::separator_diameter>(e), &size = value_of<&S::size>(e);
    bool const has_separator = arrangement.numbers == std::vector{double(separator)};
    if (diameter.given && !has_separator)
      faults.add({"E222", diameter.at, e.who + ": 'separator_diameter' needs a hydraulic separator",
                  "arrangement = \"hydraulic separator\"", "change the arrangement, or remove this key", arrangement.at});
    if (auto const pipe = find_pipe_size(size.text.empty() ? "1 in copper M" : size.text);
        diameter.given && has_separator && pipe && diameter.numbers.at(0) <= pipe->inside_diameter)
      faults.add({"E252", diameter.at,
                  e.who + ": separator_diameter is not above the inside diameter of its pipes, " +
                      show(pipe->inside_diameter, measure::diameter, UnitSystem::us),
                  "a wider vessel", std::string("usual: three pipe diameters; ") + common_practice, size.at});
    auto const &own = value_of<&S::appliance_circulator>(e), &other = value_of<&S::circulator>(e);
    if (own.given && other.given)
      faults.add({"E222", own.at, e.who + ": the boiler has two circulators", "one of appliance_circulator and circulator",
                  "one circulator for all zones is system_circulator", other.at});
  }
};

/// How zones are taken off the mains.
struct HeadersSection {
  int arrangement;
  std::string size;
  Length spacing, back_length, pipe_insulation;
  double balancing_cv;
  Entry diverter_tee;

  enum Arrangement { one_point, direct_return, reverse_return, manifold, single_pipe };
  static constexpr std::string_view kind = "headers", family = "headers",
                                    summary = "Headers: how the zones connect, in file order";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    return {choice<&HeadersSection::arrangement>("arrangement", {"one point", "direct return", "reverse return", "manifold", "single pipe"},
                                                 "header piping; one point: large headers without head loss")
                .otherwise(0),
            text<&HeadersSection::size>("size", "pipe size of the headers").optional("same as near the boiler"),
            field<&HeadersSection::spacing>("spacing", foot, 0.1, 500, "header length from one zone to the next, supply and return")
                .otherwise(8),
            field<&HeadersSection::back_length>("back_length", foot, 0.1, 2000,
                                                "header length from the last zone back to the boiler")
                .optional("reverse return: as long as the supply header; single pipe: the spacing"),
            field<&HeadersSection::pipe_insulation>("pipe_insulation", inch, 0, 4,
                                                    "insulation thickness of all heating pipes of the house; 0 is bare")
                .optional("as each pipe has it"),
            number<&HeadersSection::balancing_cv>("balancing_cv", 0.01, 100,
                                                  "manifold: Cv of a zone's balancing valve if not stated")
                .typical(1, 2, 4),
            entry<&HeadersSection::diverter_tee>("diverter_tee", "diverter tee", "single pipe: diverter tee past each zone").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) { check_pipe_size(value_of<&HeadersSection::size>(e), e.who, faults); }
};

}  // namespace steadyfire
