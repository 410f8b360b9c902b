#pragma once
/// Studies as real ones come, of numbers made up by short formulas.

#include <cmath>

#include "sim/record/fit_record.hpp"
#include "sim/record/front_record.hpp"
#include "sim/record/study_record.hpp"

namespace steadyfire::sample {

constexpr double kbtu = 293.07107;  // W

/// The share of 1 that the i-th of many points has in a dimension: spread evenly by an irrational step.
inline double spread(size_t i, double step) { return std::fmod(0.5 + double(i) * step, 1.0); }

inline StudyColumn input(std::string key, std::string name, Measure m, std::vector<double> numbers = {}) {
  StudyColumn c;
  c.key = std::move(key), c.name = std::move(name), c.measure = m, c.numbers = std::move(numbers);
  return c;
}
inline StudyColumn figure(std::string key, std::string name, Measure m, bool lower, bool higher) {
  auto c = input(std::move(key), std::move(name), m);
  c.lower_is_better = lower, c.higher_is_better = higher;
  return c;
}

/// Starts an hour of a burner whose least fire is more than a zone takes: off long enough to lose what it stored.
inline double starts(double fire, double zone) { return zone >= fire ? 1 : std::round(1 + 13.6 * 4 * (1 - zone / fire) * zone / fire); }

/// Minimum fire over smallest zone, each pair once.
inline StudyRecord grid() {
  StudyRecord r;
  r.title = "Minimum fire against the smallest zone", r.scenario = "oversized_burner.toml", r.program_version = "0.6.0";
  r.points = "full grid";
  auto fire = input("boiler.minimum_input", "minimum fire", measure::power),
       zone = input("zone.bath.design_load", "smallest zone", measure::power);
  auto most = figure("most_in_one_hour", "starts in the worst hour", measure::count, true, false);
  auto room = figure("coldest_room", "coldest room, average", measure::fine_temperature, false, true);
  for (int i = 0; i < 10; ++i)
    for (int k = 0; k < 8; ++k) {
      double const f = 8 + 3 * i, z = 2 + 2 * k;
      fire.numbers.push_back(f * kbtu), zone.numbers.push_back(z * kbtu);
      most.numbers.push_back(starts(f, z)), room.numbers.push_back(293.15 + 0.3 * std::sin(i + k) - 0.05 * k);
    }
  r.inputs = {fire, zone}, r.figures = {most, room};
  r.asked = 82, r.failed = 2, r.faults = {{"E411: the step control fails at zone 'bath'", 2}};
  r.claims = {{"at most 6 burner starts in the worst hour", 41, 80, 0.4, 0.62}};
  r.words = {"8 kBtu/h minimum fire: at most 12 starts in the worst hour, whatever the zone",
             "every 3 kBtu/h more: up to 2 more starts"};
  r.cautions = {"Gas, hot water and electricity can kill. These results help you decide."};
  r.pictures = {{PictureSort::heat_map, "boiler.minimum_input", "zone.bath.design_load", "most_in_one_hour"},
                {PictureSort::line, "boiler.minimum_input", "zone.bath.design_load", "most_in_one_hour"},
                {PictureSort::line, "boiler.minimum_input", "", "most_in_one_hour"},
                {PictureSort::heat_map, "boiler.minimum_input", "zone.bath.design_load", "coldest_room"}};
  return r;
}

/// Houses of which some things are not known: factors, and one of two words.
inline StudyRecord houses(size_t count) {
  StudyRecord r;
  r.title = "How likely does it short-cycle?", r.scenario = "four_zone_house.toml", r.program_version = "0.6.0", r.points = "Sobol";
  auto load = input("zone.*.design_load", "design load of all zones", measure::plain),
       head = input("boiler.minimum_input", "minimum fire", measure::power),
       lag = input("boiler.minimum_off_time", "minimum off time", measure::minutes),
       pump = input("circulator.mode", "circulator", measure::plain);
  load.is_factor = true;
  pump.words = {"constant", "outdoor reset"};
  auto most = figure("most_in_one_hour", "starts in the worst hour", measure::count, true, false);
  auto burn = figure("middle_burn", "median burn", measure::minutes, false, true);
  auto supply = figure("highest_supply", "highest supply", measure::temperature, false, false);
  for (size_t i = 0; i < count; ++i) {
    double const a = 0.7 + 0.6 * spread(i, 0.7548776662), b = 8 + 20 * spread(i, 0.5698402910), c = 1 + 4 * spread(i, 0.3819660113);
    int const p = int(i % 2);
    load.numbers.push_back(a), head.numbers.push_back(b * kbtu), lag.numbers.push_back(60 * c), pump.numbers.push_back(p);
    double const n = std::round(starts(b, 6 * a) / (0.5 + 0.25 * c) * (p ? 0.8 : 1));
    most.numbers.push_back(n), burn.numbers.push_back(n > 0 ? 60 * 24 / (n + 1) : std::nan(""));
    supply.numbers.push_back(340 + 4 * a + 2 * std::sin(double(i)));
  }
  r.inputs = {load, head, lag, pump}, r.figures = {most, burn, supply};
  r.asked = long(count);
  r.claims = {{"at most 6 burner starts in the worst hour", long(count) * 78 / 100, long(count), 0.70, 0.85}};
  r.words = {"in 78 of 100 likely houses: at most 6 starts in the worst hour"};
  r.influences = {{"most_in_one_hour", "boiler.minimum_input", 0.72, 0.52},
                  {"most_in_one_hour", "boiler.minimum_off_time", -0.5, 0.26},
                  {"most_in_one_hour", "zone.*.design_load", -0.1, 0.04},
                  {"most_in_one_hour", "circulator.mode", -0.2, 0.05}};
  r.pictures = {{PictureSort::scatter, "boiler.minimum_input", "", "most_in_one_hour"},
                {PictureSort::influence, "", "", "most_in_one_hour"},
                {PictureSort::scatter, "zone.*.design_load", "", "middle_burn"},
                {PictureSort::scatter, "circulator.mode", "", "most_in_one_hour"},
                {PictureSort::line, "boiler.minimum_input", "circulator.mode", "most_in_one_hour"},
                {PictureSort::heat_map, "boiler.minimum_input", "boiler.minimum_off_time", "most_in_one_hour"}};
  r.cautions = {"Gas, hot water and electricity can kill. These results help you decide."};
  return r;
}

inline FrontRecord front(size_t count) {
  FrontRecord r;
  r.title = "Fewer starts or warmer rooms", r.scenario = "four_zone_house.toml", r.program_version = "0.6.0";
  r.x = {"burner starts", measure::count, true}, r.y = {"coldest room, average", measure::fine_temperature, false};
  for (size_t i = 0; i < count; ++i) {
    double const share = spread(i, 0.7548776662), off = i % 6 == 0 ? 0 : spread(i, 0.5698402910);
    r.points.push_back(
        {std::round(10 + 60 * share + 30 * off), 291 + 2.2 * std::sqrt(share) - 0.8 * off, true, "lag 30 s, differential 18 °F"});
  }
  for (auto& p : r.points)
    for (auto const& other : r.points)
      if (other.x <= p.x && other.y >= p.y && (other.x < p.x || other.y > p.y)) p.is_on_front = false;
  r.marks = {{"chosen", 34, 292.4, "minimum off time 4 min, differential 22 °F"}, {"as it is now", 71, 292.3, "as the file has it"}};
  r.words = {"37 starts fewer a day; the coldest room is 0.2 °F warmer"};
  return r;
}

inline FitRecord fit() {
  FitRecord r;
  r.title = "The house as its log tells it", r.scenario = "four_zone_house.toml", r.log = "week.csv", r.program_version = "0.6.0";
  FitSeries room{"room of bath", measure::fine_temperature, {}, {}, {}, false}, supply{"supply", measure::temperature, {}, {}, {}, true};
  for (int i = 0; i < 1000; ++i) {
    double const t = i < 500 ? i * 300 : i * 300 + 7200, day = 2 * 3.14159265 * t / 86400;
    for (auto* s : {&room, &supply}) s->times.push_back(t);
    room.fitted.push_back(293 + std::sin(day)),
        room.logged.push_back(i % 97 == 5 ? std::nan("") : 293.05 + std::sin(day + 0.1) + 0.1 * std::sin(37. * i));
    supply.fitted.push_back(330 + 8 * std::sin(9 * day)), supply.logged.push_back(330 + 8.5 * std::sin(9 * day + 0.1));
  }
  r.series = {room, supply};
  r.unknowns = {
      {"zone.bath.design_load", "design load of bath", measure::power, 1800, 2130, 90, ""},
      {"zone.bath.heat_capacity", "heat capacity of bath", measure::heat_capacity, 4e6, 5.2e6, std::nan(""),
       "unknown: the log hardly depends on it"}};
  r.words = {"the bath loses 18% more than stated"};
  return r;
}

}  // namespace steadyfire::sample
