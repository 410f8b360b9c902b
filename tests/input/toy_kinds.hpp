#pragma once
/// Kinds that exist only to be read: one field of every sort.

#include "sim/component/batch_of.hpp"

namespace toy {
using namespace steadyfire;

struct Top {
  std::string title;
  static constexpr std::string_view kind = "scenario", family = "scenario", summary = "What the file is about";
  static std::vector<Field> schema() { return {text<&Top::title>("title", "what it shows").optional()}; }
};

struct Smooth {
  static constexpr std::string_view kind = "smooth", family = "wall", summary = "A wall without roughness";
  static std::vector<Field> schema() { return {}; }
};
struct Rough {
  Length height;
  static constexpr std::string_view kind = "very rough", family = "wall", summary = "A wall with roughness";
  static std::vector<Field> schema() { return {field<&Rough::height>("height", unit::millimetre, 0, 5, "of the grains")}; }
};
struct Cover {
  Length thickness;
  static constexpr std::string_view kind = "cover", family = "cover", summary = "What lies around it";
  static std::vector<Field> schema() { return {field<&Cover::thickness>("thickness", unit::inch, 0, 4, "of the cover").otherwise(0.5)}; }
};

struct Pump {
  enum Drive { fixed, regulated };
  Fraction speed, efficiency;
  VolumeFlow flow;
  Temperature limit;
  TemperatureChange differential;
  double ratio;
  int count;
  Drive drive;
  bool check_valve;
  std::string note;
  Time start;
  std::vector<Length> lengths;
  Curve curve;
  Reference calls_it;
  std::vector<Reference> sources;
  Entry wall, cover;
  static constexpr std::string_view kind = "toy pump", family = "pump", summary = "A pump to be read";
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"suction", "discharge"}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&Pump::flow>("flow", gpm, 0, 100, "wanted flow"),
            field<&Pump::speed>("speed", percent, 0, 100, "share of full speed").otherwise(100),
            field<&Pump::efficiency>("efficiency", percent, 1, 80, "wire to water").typical(15, 25, 45),
            field<&Pump::limit>("limit", degF, 32, 250, "hottest water").optional(),
            field<&Pump::differential>("differential", degF_change, 1, 40, "between on and off").otherwise(9),
            number<&Pump::ratio>("ratio", 0, 2, "of two things").optional(),
            steadyfire::count<&Pump::count>("count", 1, 9, "how many").otherwise(1),
            choice<&Pump::drive>("drive", {"fixed speed", "regulated"}, "how it is driven").otherwise(0),
            flag<&Pump::check_valve>("check_valve", "has one built in").otherwise(1),
            text<&Pump::note>("note", "whatever").optional(),
            clock<&Pump::start>("start", "when it may start").otherwise(6.5),
            list<&Pump::lengths>("lengths", foot, 0, 1000, "of the runs").optional(),
            steadyfire::curve<&Pump::curve>("curve", "flow", gpm, "head", foot, "head over flow").optional(),
            reference<&Pump::calls_it>("caller", "control", "who calls").optional(),
            reference<&Pump::sources>("sources", "control", "who else calls").optional(),
            entry<&Pump::wall>("wall", "wall", "its inside").optional(),
            entry<&Pump::cover>("cover", "cover", "its outside").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &limit = value_under(e, "limit"), &ratio = value_under(e, "ratio");
    if (limit.given && ratio.given)
      faults.add({"E222", ratio.at, "toy pump '" + e.name + "' has both limit and ratio", "one of them", "", limit.at});
  }
  template <class Flow>
  Flow loss(int, Flow q, Site const&) const { return q; }
};

struct Exchanger {
  static constexpr std::string_view kind = "toy exchanger", family = "exchanger", summary = "Two branches";
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"hot_in", "hot_out"}, Branch{"cold_in", "cold_out"}};
  static std::vector<Field> schema() { return {}; }
  template <class Flow>
  Flow loss(int, Flow q, Site const&) const { return q; }
};

struct Zone {
  Power load;
  static constexpr std::string_view kind = "zone", family = "zone", summary = "A section that repeats";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() { return {field<&Zone::load>("load", unit::kBtu_per_hour, 0, 1000, "design load").optional()}; }
};

struct Site_ {
  Temperature outdoors;
  static constexpr std::string_view kind = "site", family = "site", summary = "A section that stands once";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    return {field<&Site_::outdoors>("outdoors", unit::degF, -60, 70, "design temperature").otherwise(10)};
  }
};

inline Catalog catalog() {
  static Kind const all[]{section<Top>(), section<Smooth>(), section<Rough>(), section<Cover>(),
                          kind<Pump>(),   kind<Exchanger>(), section<Zone>(),  section<Site_>()};
  return all;
}
}  // namespace toy
