#pragma once
/// What a run leaves behind: plain data, bounded in memory whatever the length of
/// the run, from which summaries, files and pictures are made without looking back
/// at the scenario or the plan. SI throughout; temperatures in kelvin.

#include <limits>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "sim/component/cause.hpp"
#include "sim/core/finding.hpp"
#include "sim/record/hot_water_record.hpp"
#include "sim/record/reason_figures.hpp"

namespace steadyfire {

struct EventRecord {
  double time;             ///< [s]
  std::string place, what; ///< the piece, and the mode that it entered
  Words why;
  Cause cause = Cause::timer;
};

/// One quantity over time, in bins of equal width: the lowest, mean and highest in each.
struct Channel {
  std::string id;     ///< "boiler/supply", "zone/bath/room"
  std::string label;  ///< "supply at the boiler"
  std::string group;  ///< "water", "room", "outdoors", "fire", "call"
  Measure measure = measure::plain;
  std::vector<float> least, mean, most;
};
struct Track {
  double start = 0, step = 0;  ///< [s]; bin i covers start + i·step … + step
  std::vector<Channel> channels;
};

/// The piping as a picture sees it. Ends name joints; a piece has one limb a branch.
struct DrawingPiece {
  std::string id, kind, label, zone;  ///< zone "" is near the boiler
  std::string from, to;               ///< joints at inlet and outlet of this limb
  int limb = 0;
  std::string role;  ///< "boiler", "circulator", "valve", "check", "emitter", "pipe", "tee gap", "tank", "exchanger", "tap", "cold main"
};
struct Drawing {
  std::vector<std::string> joints;
  std::vector<DrawingPiece> limbs;
};
/// Flow and water temperature in every limb of the drawing, in its order.
struct Moment {
  double time = 0;
  std::string words;  ///< why this moment: "middle of the longest burn"
  std::vector<double> flow;         ///< [m³/s], positive from → to
  std::vector<double> temperature;  ///< [K], leaving water
};

/// A reset curve as (outdoor, supply) corner points, and where the run really was.
struct ResetRecord {
  std::string name;
  std::vector<std::pair<double, double>> curve;  // [K], [K]
};
struct OperatingPoint { double outdoors, supply, fire; };  ///< [K], [K], share of input

struct BurnerRecord {
  std::string name;
  long starts = 0;
  int starts_per_hour_worst = 0;      ///< most ignitions in any sliding 60 min
  double worst_hour_at = 0;           ///< [s] its first ignition
  std::vector<int> starts_by_day;
  std::vector<float> burns;           ///< [s], finished burns in order; the first 200 000
  std::map<Cause, long> ends;         ///< finished burns by what made the burner stop
  std::vector<BurnEnds> ended_by;     ///< the same told as a fitter asks, the most first
  long near_stops = 0;                ///< times that water came as near to the stop point as `sensor_error` and the burn went on
  double burn_shortest = 0, burn_median = 0, burn_longest = 0;  ///< [s], finished burns
  double time_firing = 0, time_condensing = 0;                  ///< [s]
  double input_least = 0, input_most = 0, output_least = 0;     ///< [W]
};
/// The time that a room was far from its setpoint, after warm-up and apart from recovery, and what was going on in it.
struct OffSetpoint {
  double time = 0;                                     ///< [s]
  double worst = 0, worst_at = 0, worst_outdoors = 0;  ///< [K] of the room, [s], [K] then; of no meaning where time is 0
  double outdoors = 0;                                 ///< [K] mean, as all that follows
  double calling = 0, waiting = 0;                     ///< shares of the time: it called; heating waited for hot water
  double flow = 0;                                     ///< share of the flow needed, while it called
  double idle_flow = 0;                                ///< the same while it did not call
  double water = 0;                                    ///< [K] in its emitter while it called
  double heat = 0;                                     ///< [W] from its water
  double gains = 0;                                    ///< [W] of all rooms, from sun and people
};
struct ZoneRecord {
  std::string name, emitter;
  double room_min = 0, room_mean = 0, room_max = 0, setting = 0;  ///< [K]; NaN without a room
  double overshoot = 0, undershoot = 0;   ///< [K·s] above and below the band around the setting
  double longest_call = 0, call_time = 0; ///< [s]
  OffSetpoint cold, warm;                 ///< by more than `off_setpoint` beyond the thermostat's differential
  double recovery = 0, recovery_from = 0;  ///< [s] the longest from a setback to its setpoint again, [K] from where; 0 without setback
  bool recovers = true;                    ///< before the next setback
  double target = 0;                       ///< [K] of the boiler's water while it called, mean; 0 if it never did
  double heat = 0;                        ///< [J] given to the room by its emitter
  double design_load = 0;                 ///< [W]
};
struct EnergyRecord {
  double fuel = 0, useful = 0, electricity = 0;  ///< [J]
  double from_boiler = 0;                        ///< [J] given to the water: fuel less flue and jacket
  double to_rooms = 0;                           ///< [J] to rooms, by emitters and pipes, and to what draws it off
  /// Heat given by the boiler over fuel; NaN without fuel.
  double efficiency() const { return fuel > 0 ? from_boiler / fuel : std::numeric_limits<double>::quiet_NaN(); }
  std::map<std::string, double> losses;          ///< [J] by kind: flue, jacket, piping, floor_down
  double stored = 0;                             ///< [J] more in water, metal, slabs and rooms than at the start
  double closure = 0;                            ///< (in − out − stored)/in
  std::optional<double> cost, carbon;            ///< [money], [kg CO2]
};
/// A loss as people have it, from its key: "under the slab".
std::string_view loss_name(std::string_view key);
/// What leaves by the flue at full fire, as an analyser reads it.
struct FlueGasRecord {
  double oxygen = 0, carbon_dioxide = 0;  ///< shares of the dry gas
  double water = 0;                       ///< share of the wet gas, before any condenses
  double dew_point = 0, pressure = 0;     ///< [K], [Pa]
};
struct WeatherRecord {
  std::string source;
  double min = 0, max = 0, mean = 0;       ///< [K]
  double cold_1_percent = 0;               ///< [K] colder 1 % of the hours
  double degree_days_65F = 0;              ///< [K·d] from daily means
  double hours = 0;
};

/// What the run gives with one assumption at an end of its usual range.
struct BandEnd {
  double value = 0;             ///< of the assumption, SI
  long starts = 0;
  int starts_per_hour_worst = 0;
  double burn_median = 0;       ///< [s]; 0 if no burn ended
  double coldest_room = 0;      ///< [K] lowest of the zones' mean temperatures
  double fuel = 0;              ///< [J]
  std::string incomplete;       ///< "" or why there is no answer at this end
};
/// The band that one assumption gives the answer, all others in the middle of their ranges.
struct Band {
  std::string place, key;       ///< of the assumption
  Measure measure;              ///< of its value
  BandEnd low, high;
};

/// What a room may be off its setpoint before anybody feels it. Rule of thumb, no source.
inline constexpr double off_setpoint = 1;  ///< [K]

/// What the sensor of a boiler may be off by. Rule of thumb, no source.
inline constexpr double sensor_error = 5.0 / 9;  ///< [K] 1 °F

struct Record {
  std::string title, program_version;
  double duration = 0;  ///< [s] simulated
  std::string incomplete;  ///< "" or why the run ended early
  BurnerRecord burner;                     ///< the boiler that fires first
  std::vector<BurnerRecord> other_burners;
  std::vector<ZoneRecord> zones;
  std::optional<FlueGasRecord> flue_gas{};
  EnergyRecord energy;
  WeatherRecord weather;
  std::optional<HotWaterRecord> hot_water;  ///< of a house with taps
  double supply_min = 0, supply_mean = 0, supply_max = 0;  ///< [K] at the boiler outlet while firing
  double return_min = 0, return_mean = 0, return_max = 0;
  Track whole;   ///< the whole run
  Track closeup; ///< the day with most starts, finely
  std::vector<EventRecord> events;  ///< the first 100 000; `events_left_out` more
  long events_left_out = 0;
  Drawing drawing;
  Moment moment;
  std::vector<Moment> moments;  ///< through the run at even times, at most 288; words: what the burner did
  std::vector<ResetRecord> resets;
  std::vector<OperatingPoint> points;
  ReasonFigures why;                 ///< the figures that `reasons` (sim/record/reasons.hpp) are told from
  std::vector<Finding> findings;
  std::vector<Assumption> assumptions;
  std::optional<Band> stop_point;    ///< of the lead boiler, moved by `sensor_error` down and up; where the verdict may hang on it
  std::vector<Band> band;            ///< by assumption with a range, in their order; empty unless asked for
  std::vector<Words> cautions;
};

/// The figures of a record that a band compares.
BandEnd outcome(Record const&, double value);

}  // namespace steadyfire
