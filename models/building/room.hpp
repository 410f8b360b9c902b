#pragma once
#include "models/hourly.hpp"

namespace steadyfire {

/// Room: its air with furniture, the surfaces around it, and the mass of its building behind them.
///
///   C_air·T_air'   = H_is·(T_s − T_air) + H_ve·(T_outdoors − T_air) + half of the gains + what emitters convect
///   C_s·T_s'       = H_is·(T_air − T_s) + H_ms·(T_m − T_s) + H_w·(T_outdoors − T_s) + other half + what they radiate
///   C_m·T_m'       = H_ms·(T_s − T_m) + H_em·(T_outdoors − T_m)     H_em = 1/(1/H_op − 1/H_ms)
///   felt'          = ((T_air + T_s)/2 − felt)/60 s                  the operative temperature: what the room is said to have
///   H_ve + H_w + H_op = UA = heat_loss, or design load/(T_room − T_outdoors) at design; H_ve the share that air carries,
///                   H_w that of the windows; 0.335·n·V of stated air changes adds to H_ve
///
/// Shape   no branch; own states: felt, air, surfaces, mass.
/// Valid   1R per path; gains piecewise constant by the hour. With heat given to the air alone the loss at design is 1 to
///         2 % below UA·(T_room − T_outdoors), as surfaces are cooler than air; from a heated floor as much above.
///         H_em is at most twice H_op.
/// Source  nodes, H_is = 3.45 W/(m²·K) over 4.5 times the floor, H_ms = 9.1 W/(m²·K) over 2.5 to 3 times, H_em and the
///         classes 110, 165 and 260 kJ/(m²·K): the simple hourly method of ISO 13790:2008, 7.2.2, 12.2.2 and 12.3.1; air
///         and furniture 10 kJ/(m²·K): ISO 52016-1; all from memory. Own addition: the surfaces hold 20 kJ/(m²·K) of the
///         class, half the gypsum board of walls and ceiling, and radiant heat arrives there, where ISO 13790 divides it
///         between massless surfaces and mass.
struct Room {
  Power design_load;
  Temperature design_room, design_outdoors, start;
  Conductance heat_loss, coupling;
  Rate air_changes;
  Volume volume;
  Area floor_area;
  int construction;
  HeatCapacity air_capacity, mass_capacity;
  Fraction by_air, by_windows;
  std::vector<Power> gains;

  // From prepare(), SI
  double to_surfaces = 0, to_mass = 0;                   // H_is, H_ms
  double loss_of_air = 0, of_surfaces = 0, of_mass = 0;  // H_ve, H_w, H_em
  double surfaces_capacity = 0, behind_capacity = 0;
  double gain_now = 0;  // [W], from settle()

  static constexpr std::string_view kind = "room", family = "room", summary = "A room: its air, its surfaces and the mass of its building";
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
        field<&Room::by_air>("loss_by_air", percent, 0, 100,
                             "share of the heat loss that infiltration and ventilation carry; usually 15 to 45%")
            .otherwise(30),
        field<&Room::by_windows>("loss_by_windows", percent, 0, 100, "share of the heat loss through glass; usually 15 to 40%")
            .otherwise(25),
        list<&Room::gains>("gains", Btu_per_hour, 0, 1e6, "heat from people, lights and sun: one value, or 24 from midnight").optional(),
        field<&Room::start>("start", degF, -40, 120, "temperature at the start of the run").otherwise(70)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &load = value_of<&Room::design_load>(e), &loss = value_of<&Room::heat_loss>(e), &changes = value_of<&Room::air_changes>(e),
               &volume = value_of<&Room::volume>(e), &gains = value_of<&Room::gains>(e), &air = value_of<&Room::by_air>(e),
               &windows = value_of<&Room::by_windows>(e);
    if (load.given && loss.given)
      faults.add({"E222", loss.at, e.who + ": both 'design_load' and 'heat_loss'", "one of them",
                  "remove one; heat_loss = design load ÷ design temperature difference", load.at});
    if (changes.given && !loss.given)
      faults.add({"E222", changes.at, e.who + ": air_changes needs heat_loss", "heat_loss without infiltration",
                  "remove air_changes: a design load includes infiltration"});
    if (changes.given && air.given)
      faults.add({"E222", air.at, e.who + ": both 'air_changes' and 'loss_by_air'", "one of them",
                  "remove loss_by_air: heat_loss is without infiltration where air_changes is stated", changes.at});
    if (changes.given && !volume.given)
      faults.add({"E205", changes.at, e.who + ": air_changes needs 'volume'", "volume = \"2400 ft³\"", "add the room volume"});
    double const shares = (changes.given ? 0 : *get<&Room::by_air>(e)) + *get<&Room::by_windows>(e);
    if (shares > 1 + 1e-9)
      faults.add({"E291", windows.given ? windows.at : air.at, e.who + ": air and windows carry more than the whole heat loss",
                  "loss_by_air and loss_by_windows of 100% at most together", "lower one of them",
                  windows.given && air.given ? air.at : Position{}});
    check_hourly(gains, e.who, "gains", faults);
  }

  static Place felt(Site const& s) { return s.own(0); }
  static Place air(Site const& s) { return s.own(1); }
  static Place surfaces(Site const& s) { return s.own(2); }
  static Place mass(Site const& s) { return s.own(3); }

  void prepare() {
    double const loss = !std::isnan(*heat_loss) ? *heat_loss : *design_load / (*design_room - *design_outdoors);
    if (std::isnan(loss)) throw InternalError("a room has neither a heat loss nor a design load with its temperatures");
    bool const counts_changes = !std::isnan(*air_changes);
    double const changes = counts_changes ? 0.335 * *air_changes * 3600 * *volume : 0;  // 0.335 Wh/(m³·K)
    loss_of_air = counts_changes ? changes : *by_air * loss;
    of_surfaces = *by_windows * loss;
    double const opaque = std::max(0.0, loss - of_surfaces - (counts_changes ? 0 : loss_of_air));

    constexpr std::array per_floor{110e3, 165e3, 260e3}, mass_area{2.5, 2.5, 3.0};
    double constexpr skin = 20e3;
    if (std::isnan(*air_capacity)) air_capacity = {10e3 * *floor_area};
    if (std::isnan(*mass_capacity)) mass_capacity = {per_floor[construction] * *floor_area};
    to_surfaces = 3.45 * 4.5 * *floor_area, to_mass = 9.1 * mass_area[construction] * *floor_area;
    double const usual = 1 / (1 / to_surfaces + 1 / to_mass);
    if (std::isnan(*coupling)) coupling = {usual};
    to_surfaces *= *coupling / usual, to_mass *= *coupling / usual;
    surfaces_capacity = std::min(skin * *floor_area, *mass_capacity / 2), behind_capacity = *mass_capacity - surfaces_capacity;
    of_mass = opaque / std::max(0.5, to_mass > 0 ? 1 - opaque / to_mass : 0.0);
  }
  std::vector<OwnState> states() const {
    return {{"felt", 0, *start},
            {"air", *air_capacity, *start, 1, 0, StateRole::air},
            {"surfaces", surfaces_capacity, *start, 1, 0, StateRole::surfaces},
            {"mass", behind_capacity, *start}};
  }
  void settle(Site const& s) { gain_now = gains.empty() ? 0 : *of_hour(gains, s); }
  void links(Links& book, Site const& s) const {
    double constexpr answer = 1 / 60.0;  // [1/s]
    book.follow(felt(s), air(s), answer / 2), book.follow(felt(s), surfaces(s), answer / 2);
    book.link(air(s), surfaces(s), to_surfaces), book.link(surfaces(s), mass(s), to_mass);
    book.link(air(s), account::envelope, loss_of_air, air(s), given::outdoors);
    book.link(surfaces(s), account::envelope, of_surfaces, surfaces(s), given::outdoors);
    book.link(mass(s), account::envelope, of_mass, mass(s), given::outdoors);
    book.give(account::gains, Divided{air(s), surfaces(s), 0.5}, gain_now);
  }

  static constexpr std::array<std::string_view, 1> modes{"occupied by its gains"};
  static auto transitions() {
    return std::array{Transition<Room>{0, 0, &Room::next_hour, Cause::clock, "", measure::plain, nullptr, false}};
  }
  Reading next_hour(Site const& s) const { return gains.size() < 2 ? Reading::never() : at_next_hour(s); }
};

/// A wall or a floor between two rooms.
///
///   A/R·(T_s,one − T_s,other)   between the surfaces of both; R with the films of both faces
///
/// Shape   no branch, no own state.
/// Source  thermal resistances of building components: ISO 6946; the usual value is a framed partition with gypsum board on
///         both faces, ASHRAE Handbook Fundamentals, from memory.
struct Partition {
  Reference one, other;
  Area area;
  Resistance resistance;

  static constexpr std::string_view kind = "partition", family = "partition", summary = "A wall or a floor between two rooms";
  static std::vector<Field> schema() {
    using namespace unit;
    using P = Partition;
    return {reference<&P::one>("one", "room", "room on one side").optional(),
            reference<&P::other>("other", "room", "room on the other side").optional(),
            field<&P::area>("area", square_foot, 1, 1e5, "area between them").otherwise(100),
            field<&P::resistance>("r_value", R_value, 0.3, 100, "R-value with the air films of both faces").typical(2, 3.2, 5)};
  }
  void links(Links& book, Site const& s) const {
    book.link(s.of(one, StateRole::surfaces), s.of(other, StateRole::surfaces), *area / *resistance);
  }
};

}  // namespace steadyfire
