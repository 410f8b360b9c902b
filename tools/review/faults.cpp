#include "tools/review/faults.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/arrangements/names.hpp"
#include "models/boiler_data.hpp"
#include "models/circulator.hpp"
#include "models/combustion.hpp"
#include "models/fluid/glycol.hpp"
#include "models/fluid/water.hpp"
#include "models/pipe.hpp"
#include "models/pipe_sizes.hpp"
#include "models/plate_exchanger.hpp"
#include "models/strainer.hpp"
#include "models/valve.hpp"

namespace steadyfire {
namespace {

using namespace unit;

Piece& piece_of(Stand& s, std::string_view name) { return s.installation.pieces[std::size_t(s.installation.find(name))]; }
template <auto M>
void set(Stand& s, std::string const& piece, double value) {
  auto& v = value_of<M>(piece_of(s, piece));
  v.numbers = {value}, v.given = true;
}
template <auto M>
void scale(Stand& s, std::string const& piece, double by) {
  value_of<M>(piece_of(s, piece)).numbers.at(0) *= by;
}
/// Whose key several kinds have.
Value& value_of_key(Piece& p, std::string_view key) { return value_under(*p.kind, std::span<Value>{p.values}, key); }
double number(Piece const& p, std::string_view key) {
  for (std::size_t i = 0; i < p.kind->fields.size(); ++i)
    if (p.kind->fields[i].key == key) return p.values[i].numbers.empty() ? Field::none : p.values[i].numbers[0];
  return Field::none;
}
void turn_round(Stand& s, std::string const& piece) {
  auto& ports = piece_of(s, piece).ports;
  std::swap(ports.at(0), ports.at(1));
}
/// A resistance by its Cv in a pipe that has a bore.
///
///   K = 891·d⁴/Cv²     d [in]
void choke(Stand& s, std::string const& pipe, double cv) {
  auto& piece = piece_of(s, pipe);
  auto const nominal = find_pipe_size(get<&Pipe::size>(piece));
  double const bore = nominal ? nominal->inside_diameter : value_of<&Pipe::diameter>(piece).numbers.at(0);
  value_of<&Pipe::loss_coefficient>(piece).numbers.at(0) += 891 * std::pow(bore / inch.scale, 4) / (cv * cv);
}

class Faults {
  using B = BoilerData;

 public:
  explicit Faults(Stand const& stand) : stand_{stand}, in_{stand.installation} {}

  std::vector<Fault> all() {
    for (auto const& p : in_.pieces) {
      if (p.kind->name == Strainer::kind) strainer(p);
      if (p.kind->name == Circulator::kind) circulator(p);
      if (p.kind->name == CheckValve::kind) flow_check(p);
      if (p.kind->name == PlateExchanger::kind) plates(p);
      if (p.kind->name == ZoneValve::kind) zone_valve(p);
    }
    for (auto const& z : in_.zones) zone(z);
    exchanged_thermostats();
    boiler();
    water();
    still();
    return std::move(list_);
  }

 private:
  using Sizes = std::vector<Fault::Size>;
  void add(std::string id, std::string place, Words words, Words look, Sizes sizes, bool licensed = false) {
    list_.push_back({std::move(id), std::move(place), std::move(words), std::move(look), licensed, std::move(sizes)});
  }

  void strainer(Piece const& p) {
    Sizes sizes;
    for (double const clogged : {0.6, 0.75, 0.85, 0.92, 0.96})
      sizes.push_back({fmt::format("{:.0f}% of it", clogged * 100),
                       [=, name = p.name](Stand& s) { set<&Strainer::clogged>(s, name, clogged); }});
    add("strainer.clogged", p.name, "strainer clogged", "Shut it off, open it and look.", sizes);
  }

  void circulator(Piece const& p) {
    auto const name = p.name;
    int const never = in_.zones.empty() ? -1 : in_.zones[0].room;
    if (never >= 0)
      add("circulator.rests", name, "circulator does not run",
          "Feel and listen. Measure whether it has voltage while its zone calls.",
          {{"", [=](Stand& s) {
              auto& calls = value_of<&Circulator::calls>(piece_of(s, name));
              calls.numbers = {double(never)};  // a room never calls
            }}});
    int const regulation = get<&Circulator::regulation>(p);
    if (regulation == Circulator::fixed_speed) {
      Sizes slower;
      for (double const share : {0.85, 0.7, 0.55})
        slower.push_back({fmt::format("at {:.0f}% of its speed", share * 100), [=](Stand& s) {
                            auto& speeds = value_of<&Circulator::speeds>(piece_of(s, name));
                            for (auto& x : speeds.numbers) x *= share;
                            if (speeds.numbers.empty()) scale<&Circulator::speed>(s, name, share);
                          }});
      add("circulator.slow", name,
          "too little head: speed too low, or worn or fouled inside",
          "Look at the speed switch, then at the impeller.", slower);
    } else if (regulation == Circulator::constant_head || regulation == Circulator::proportional_head) {
      Sizes lower;
      for (double const share : {0.7, 0.45})
        lower.push_back({fmt::format("at {:.0f}% of its head", share * 100),
                         [=](Stand& s) { scale<&Circulator::setting_head>(s, name, share); }});
      add("circulator.slow", name, "set to too little head", "Look at its setting.", lower);
    }
    add("circulator.backwards", name, "circulator mounted backwards", "Look at the arrow on its body.",
        {{"", [=](Stand& s) { turn_round(s, name); }}});
  }

  void flow_check(Piece const& p) {
    auto const name = p.name;
    add("check.backwards", name, "flow check mounted backwards or stuck", "Look at the arrow on its body.",
        {{"", [=](Stand& s) { turn_round(s, name); }}});
  }
  void zone_valve(Piece const& p) {
    int const never = in_.zones.empty() ? -1 : in_.zones[0].room;
    if (never < 0) return;
    add("valve.stuck_shut", p.name, "zone valve stays closed",
        "Try its lever and its end switch. Measure 24 V at its motor.",
        {{"", [=, name = p.name](Stand& s) { value_of<&ZoneValve::call>(piece_of(s, name)).numbers = {double(never)}; }}});
  }
  void plates(Piece const& p) {
    Sizes sizes;
    for (double const share : {0.7, 0.5, 0.3})
      sizes.push_back({fmt::format("{:.0f}% of its conductance is left", share * 100),
                       [=, name = p.name](Stand& s) { scale<&PlateExchanger::rated_conductance>(s, name, share); }});
    add("exchanger.fouled", p.name, "heat exchanger scaled or fouled", "Open or flush it.", sizes);
  }

  void zone(ZoneParts const& z) {
    if (z.supply >= 0) {
      auto const& supply = in_.pieces[std::size_t(z.supply)].name;
      Sizes choked;
      for (double const cv : {3.0, 1.5, 0.8, 0.4})
        choked.push_back({fmt::format("as a valve of Cv {:.1f}", cv), [=](Stand& s) { choke(s, supply, cv); }});
      add("zone.choked", z.name, "a valve is nearly closed, or the loop is clogged or kinked",
          "Open every valve of the loop fully. Flush it.", choked);
      add("zone.air_bound", z.name, "no flow: the loop is air-bound, or a valve is closed",
          "Purge the loop. Listen for air. Try its valves.", {{"", [=](Stand& s) { choke(s, supply, 1e-3); }}});
    }
    weak_emitter(z);
    if (z.mover >= 0) unchecked(z);
  }

  void weak_emitter(ZoneParts const& z) {
    auto const& p = in_.pieces[std::size_t(z.emitter)];
    Sizes sizes;
    for (char const* key : {"output", "conductance"})
      if (sizes.empty() && number(p, key) > 0)
        for (double const share : {0.75, 0.5, 0.3})
          sizes.push_back(
              {fmt::format("{:.0f}% of its output is left", share * 100),
               [=, name = p.name](Stand& s) { value_of_key(piece_of(s, name), key).numbers.at(0) *= share; }});
    for (char const* key : {"covering", "over"})
      if (sizes.empty() && !std::isnan(number(p, key)))
        for (double const more : {0.5, 1.0, 2.0})
          sizes.push_back(
              {InEach{fmt::format("R {:.1f} more cover on it", more), fmt::format("RSI {:.2f} more cover on it", more * R_value.scale)},
               [=, name = p.name](Stand& s) { value_of_key(piece_of(s, name), key).numbers.at(0) += more * R_value.scale; }});
    if (sizes.empty()) return;
    add("emitter.weak", z.name,
        "emitter too weak: covered, dusty, part full of air, or smaller than stated",
        "See what covers it. Vent it. Read its label.", sizes);
  }

  /// Only where a zone rests does it show that nothing stops water from running through it.
  void unchecked(ZoneParts const& z) {
    auto const& calling = stand_.conditions.calling;
    if (std::find(calling.begin(), calling.end(), z.name) != calling.end()) return;
    auto const& mover = in_.pieces[std::size_t(z.mover)];
    if (mover.kind->name != Circulator::kind || (!get<&Circulator::check_valve>(mover) && z.flow_check < 0)) return;
    add("zone.ghost_flow", z.name, "flow check does not close",
        "Feel whether its pipes are warm while the zone is off.",
        {{"", [=, name = mover.name, check_name = z.flow_check < 0 ? "" : in_.pieces[std::size_t(z.flow_check)].name](Stand& s) {
            set<&Circulator::check_valve>(s, name, 0);
            if (!check_name.empty()) set<&CheckValve::opening_head>(s, check_name, 0);
          }}});
  }

  void exchanged_thermostats() {
    auto const& calling = stand_.conditions.calling;
    auto const calls = [&](std::string const& z) { return std::find(calling.begin(), calling.end(), z) != calling.end(); };
    for (auto const& a : in_.zones)
      for (auto const& b : in_.zones) {
        if (!calls(a.name) || calls(b.name)) continue;
        add("thermostats.exchanged", a.name, say("thermostats of '{}' and '{}' swapped", a.name, b.name),
            "Turn one of them up and feel which pipe warms.",
            {{"", [from = a.name, to = b.name](Stand& s) {
                std::replace(s.conditions.calling.begin(), s.conditions.calling.end(), from, to);
              }}});
      }
  }

  void boiler() {
    auto const& p = in_.pieces[std::size_t(in_.boiler)];
    auto const name = p.name;
    Sizes weak, fouled, choked;
    for (double const share : {0.9, 0.8, 0.65})
      weak.push_back({fmt::format("{:.0f}% of its input", share * 100),
                      [=](Stand& s) { scale<&B::heating_input>(s, name, share), scale<&B::minimum_input>(s, name, share); }});
    add("boiler.input_short", name, "less gas than its rating: pressure, orifice or altitude",
        "Measure gas pressure at full fire, and the input by the meter.", weak, true);
    for (double const more : {20.0, 40.0, 70.0})
      fouled.push_back({say("flue gas {} warmer", Amount{degF_change.scale * more, measure::temperature_change}), [=](Stand& s) {
                          auto& boiler = piece_of(s, name);
                          for (auto* approach : {&value_of<&B::approach_full>(boiler), &value_of<&B::approach_low>(boiler)})
                            for (double& x : approach->numbers) x += degF_change.scale * more;  // the low one follows if not stated
                        }});
    add("boiler.fouled", name, "boiler heat exchanger fouled: heat goes up the vent", "Measure the flue gas, then open and clean it.",
        fouled, true);
    for (double const times : {3.0, 8.0, 20.0})
      choked.push_back({fmt::format("{:.0f} times its head loss", times), [=](Stand& s) { scale<&B::rated_head_loss>(s, name, times); }});
    if (*get<&B::rated_head_loss>(p) > 0)
      add("boiler.choked", name, "boiler water side clogged: scale, dirt, or a valve next to it nearly closed",
          "Read the pressure before and after it.", choked);
    Sizes lean;
    for (double const air : {0.08, 0.5, 0.8})
      lean.push_back({fmt::format("{:.0f}% excess air", air * 100), [=](Stand& s) { set<&B::excess_air>(s, name, air); }});
    add("boiler.combustion", name, "too much or too little air: gas valve, fan, vent or intake",
        "Have a licensed contractor measure with an analyzer.", lean, true);
    Sizes setting;
    for (double const off : {-30.0, -15.0, 15.0, 30.0})
      setting.push_back(
          {say("{} too {}", Amount{degF_change.scale * std::abs(off), measure::temperature_change}, off < 0 ? "cold" : "warm"),
           [=](Stand& s) { s.conditions.target_error += degF_change.scale * off; }});
    add("control.target", name, "wrong target: setting, reset curve or outdoor sensor",
        "Read the target that the control shows, and its outdoor sensor.", setting);
    wrong_sensor(name);
    gap();
  }

  /// Where the control could feel another water than it should.
  void wrong_sensor(std::string const& name) {
    auto const& boiler = in_.pieces[std::size_t(in_.boiler)];
    auto const sensor = get<&B::sensor>(boiler);
    std::string const right = sensor ? in_.pieces[std::size_t(sensor.piece)].ports.at(0) : boiler.ports.at(1);
    int const system = in_.part(Part::system_supply);
    std::vector<std::pair<std::string, std::string>> places{
        {boiler.ports.at(1), "the boiler supply"}, {boiler.ports.at(0), "the boiler return"}, {named::return_header, "the system return"}};
    if (system >= 0 && !sensor) places.emplace_back(in_.pieces[std::size_t(system)].ports.at(0), "the system supply");
    for (auto const& [joint, where] : places)
      if (joint != right)
        add("control.sensor_misplaced", name, say("the control's sensor is in the wrong place, at {}", where),
            "See where the sensor is clamped.", {{"", [joint = joint](Stand& s) { s.conditions.sensor = joint; }}});
  }

  void gap() {
    if (in_.part(Part::gap) < 0) return;
    std::string const& tees = in_.pieces[std::size_t(in_.part(Part::gap))].name;
    Sizes sizes;
    for (double const times : {6.0, 20.0})
      sizes.push_back({fmt::format("{:.0f} times as long", times), [=](Stand& s) { scale<&Pipe::length>(s, tees, times); }});
    add("tees.far_apart", tees, "the tees are too far apart: each loop drives flow in the other",
        "Measure the gap between them.", sizes);
  }

  void water() {
    bool const is_water = std::dynamic_pointer_cast<Water const>(in_.fluid) != nullptr;
    Sizes sizes;
    if (is_water)
      for (double const share : {0.3, 0.5})
        sizes.push_back({fmt::format("{:.0f}% by mass", share * 100),
                         [=](Stand& s) { s.installation.fluid = std::make_shared<PropyleneGlycol>(share); }});
    else if (std::dynamic_pointer_cast<PropyleneGlycol const>(in_.fluid))
      sizes.push_back({"", [](Stand& s) { s.installation.fluid = std::make_shared<Water>(); }});
    if (!sizes.empty())
      add("fluid.other", "water", is_water ? "the system is filled with glycol" : "the system is filled with water instead of glycol",
          "Test a drop with a refractometer.", sizes);
  }

  void still() {
    auto const& known = stand_.still;
    if (!std::isnan(known.cold_pressure)) {
      Sizes low, high;
      for (double const off : {3.0, 6.0, 10.0})
        low.push_back({by(off * psi.scale, measure::pressure), [=](Stand& s) { shift(s, -off * psi.scale); }});
      for (double const off : {4.0, 8.0, 14.0})
        high.push_back({by(off * psi.scale, measure::pressure), [=](Stand& s) { shift(s, off * psi.scale); }});
      add("pressure.fallen", "boiler", "water lost since the fill: a leak, or air that the vents let out",
          "Look for wet spots at the relief valve pipe and the vents. Fill, and read again a day later.", low);
      add("pressure.risen", "boiler", "water comes in: the fill valve leaks through, or a coil leaks from the street water",
          "Close the fill valve and read again a day later.", high);
    }
    if (!std::isnan(known.hot_pressure) && known.hot_pressure > known.cold_pressure) {
      Sizes sizes;
      for (double const times : {2.0, 3.5, 6.0})
        sizes.push_back({fmt::format("it rises {:.1f} times as much", times), [=](Stand& s) {
                           s.still.hot_pressure = s.still.cold_pressure + times * (s.still.hot_pressure - s.still.cold_pressure);
                         }});
      add("tank.lost_charge", "expansion tank", "air charge lost, or tank too small: pressure climbs as the water warms",
          "Read the air charge with a tire gauge and no water pressure on the tank. Tap it to hear whether it is full of water.", sizes);
    }
    gas_supply();
  }
  static Words by(double si, Measure const& m) { return say("by {}", Amount{si, m}); }
  static void shift(Stand& s, double by) { s.still.cold_pressure += by, s.still.hot_pressure += by; }

  void gas_supply() {
    auto const& known = stand_.still;
    Sizes low, choked;
    for (double const off : {1.5, 3.0})
      low.push_back({by(off * inch_water.scale, measure::gas_pressure), [=](Stand& s) {
                       s.still.gas_static -= off * unit::inch_water.scale, s.still.gas_running -= off * unit::inch_water.scale;
                     }});
    for (double const off : {0.7, 1.5, 3.0})
      choked.push_back(
          {by(off * inch_water.scale, measure::gas_pressure), [=](Stand& s) { s.still.gas_running -= off * unit::inch_water.scale; }});
    if (!std::isnan(known.gas_static))
      add("gas.pressure_low", "gas", "gas supply pressure too low even without flow: meter, regulator or tank",
          "Ask the gas supplier.", low, true);
    if (!std::isnan(known.gas_running))
      add("gas.line_short", "gas", "gas pressure falls too far when the burner fires: a line too small, half closed or shared",
          "Read the pressure at the meter and at the boiler with all appliances firing.", choked, true);
  }

  Stand const& stand_;
  Installation const& in_;
  std::vector<Fault> list_;
};

}  // namespace

std::vector<Fault> possible_faults(Stand const& stand) { return Faults{stand}.all(); }

}  // namespace steadyfire
