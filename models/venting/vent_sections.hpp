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
inline constexpr Measure air_density{Unit<Density::dimension>{"lb/ft3", 16.01846337}, unit::kilogram_per_cubic_metre, 4, 3};
inline constexpr Measure air_pressure{unit::psi, unit::kilopascal, 2, 2};
}  // namespace measure

/// A run of vent or intake pipe.
struct VentRun {
  Length length, longest, shortest;
  int elbows, short_elbows, long_elbows, elbows_45, terminations;

  static constexpr std::string_view kind = "vent run", family = "vent run", summary = "A run of vent or intake pipe";
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&VentRun::length>("length", foot, 0, 1000, "straight length"),
            count<&VentRun::elbows>("elbows", 0, 60, "90° elbows").otherwise(0),
            count<&VentRun::short_elbows>("short_elbows", 0, 60, "90° short-radius elbows").otherwise(0),
            count<&VentRun::long_elbows>("long_elbows", 0, 60, "90° long-sweep elbows").otherwise(0),
            count<&VentRun::elbows_45>("elbows_45", 0, 60, "45° elbows").otherwise(0),
            count<&VentRun::terminations>("terminations", 0, 10, "termination kits that count as pipe").otherwise(0),
            field<&VentRun::longest>("longest", foot, 1, 1000, "maximum equivalent length, from the manual").optional(),
            field<&VentRun::shortest>("shortest", foot, 0, 500, "minimum equivalent length, from the manual").optional()};
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
    std::string const by_manual = "several manuals, no standard; use your manual's value";
    return {
        choice<&VentSection::system>("system", {"two pipes", "concentric", "room air"},
                                     "separate vent and intake, concentric, or air from the room"),
        choice<&VentSection::material>("material", materials, "vent material"),
        field<&VentSection::material_limit>("material_limit", degF, 100, 1200, "maximum flue gas temperature, from the vent maker")
            .optional("by material"),
        field<&VentSection::diameter>("diameter", inch, 1, 16, "nominal diameter; of a concentric vent the inner pipe"),
        entry<&VentSection::exhaust>("exhaust", "vent run", "vent from the boiler to its termination"),
        entry<&VentSection::intake>("intake", "vent run", "intake from outdoors to the boiler, two pipes").optional(),
        field<&VentSection::elbow>("elbow_length", foot, 0, 50, "equivalent length of a 90° elbow").typical(4, 5, 10, by_manual),
        field<&VentSection::short_elbow>("short_elbow_length", foot, 0, 50, "equivalent length of a 90° short-radius elbow")
            .typical(8, 9, 10, by_manual),
        field<&VentSection::long_elbow>("long_elbow_length", foot, 0, 50, "equivalent length of a 90° long-sweep elbow")
            .typical(4, 4.5, 5, by_manual),
        field<&VentSection::elbow_45>("elbow_45_length", foot, 0, 50, "equivalent length of a 45° elbow").typical(2.5, 2.5, 3, by_manual),
        field<&VentSection::termination>("termination_length", foot, 0, 100, "equivalent length of a termination kit")
            .typical(0, 3, 10, by_manual),
        field<&VentSection::altitude>("altitude", foot, -500, 15000, "site altitude").optional(),
        field<&VentSection::derate>("derate_per_1000_ft", percent, 0, 10,
                                    say("input derate per {}, from the manual", Amount{foot.to_si(1000), measure::length}))
            .optional(),
        field<&VentSection::derate_above>("derate_above", foot, 0, 10000, "altitude where the derate starts").otherwise(2000),
        field<&VentSection::room_volume>("room_volume", cubic_foot, 10, 1e6, "volume of the combustion air room and spaces open to it")
            .optional(),
        field<&VentSection::room_input>("room_input", kBtu_per_hour, 1, 20000, "input of all appliances that take air from that room")
            .optional("all of [[gas_appliance]], else the boiler's"),
        field<&VentSection::opening>("opening", square_inch, 1, 1e5, "free area of each combustion air opening").optional(),
        choice<&VentSection::opening_way>("opening_way", {"vertical", "horizontal", "one", "indoors"},
                                          "outdoors by two openings or vertical ducts, by horizontal ducts, by one opening; or indoors")
            .otherwise(0),
        field<&VentSection::opening_distance>("window_distance", inch, 0, 1000,
                                              "distance from the vent termination to doors, windows and openings").optional(),
        field<&VentSection::height>("height", inch, 0, 5000, "height of the terminations above ground").optional(),
        field<&VentSection::snow>("snow", inch, 0, 500, "deepest snow expected there").optional()};
  }
  static void check(Entry const&, Diagnostics&);
};

}  // namespace steadyfire
