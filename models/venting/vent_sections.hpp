#pragma once
/// What the user says of vent and intake. It is looked at by the review; nothing of it is simulated.

#include "models/venting/vent_length.hpp"
#include "models/venting/vent_materials.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

namespace unit {
inline constexpr Unit<Volume::dimension> cubic_foot{"ft3", 0.028316846592};
inline constexpr Unit<Area::dimension> square_inch{"in2", 0.0254 * 0.0254}, square_centimetre{"cm2", 1e-4};
}  // namespace unit
namespace measure {
inline constexpr Measure room_volume{unit::cubic_foot, unit::cubic_metre, 0, 0}, opening{unit::square_inch, unit::square_centimetre, 0, 0};
inline constexpr Measure vent_length{unit::foot, unit::metre, 1, 1}, gap{unit::inch, unit::millimetre, 0, 0};
inline constexpr Measure air_density{unit::kilogram_per_cubic_metre, unit::kilogram_per_cubic_metre, 3, 3};
inline constexpr Measure air_pressure{unit::psi, unit::kilopascal, 2, 2};
}  // namespace measure

/// A run of vent or intake pipe.
struct VentRun {
  Length length, longest, shortest;
  int elbows, short_elbows, long_elbows, elbows_45, terminations;

  static constexpr std::string_view kind = "vent run", family = "vent run", summary = "A run of vent or intake pipe";
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&VentRun::length>("length", foot, 0, 1000, "straight pipe"),
            count<&VentRun::elbows>("elbows", 0, 60, "of 90 degrees").otherwise(0),
            count<&VentRun::short_elbows>("short_elbows", 0, 60, "of 90 degrees, short radius").otherwise(0),
            count<&VentRun::long_elbows>("long_elbows", 0, 60, "of 90 degrees, long sweep").otherwise(0),
            count<&VentRun::elbows_45>("elbows_45", 0, 60, "of 45 degrees").otherwise(0),
            count<&VentRun::terminations>("terminations", 0, 10, "kits at its end that count as pipe").otherwise(0),
            field<&VentRun::longest>("longest", foot, 1, 1000, "equivalent length allowed by the manual").optional(),
            field<&VentRun::shortest>("shortest", foot, 0, 500, "equivalent length asked for by the manual").optional()};
  }
  static void check(Entry const&, Diagnostics&);
};

/// Vent and intake of the boiler, and where they end.
struct VentSection {
  int system, material, opening_way;
  Length diameter, altitude, derate_above, opening_distance, height, snow;
  Temperature material_limit;
  Entry exhaust, intake;
  Length elbow, short_elbow, long_elbow, elbow_45, termination;
  Fraction derate;
  Volume room_volume;
  Area opening;
  Power room_input;

  enum System { two_pipes, concentric, room_air };
  static constexpr std::string_view kind = "vent", family = "vent", summary = "Vent and intake of the boiler";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    std::vector<std::string> materials;
    for (auto const& m : vent_materials) materials.emplace_back(m.name);
    std::string const by_manual = "the manual has it; several manuals, no standard";
    return {
        choice<&VentSection::system>("system", {"two pipes", "concentric", "room air"},
                                     "exhaust and intake side by side, one in the other, or air from the room"),
        choice<&VentSection::material>("material", materials, "of the exhaust"),
        field<&VentSection::material_limit>("material_limit", degF, 100, 1200, "hottest flue gas, by the maker of the vent")
            .optional("by its material"),
        field<&VentSection::diameter>("diameter", inch, 1, 16, "nominal; of a concentric vent the inner pipe"),
        entry<&VentSection::exhaust>("exhaust", "vent run", "from the boiler to the air outdoors"),
        entry<&VentSection::intake>("intake", "vent run", "from outdoors to the boiler, of two pipes").optional(),
        field<&VentSection::elbow>("elbow_length", foot, 0, 50, "that an elbow of 90 degrees counts as").typical(4, 5, 10, by_manual),
        field<&VentSection::short_elbow>("short_elbow_length", foot, 0, 50, "that one of short radius counts as")
            .typical(8, 9, 10, by_manual),
        field<&VentSection::long_elbow>("long_elbow_length", foot, 0, 50, "that one of long sweep counts as").typical(4, 4.5, 5, by_manual),
        field<&VentSection::elbow_45>("elbow_45_length", foot, 0, 50, "that one of 45 degrees counts as").typical(2.5, 2.5, 3, by_manual),
        field<&VentSection::termination>("termination_length", foot, 0, 100, "that a termination kit counts as")
            .typical(0, 3, 10, by_manual),
        field<&VentSection::altitude>("altitude", foot, -500, 15000, "of the site above the sea").optional(),
        field<&VentSection::derate>("derate_per_1000_ft", percent, 0, 10, "by which its input falls every 1000 ft, by the manual")
            .optional(),
        field<&VentSection::derate_above>("derate_above", foot, 0, 10000, "altitude from which that holds").otherwise(2000),
        field<&VentSection::room_volume>("room_volume", cubic_foot, 10, 1e6, "of the room that gives the air, and of what opens to it")
            .optional(),
        field<&VentSection::room_input>("room_input", kBtu_per_hour, 1, 20000, "of all appliances that take air from that room")
            .optional("all of [[gas_appliance]], else the boiler's"),
        field<&VentSection::opening>("opening", square_inch, 1, 1e5, "free area of each opening of that room").optional(),
        choice<&VentSection::opening_way>("opening_way", {"vertical", "horizontal", "one", "indoors"},
                                          "two openings straight outdoors or by vertical ducts, two by horizontal ducts, one outdoors, two "
                                          "to other rooms")
            .otherwise(0),
        field<&VentSection::opening_distance>("window_distance", inch, 0, 1000,
                                              "from the exhaust's end to the nearest door, window or opening").optional(),
        field<&VentSection::height>("height", inch, 0, 5000, "of the ends above the ground").optional(),
        field<&VentSection::snow>("snow", inch, 0, 500, "deepest snow to expect there").optional()};
  }
  static void check(Entry const&, Diagnostics&);
};

}  // namespace steadyfire
