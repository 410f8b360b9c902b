#include "models/house/contradictions.hpp"

#include <algorithm>

#include "models/circulator.hpp"
#include "models/bypass_valve.hpp"
#include "models/flow_limiter.hpp"
#include "models/house/piping_sections.hpp"
#include "models/house/sections.hpp"
#include "models/pipe.hpp"
#include "models/separators.hpp"

namespace steadyfire {
namespace {

class Contradictions {
 public:
  Contradictions(Installation const& in, Document const& document, Diagnostics& faults) : in_{in}, document_{document}, faults_{faults} {}
  void find() {
    for (int number = 0; number < int(in_.pieces.size()); ++number) {
      auto const& piece = in_.pieces[std::size_t(number)];
      if (piece.kind->name == AirSeparator::kind || piece.kind->name == DirtSeparator::kind) narrow_separator(piece);
      if (piece.kind->name == FlowLimiter::kind && in_.part(Part::hot_water_limiter) != number) limiter_above_curve(piece);
      if (piece.kind->name == BypassValve::kind && in_.part(Part::system_bypass) == number) bypass(piece);
    }
  }

 private:
  /// Where the file speaks of a piece's value, or else of what led to it; a pipe's size follows from its zone, or the near-boiler piping.
  Position where(Piece const& piece, Value const& v, bool is_size = false) const {
    if (v.at.line) return v.at;
    if (piece.at.line) return piece.at;
    for (auto const& t : document_.tables)
      if (t.kind->name == "zone" && t.name == piece.zone)
        return is_size && value_of<&ZoneSection::size>(t).given ? value_of<&ZoneSection::size>(t).at : t.at;
    if (auto const* near = document_.find("near boiler")) {
      auto const& size = value_of<&NearBoilerSection::size>(*near);
      return is_size && size.given ? size.at : near->at;
    }
    return {};
  }
  static std::string tell(double si, Measure const& m) { return show(si, m, UnitSystem::us); }

  void narrow_separator(Piece const& vessel) {
    auto const& stated = value_of<&SeparatingVessel::diameter>(vessel);
    double const diameter = stated.numbers.at(0);
    for (auto const& other : in_.pieces) {
      bool const meets = other.kind->name == Pipe::kind && std::any_of(other.ports.begin(), other.ports.end(), [&](auto const& joint) {
                           return std::find(vessel.ports.begin(), vessel.ports.end(), joint) != vessel.ports.end();
                         });
      if (!meets) continue;
      auto pipe = fill<Pipe>(other.values);
      pipe.prepare();
      if (diameter > pipe.bore) continue;
      faults_.add({"E252", where(vessel, stated),
                   vessel.kind->name + " '" + vessel.name + "': vessel diameter " + tell(diameter, measure::diameter) +
                       " is not above the inside diameter of pipe '" + other.name + "', " + tell(pipe.bore, measure::diameter),
                   "about three pipe diameters", "choose a wider vessel, so that the water slows down in it",
                   where(other, value_of<&Pipe::size>(other), true)});
      return;
    }
  }

  void limiter_above_curve(Piece const& piece) {
    double const flow = *fill<FlowLimiter>(piece.values).flow;
    std::vector<int> on_the_way{in_.part(Part::system_circulator)};
    for (auto const& zone : in_.zones)
      if (zone.name == piece.zone) on_the_way.insert(on_the_way.begin(), zone.mover);
    if (!is_decoupled()) on_the_way.push_back(in_.part(Part::boiler_circulator));
    for (int const number : on_the_way) {
      if (number < 0 || in_.pieces[number].kind->name != Circulator::kind) continue;
      auto circulator = fill<Circulator>(in_.pieces[number].values);
      circulator.prepare();
      if (flow <= circulator.most_flow()) continue;
      faults_.add({"E253", where(piece, value_of<&FlowLimiter::flow>(piece)),
                   "flow limiter '" + piece.name + "' is set to " + tell(flow, measure::flow) + ", beyond the end of circulator '" +
                       in_.pieces[number].name + "'s curve at " + tell(circulator.most_flow(), measure::flow),
                   "a flow within the circulator curve", "lower the setting, or choose a larger circulator",
                   where(in_.pieces[number], value_of<&Circulator::curve>(in_.pieces[number]))});
      return;
    }
  }

  void bypass(Piece const& piece) {
    auto const valve = fill<BypassValve>(piece.values);
    double head = 0;
    Piece const* last = nullptr;
    for (Part const part : {Part::boiler_circulator, Part::system_circulator}) {
      if (in_.part(part) < 0 || (is_decoupled() && part == Part::boiler_circulator)) continue;
      last = &in_.pieces[in_.part(part)];
      auto circulator = fill<Circulator>(last->values);
      circulator.prepare();
      head += circulator.most_head();
    }
    if (!last) {
      auto const own = std::find_if(in_.pieces.begin(), in_.pieces.end(),
                                    [](auto const& p) { return p.kind->name == Circulator::kind && !p.zone.empty(); });
      faults_.add({"E254", piece.at,
                   "near boiler: a bypass valve, but every zone has its own circulator",
                   "zone valves with one circulator, or no bypass", "remove 'bypass': each circulator stops with its zone",
                   own == in_.pieces.end() ? Position{} : where(*own, value_of<&Circulator::curve>(*own))});
    } else if (*valve.setting >= head) {
      faults_.add({"E255", where(piece, value_of<&BypassValve::setting>(piece)),
                   "bypass valve '" + piece.name + "' opens at " + tell(*valve.setting, measure::head) + ", but circulator '" + last->name +
                       "' has at most " + tell(head, measure::head),
                   "a setting below that head", "lower the setting", where(*last, value_of<&Circulator::curve>(*last))});
    }
  }
  bool is_decoupled() const { return in_.part(Part::gap) >= 0 || in_.part(Part::coupling) >= 0 || in_.part(Part::exchanger) >= 0; }

  Installation const& in_;
  Document const& document_;
  Diagnostics& faults_;
};

}  // namespace

void check_contradictions(Installation const& in, Document const& document, Diagnostics& faults) {
  Contradictions{in, document, faults}.find();
}

}  // namespace steadyfire
