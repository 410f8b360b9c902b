#pragma once
#include "models/hourly.hpp"

namespace steadyfire {

/// Room: its air with furniture, and the mass of its building behind it.
///
///   C_air·T_air'   = UA·(T_outdoors − T_air) + H·(T_mass − T_air) + gains + heat from emitters
///   C_mass·T_mass' = H·(T_air − T_mass)
///   UA = heat_loss + 0.335·n·V, or design load/(T_room − T_outdoors) at design, infiltration within
///
/// Shape   no branch; own states: air, which emitters and thermostats refer to, and mass.
/// Valid   all heat is lost from the air, so infiltration differs from transmission in nothing but
///         its size; gains go to the air, piecewise constant by the hour.
/// Source  capacities and coupling by floor area: the simple hourly method of ISO 13790:2008, 7.2.2 and 12.3.1
///         (mass area 2.5 to 3 times the floor, 9.1 W/(m²·K) to the mass, 3.45 W/(m²·K) over 4.5 times the
///         floor to the air; air and furniture 10 kJ/(m²·K) as ISO 52016-1), from memory.
struct Room {
  Power design_load;
  Temperature design_room, design_outdoors, start;
  Conductance heat_loss, coupling;
  Rate air_changes;
  Volume volume;
  Area floor_area;
  int construction;
  HeatCapacity air_capacity, mass_capacity;
  std::vector<Power> gains;

  double loss = 0;      // UA [W/K], from prepare()
  double gain_now = 0;  // [W], from settle()

  static constexpr std::string_view kind = "room", family = "room", summary = "A room: its air and the mass of its building";
  static constexpr Role role = Role::room;
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        field<&Room::design_load>("design_load", Btu_per_hour, 1, 5e6, "design heat loss, with infiltration").optional("the zone's"),
        field<&Room::design_room>("design_room", degF, 50, 90, "room temperature of the design load")
            .otherwise(70)
            .told_as("indoor_design of [site]"),
        field<&Room::design_outdoors>("design_outdoors", degF, -70, 65, "outdoor temperature of the design load")
            .optional("outdoor_design of [site]"),
        field<&Room::heat_loss>("heat_loss", Btu_per_hour_degF, 0, 1e6, "heat loss per degree, instead of a design load").optional(),
        field<&Room::air_changes>("air_changes", per_hour, 0, 20, "infiltration in addition to heat_loss; needs volume").optional(),
        field<&Room::volume>("volume", Unit<Volume::dimension>{"ft3", 0.028316846592}, 1, 1e8, "air volume, for air_changes").optional(),
        field<&Room::floor_area>("floor_area", square_foot, 10, 1e5, "floor area, for heat storage")
            .typical(100, 400, 2500)
            .told_as(say("the zone's, else {}, assumed", Amount{square_foot.to_si(400), measure::area})),
        choice<&Room::construction>("construction", {"light", "medium", "heavy"},
                                    "light frame, frame with masonry, or concrete; for heat storage")
            .otherwise(0),
        field<&Room::air_capacity>("air_capacity", Btu_per_degF, 0.1, 1e7, "heat stored in air and furniture, per degree")
            .optional("from floor area"),
        field<&Room::mass_capacity>("mass_capacity", Btu_per_degF, 0.1, 1e8, "heat stored in the building, per degree")
            .optional("from floor area"),
        field<&Room::coupling>("coupling", Btu_per_hour_degF, 0, 1e7, "heat transfer from air to building mass")
            .optional("from floor area"),
        list<&Room::gains>("gains", Btu_per_hour, 0, 1e6, "heat from people, lights and sun: one value, or 24 from midnight").optional(),
        field<&Room::start>("start", degF, -40, 120, "temperature at the start of the run").otherwise(70)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &load = value_of<&Room::design_load>(e), &loss = value_of<&Room::heat_loss>(e), &changes = value_of<&Room::air_changes>(e),
               &volume = value_of<&Room::volume>(e), &gains = value_of<&Room::gains>(e);
    if (load.given && loss.given)
      faults.add({"E222", loss.at, e.who + ": both 'design_load' and 'heat_loss'", "one of them",
                  "remove one; heat_loss = design load ÷ design temperature difference", load.at});
    if (changes.given && !loss.given)
      faults.add({"E222", changes.at, e.who + ": air_changes needs heat_loss", "heat_loss without infiltration",
                  "remove air_changes: a design load includes infiltration"});
    if (changes.given && !volume.given)
      faults.add({"E205", changes.at, e.who + ": air_changes needs 'volume'", "volume = \"2400 ft³\"", "add the room volume"});
    check_hourly(gains, e.who, "gains", faults);
  }

  static Place air(Site const& s) { return s.own(0); }
  static Place mass(Site const& s) { return s.own(1); }

  void prepare() {
    loss = !std::isnan(*heat_loss) ? *heat_loss : *design_load / (*design_room - *design_outdoors);
    if (!std::isnan(*air_changes)) loss += 0.335 * *air_changes * 3600 * *volume;  // 0.335 Wh/(m³·K)
    if (std::isnan(loss)) throw InternalError("a room has neither a heat loss nor a design load with its temperatures");
    constexpr std::array per_floor{110e3, 165e3, 260e3}, mass_area{2.5, 2.5, 3.0};
    if (std::isnan(*air_capacity)) air_capacity = {10e3 * *floor_area};
    if (std::isnan(*mass_capacity)) mass_capacity = {per_floor[construction] * *floor_area};
    if (std::isnan(*coupling)) coupling = {*floor_area / (1 / (3.45 * 4.5) + 1 / (9.1 * mass_area[construction]))};
  }
  std::vector<OwnState> states() const { return {{"air", *air_capacity, *start}, {"mass", *mass_capacity, *start}}; }
  void settle(Site const& s) { gain_now = gains.empty() ? 0 : *of_hour(gains, s); }
  void links(Links& book, Site const& s) const {
    book.link(air(s), account::envelope, loss, air(s), given::outdoors);
    book.link(air(s), mass(s), *coupling);
    book.give(account::gains, air(s), gain_now);
  }

  static constexpr std::array<std::string_view, 1> modes{"occupied by its gains"};
  static auto transitions() {
    return std::array{Transition<Room>{0, 0, &Room::next_hour, Cause::clock, "", measure::plain, nullptr, false}};
  }
  Reading next_hour(Site const& s) const { return gains.size() < 2 ? Reading::never() : at_next_hour(s); }
};

}  // namespace steadyfire
