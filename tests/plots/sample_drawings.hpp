#pragma once
/// Invented installations of the usual sorts, as drawings.

#include <string>
#include <utility>
#include <vector>

#include "sim/record/record.hpp"

namespace steadyfire::sample {

/// Adds limbs one after another from joint to joint.
struct Pipefitter {
  Drawing drawing;
  void limb(std::string id, std::string role, std::string label, std::string from, std::string to, std::string zone = "") {
    for (auto const& j : {from, to}) {
      bool known = false;
      for (auto const& k : drawing.joints) known = known || k == j;
      if (!known) drawing.joints.push_back(j);
    }
    drawing.limbs.push_back({id, role, label, zone, from, to, 0, role});
  }
  /// A zone between two joints: supply pipe, circulator or zone valve, check valve, emitter, return pipe.
  void zone(std::string name, std::string from, std::string to, bool own_circulator = true) {
    std::string const z = name;
    limb(z + "/supply", "pipe", "supply pipe", from, z + ".1", z);
    limb(z + "/mover", own_circulator ? "circulator" : "valve", own_circulator ? "circulator" : "zone valve", z + ".1", z + ".2", z);
    limb(z + "/check", "check", "check valve", z + ".2", z + ".3", z);
    limb(z + "/emitter", "emitter", "panel radiators", z + ".3", z + ".4", z);
    limb(z + "/return", "pipe", "return pipe", z + ".4", to, z);
  }
  /// Zones between two headers with header pieces between their branch points.
  void headers(std::string supply, std::string back, int zones, bool circulators = true) {
    std::vector<std::string> names{"living rooms", "bedrooms", "bath", "basement slab", "workshop", "annex"};
    while (int(names.size()) < zones) names.push_back("apartment " + std::to_string(names.size() + 1));
    for (int i = 0; i < zones; ++i) {
      std::string const n = std::to_string(i + 1), s = supply + n, r = back + n;
      if (i > 0) {
        limb("header/supply" + n, "pipe", "supply header " + n, supply + std::to_string(i), s);
        limb("header/return" + n, "pipe", "return header " + n, r, back + std::to_string(i));
      }
      zone(names[i], s, r, circulators);
    }
  }
};

/// One circulator at the boiler, zone valves, no decoupling.
inline Drawing direct(int zones) {
  Pipefitter f;
  f.limb("boiler", "boiler", "boiler", "boiler.in", "boiler.out");
  f.limb("boiler/supply", "pipe", "supply pipe", "boiler.out", "a");
  f.limb("boiler/pump", "circulator", "system circulator", "a", "s1");
  f.headers("s", "r", zones, false);
  f.limb("boiler/return", "pipe", "return pipe", "r1", "boiler.in");
  return f.drawing;
}
/// Boiler loop and zones meet at two tees close together.
inline Drawing close_tees(int zones) {
  Pipefitter f;
  f.limb("boiler", "boiler", "boiler", "boiler.in", "boiler.out");
  f.limb("boiler/supply", "pipe", "boiler supply", "boiler.out", "a");
  f.limb("boiler/pump", "circulator", "boiler circulator", "a", "tee1");
  f.limb("tees", "tee gap", "between the tees", "tee1", "tee2");
  f.limb("boiler/return", "pipe", "boiler return", "tee2", "boiler.in");
  f.limb("system/supply", "pipe", "system supply", "tee1", "s1");
  f.headers("s", "r", zones);
  f.limb("system/return", "pipe", "system return", "r1", "tee2");
  return f.drawing;
}
/// Two boilers, each with its own circulator, on common headers that end in the tees.
inline Drawing two_boilers(int zones) {
  Pipefitter f;
  for (std::string const n : {"1", "2"}) {
    f.limb("boiler" + n, "boiler", "boiler " + n, "in" + n, "out" + n);
    f.limb("boiler" + n + "/supply", "pipe", "supply of boiler " + n, "out" + n, "hot" + n);
    f.limb("boiler" + n + "/return", "pipe", "return of boiler " + n, "cool" + n, "back" + n);
    f.limb("boiler" + n + "/pump", "circulator", "circulator of boiler " + n, "back" + n, "in" + n);
  }
  f.limb("common/supply", "pipe", "common supply", "hot1", "hot2");
  f.limb("common/return", "pipe", "common return", "cool2", "cool1");
  f.limb("loop/supply", "pipe", "to the tees", "hot2", "tee1");
  f.limb("tees", "tee gap", "between the tees", "tee1", "tee2");
  f.limb("loop/return", "pipe", "from the tees", "tee2", "cool2");
  f.limb("system/supply", "pipe", "system supply", "tee1", "s1");
  f.headers("s", "r", zones);
  f.limb("system/return", "pipe", "system return", "r1", "tee2");
  return f.drawing;
}
/// A tank into which boiler and zones open by a pipe each, above and below.
inline Drawing four_pipe_tank(int zones) {
  Pipefitter f;
  f.limb("boiler", "boiler", "boiler", "boiler.in", "boiler.out");
  f.limb("boiler/supply", "pipe", "boiler supply", "boiler.out", "top");
  f.limb("tank", "tank", "buffer tank", "top", "bottom");
  f.limb("boiler/return", "pipe", "boiler return", "bottom", "b");
  f.limb("boiler/pump", "circulator", "boiler circulator", "b", "boiler.in");
  f.limb("system/supply", "pipe", "system supply", "top", "s1");
  f.headers("s", "r", zones);
  f.limb("system/return", "pipe", "system return", "r1", "bottom");
  return f.drawing;
}
/// A tank between boiler and zones, and hot water made by an exchanger with its tap side.
inline Drawing tank_and_hot_water(int zones) {
  Pipefitter f;
  f.limb("boiler", "boiler", "boiler", "boiler.in", "boiler.out");
  f.limb("boiler/pump", "circulator", "boiler circulator", "boiler.out", "h1");
  f.limb("hot/pump", "circulator", "hot water circulator", "h1", "x1");
  f.limb("hot/plates", "exchanger", "plates, boiler side", "x1", "h2");
  f.limb("tank/pipe", "pipe", "to the tank", "h1", "top");
  f.limb("tank", "tank", "buffer tank", "top", "bottom");
  f.limb("tank/back", "pipe", "from the tank", "bottom", "h2");
  f.limb("boiler/return", "pipe", "boiler return", "h2", "boiler.in");
  f.limb("system/supply", "pipe", "system supply", "top", "s1");
  f.headers("s", "r", zones);
  f.limb("system/return", "pipe", "system return", "r1", "bottom");
  return f.drawing;
}
/// Six pipes and a circulator in two loops: no boiler, no zones.
inline Drawing two_loops() {
  Pipefitter f;
  f.limb("pump", "circulator", "circulator", "B", "C");
  f.limb("CA", "pipe", "pipe CA", "C", "A");
  f.limb("AD", "pipe", "pipe AD", "A", "D");
  f.limb("DB", "pipe", "pipe DB", "D", "B");
  f.limb("CD", "pipe", "pipe CD", "C", "D");
  f.limb("AB", "pipe", "pipe AB", "A", "B");
  return f.drawing;
}
/// A zone whose loops hang between two manifolds, beside an ordinary one.
inline Drawing floor_manifold(int loops) {
  Pipefitter f;
  f.limb("boiler", "boiler", "boiler", "boiler.in", "boiler.out");
  f.limb("boiler/pump", "circulator", "boiler circulator", "boiler.out", "s1");
  f.zone("radiators", "s1", "r1");
  f.limb("header/supply", "pipe", "supply header", "s1", "s2");
  f.limb("slab/supply", "pipe", "supply pipe", "s2", "m", "slab");
  for (int i = 1; i <= loops; ++i) f.limb("slab/loop" + std::to_string(i), "emitter", "floor loop " + std::to_string(i), "m", "n", "slab");
  f.limb("slab/return", "pipe", "return pipe", "n", "r2", "slab");
  f.limb("header/return", "pipe", "return header", "r2", "r1");
  f.limb("boiler/return", "pipe", "boiler return", "r1", "boiler.in");
  return f.drawing;
}
/// Return header that runs on past the last zone, so that all zones have equal ways.
inline Drawing reverse_return(int zones) {
  Pipefitter f;
  f.limb("boiler", "boiler", "boiler", "boiler.in", "boiler.out");
  f.limb("boiler/pump", "circulator", "system circulator", "boiler.out", "s1");
  f.headers("s", "r", zones, false);
  for (auto& l : f.drawing.limbs) {
    if (l.id.rfind("header/return", 0) == 0) std::swap(l.from, l.to);
  }
  f.limb("boiler/return", "pipe", "long return", "r" + std::to_string(zones), "boiler.in");
  return f.drawing;
}

/// Invented flows and temperatures: supply hot, return cool, the third zone at rest.
inline Moment moment_of(Drawing const& d) {
  Moment m{.time = 0, .words = "middle of the longest burn", .flow = {}, .temperature = {}};
  for (auto const& l : d.limbs) {
    bool const rests = l.zone == "bath",
               cool = l.role == "emitter" || l.id.find("return") != std::string::npos || l.id.find("back") != std::string::npos;
    m.flow.push_back(rests ? 0 : l.zone.empty() ? 5e-4 : 1.5e-4);
    m.temperature.push_back(rests ? 303 : cool ? 324 - 2.0 * double(l.zone.size() % 4) : l.role == "tee gap" ? 339 : 341);
  }
  return m;
}

}  // namespace steadyfire::sample
