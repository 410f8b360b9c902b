#include "tools/review/wiring_review.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/max_cardinality_matching.hpp>

#include "models/arrangements/hot_water.hpp"
#include "models/boiler.hpp"
#include "models/house/section_of.hpp"
#include "models/supply_sensor.hpp"
#include "models/valve.hpp"
#include "tools/review/outdoor_sensor.hpp"
#include "tools/review/wiring_sections.hpp"
#include "sim/core/finding.hpp"

namespace steadyfire {
namespace {

char const* const by_manual = "board manual, your input";

/// A piece of the graph that is wired.
struct WiringNeed {
  WiringRole role;
  std::string piece, zone;
  double power = 0;  ///< [W] of the mains: the most in any solved state
};
/// What the graph needs, in the order of zones; near the boiler last.
std::vector<WiringNeed> wiring_needs(Installation const& in, FlowsRecord const& flows) {
  auto const role_of = [](Piece const& p) -> std::optional<WiringRole> {
    auto const& kind = p.kind->name;
    if (is_inside_combi(p)) return {};
    if (kind == "thermostat") return WiringRole::thermostat;
    if (kind == "zone valve") return WiringRole::valve;
    if (p.kind->role == Role::circulator) return WiringRole::circulator;
    if (kind == "air handler" || kind == "unit heater") return WiringRole::air_handler;
    if (kind == "motorised mixing valve" || kind == "diverting valve") return WiringRole::mixing_valve;
    if (p.kind->role == Role::emitter && p.kind->calls_itself) return WiringRole::tank_thermostat;
    if (kind == "tank control") return WiringRole::tank_thermostat;
    if (kind == "lag boiler") return WiringRole::second_boiler;
    return {};
  };
  auto const power_of = [&](std::string const& name) {
    double most = 0;
    for (auto const& state : flows.states)
      for (auto const& c : state.circulators)
        if (c.name == name) most = std::max(most, c.power);
    return most;
  };
  std::vector<WiringNeed> needs, near_boiler;
  for (auto const& p : in.pieces)
    if (auto const role = role_of(p)) {
      // by key: air handlers and unit heaters have no struct in common
      double const fan = *role == WiringRole::air_handler ? value_under(*p.kind, p.values, "fan_power").numbers.at(0) : 0;
      (p.zone.empty() ? near_boiler : needs).push_back({*role, p.name, p.zone, fan + power_of(p.name)});
    }
  needs.insert(needs.end(), near_boiler.begin(), near_boiler.end());
  return needs;
}

bool is_low_voltage(WiringRole role) {
  return role == WiringRole::thermostat || role == WiringRole::valve || role == WiringRole::mixing_valve ||
         role == WiringRole::tank_thermostat;
}

/// 24 V power where an output states none [W].
double usual_draw(WiringRole role, BoardSection const& board) {
  switch (role) {
    case WiringRole::thermostat:
    case WiringRole::tank_thermostat:
      return *board.thermostat_draw;
    case WiringRole::valve:
      return *board.valve_draw;
    case WiringRole::mixing_valve:
      return *board.mixing_draw;
    default:
      return 0;
  }
}

bool offers(BoardSection const& board, WiringRole role, int output, std::vector<bool> const& restricted) {
  if (!restricted[std::size_t(role)]) return true;
  auto const& list = board.offered(role);
  return std::any_of(list.begin(), list.end(), [&](Fraction n) { return int(*n) == output; });
}

/// Whether the file says by a list which outputs take a role.
std::vector<bool> restrictions(Entry const* stated) {
  if (!stated) return std::vector<bool>(std::size_t(WiringRole::other) + 1);
  std::vector<bool> all;
  BoardSection::each_list(*stated, [&](std::string const&, Value const& list) { all.push_back(list.given); });
  return all;
}

/// Each need's output, so that as many as possible have one that offers their role, low numbers first; 0 for none.
std::vector<int> propose(std::vector<WiringNeed> const& needs, BoardSection const& board, std::vector<bool> const& restricted) {
  using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS>;
  std::size_t const n = needs.size();
  Graph graph{n + std::size_t(board.outputs)};
  for (std::size_t i = 0; i < n; ++i)
    for (int output = 1; output <= board.outputs; ++output)
      if (offers(board, needs[i].role, output, restricted)) boost::add_edge(i, n + std::size_t(output) - 1, graph);
  std::vector<boost::graph_traits<Graph>::vertex_descriptor> mate(num_vertices(graph));
  boost::edmonds_maximum_cardinality_matching(graph, mate.data());
  std::vector<int> outputs;
  for (std::size_t i = 0; i < n; ++i) outputs.push_back(mate[i] == boost::graph_traits<Graph>::null_vertex() ? 0 : int(mate[i] - n) + 1);
  // Those that may change places stand in the order of the list.
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t k = i + 1; k < n; ++k)
      if (outputs[i] > outputs[k] && outputs[k] > 0 && offers(board, needs[i].role, outputs[k], restricted) &&
          offers(board, needs[k].role, outputs[i], restricted))
        std::swap(outputs[i], outputs[k]);
  return outputs;
}

/// Sensors and end switches: what carries a signal and takes no output.
ReviewTable signals(Installation const& in) {
  ReviewTable t{"wiring_signals",
                "Sensors and end switches (low voltage, apart from line voltage)",
                {"device", "serves", "connects to"},
                {}};
  if (needs_outdoor_sensor(in))
    t.rows.push_back({"outdoor sensor", "outdoor reset", "boiler control (north wall, out of the sun, away from the vent)"});
  int const of_boiler = in.boiler < 0 ? -1 : get<&Boiler::sensor>(in.pieces[std::size_t(in.boiler)]).piece;
  for (std::size_t i = 0; i < in.pieces.size(); ++i) {
    auto const& p = in.pieces[i];
    auto const& kind = p.kind->name;
    if (is_inside_combi(p)) continue;
    if (kind == SupplySensor::kind)
      t.rows.push_back(int(i) == of_boiler ? std::vector<ReviewCell>{"system supply sensor", "firing rate", "boiler control"}
                                           : std::vector<ReviewCell>{"sensor", p.name, "the control that reads it"});
    else if (kind == ZoneValve::kind) t.rows.push_back({"end switch", p.name, "boiler's heat call, all end switches in parallel"});
    else if (kind == "motorised mixing valve" || kind == "injection circulator")
      t.rows.push_back({"mixed supply sensor", p.name, "its mixing control"});
    else if (kind == "tank control") t.rows.push_back({"tank sensor", p.name, "boiler control or aquastat"});
    else if (kind == "lag control") t.rows.push_back({"common supply sensor", p.name, "control that stages the boilers"});
  }
  return t;
}

class WiringReview {
 public:
  explicit WiringReview(Job const& job)
      : job_{job}, board_{section_of<BoardSection>(job.document, job.catalog)}, stated_{job.document.find("board")},
        restricted_{restrictions(stated_)}, needs_{wiring_needs(job.project.installation, job.flows)} {
    part_.id = "wiring", part_.title = "Wiring list";
    for (auto const& t : job.document.tables)
      if (t.kind->name == OutputSection::kind) outputs_.push_back({fill<OutputSection>(t.values), t.name, {}});
  }

  ReviewPart review() {
    table_ = {"wiring",
              outputs_.empty() ? "Wiring list (proposed)" : "Wiring list",
              {"output", "role", "serves", "zone", "line-voltage power", "24 V power"},
              {}};
    outputs_.empty() ? propose_list() : check_list();
    part_.tables.push_back(table_);
    if (auto t = signals(job_.project.installation); !t.rows.empty()) part_.tables.push_back(std::move(t));
    if (!stated_) part_.missing.push_back("[board]: the wiring was not compared with what the board offers");
    else {
      if (std::isnan(greatest())) part_.missing.push_back("greatest_power or greatest_amperes in [board], of one output");
      if (std::isnan(*board_.transformer)) part_.missing.push_back("transformer in [board]: the 24 V load was not compared with it");
      if (std::isnan(*board_.total_power) && std::isnan(board_.fuse_amperes))
        part_.missing.push_back("total_power or fuse_amperes in [board]");
    }
    part_.not_covered = {"wire sizes, overcurrent protection, grounding, disconnects and the circuit that feeds the boiler",
                         "power factor and inrush: a motor draws more amperes than its watts divided by volts; see its plate",
                         "which contacts are dry and which carry power, polarity, and what a smart thermostat needs besides two wires"};
    part_.reminders = {"High limit, low-water cutoff and emergency switch stay wired as the appliance manual shows.",
                       "A contact that feeds a circulator must be rated for a motor."};
    part_.cautions = {
        "Electricity kills. Switch off, lock out and test before you touch a terminal. Line-voltage wiring is licensed work in "
        "most places."};
    return std::move(part_);
  }

 private:
  struct Output {
    OutputSection section;
    std::string name;
    std::vector<std::size_t> needs;
  };
  std::string label(Output const& o) const { return o.section.number ? fmt::format("output {}", o.section.number) : "'" + o.name + "'"; }
  std::string const& target(Output const& o) const { return o.section.serves.empty() ? o.name : o.section.serves; }
  WiringRole role(Output const& o) const { return WiringRole(o.section.role); }
  static std::string const& words(WiringRole role) { return role_names[std::size_t(role)]; }

  /// [W] that one output may feed; NaN if the file does not say.
  double greatest() const { return !std::isnan(*board_.greatest_power) ? *board_.greatest_power : board_.greatest_amperes * board_.volts; }

  struct Conflict {
    std::string id, place;
    Words words, whose, fix;
    double order;
  };
  void find(Conflict c) {
    part_.find({std::move(c.id), std::move(c.place), Severity::serious, {}, std::nullopt, std::move(c.whose), std::move(c.words), c.order},
               std::move(c.fix));
  }

  void propose_list() {
    part_.sentences.push_back(
        needs_.empty() ? Words("Nothing in this installation connects to the board.")
                       : say("No wiring in the file. {} devices need an output; the list proposes one for each.", needs_.size()));
    std::vector<int> numbers(needs_.size());
    for (std::size_t i = 0; i < numbers.size(); ++i) numbers[i] = int(i) + 1;
    if (stated_) numbers = propose(needs_, board_, restricted_);
    std::vector<std::size_t> order(needs_.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) {
      return std::pair{numbers[a] == 0, numbers[a]} < std::pair{numbers[b] == 0, numbers[b]};
    });
    std::vector<Words> left;
    for (std::size_t const i : order) {
      auto const& need = needs_[i];
      double const low = is_low_voltage(need.role) ? usual_draw(need.role, board_) : 0;
      if (numbers[i] == 0) left.push_back(need.piece);
      row(numbers[i], need.role, need.piece, need.zone, need.power, low, numbers[i] == 0 ? "none free" : "");
      if (numbers[i]) load(fmt::format("output {}", numbers[i]), need.power, low);
    }
    if (!left.empty())
      find({"wiring.too_few_outputs", "board",
            say("{} of {} devices have no output that fits: {}", left.size(), needs_.size(), listed(left, ", ")), by_manual,
            "Use a separate zone panel with relays for what does not fit on the board.", 50});
    else if (stated_ && !needs_.empty()) part_.sentences.push_back("All fit on the board.");
    judge_sums();
  }

  void check_list() {
    match();
    for (auto const& o : outputs_) {
      if (o.section.number == 0 || !stated_) continue;
      if (o.section.number > board_.outputs)
        find({"wiring.no_such_output", label(o),
              say("'{}' is on {}, but the board has {} outputs", o.name, label(o), board_.outputs), by_manual,
              board_.outputs > 0 ? say("Use one of outputs 1 to {}, or a separate zone panel.", board_.outputs)
                                 : Words("Use a separate zone panel."),
              60});
      else if (!offers(board_, role(o), o.section.number, restricted_))
        find({"wiring.role_not_offered", label(o), say("{} does not take the role '{}'", label(o), words(role(o))), by_manual,
              offered_on(role(o)), 55});
    }
    for (std::size_t a = 0; a < outputs_.size(); ++a)
      for (std::size_t b = a + 1; b < outputs_.size(); ++b)
        if (outputs_[a].section.number && outputs_[a].section.number == outputs_[b].section.number)
          find({"wiring.output_twice", label(outputs_[a]),
                say("two devices, '{}' and '{}'", outputs_[a].name, outputs_[b].name), common_practice,
                "Connect one device per output; run two together through one relay rated for both.", 70});
    std::vector<WiringNeed const*> unwired;
    for (std::size_t i = 0; i < needs_.size(); ++i) {
      std::vector<Words> by;
      for (auto const& o : outputs_)
        if (std::find(o.needs.begin(), o.needs.end(), i) != o.needs.end()) by.push_back(label(o));
      if (by.empty()) unwired.push_back(&needs_[i]);
      if (by.size() > 1)
        find({"wiring.fed_twice", needs_[i].piece,
              say("fed by {}. Switching one off leaves it live by the other", listed(by)), common_practice,
              "Connect each device to one output.", 65});
    }
    for (auto const* need : unwired)
      find({"wiring.not_wired", need->piece, say("this {} has no output", words(need->role)), common_practice,
            "Add an [[output]] for it (no number if it has its own relay).", 45});
    auto sorted = outputs_;
    std::stable_sort(sorted.begin(), sorted.end(), [](auto const& a, auto const& b) {
      return std::pair{a.section.number == 0, a.section.number} < std::pair{b.section.number == 0, b.section.number};
    });
    for (auto const& o : sorted) {
      bool const low_voltage = is_low_voltage(role(o)), stated = !std::isnan(*o.section.draw);
      double mains = 0, low = 0;
      for (std::size_t const i : o.needs) mains += needs_[i].power;
      if (stated) (low_voltage ? low : mains) = *o.section.draw;
      else if (low_voltage) low = usual_draw(role(o), board_);
      std::string const zone = o.needs.empty() ? "" : needs_[o.needs[0]].zone;
      row(o.section.number, role(o), target(o), zone, mains, low, "own relay");
      if (o.section.number) load(label(o), mains, low);
    }
    part_.sentences.push_back(say("{} outputs in the file for {} devices.", outputs_.size(), needs_.size()));
    judge_sums();
  }

  /// Which needs each output serves: the piece of that name, or all of its role in the zone of that name.
  void match() {
    auto const& in = job_.project.installation;
    std::vector<std::string> known;
    for (auto const& p : in.pieces) known.push_back(p.name);
    for (auto const& z : in.zones) known.push_back(z.name);
    for (auto& o : outputs_) {
      for (std::size_t i = 0; i < needs_.size(); ++i) {
        bool const by_name = needs_[i].piece == target(o), by_zone = needs_[i].zone == target(o) && needs_[i].role == role(o);
        bool const fits = needs_[i].role == role(o) || (role(o) == WiringRole::recirculation && needs_[i].role == WiringRole::circulator);
        if ((by_name && fits) || by_zone) o.needs.push_back(i);
      }
      if (!o.needs.empty()) continue;
      bool const is_known = std::find(known.begin(), known.end(), target(o)) != known.end();
      bool const beside_graph = role(o) == WiringRole::recirculation || role(o) == WiringRole::other;
      if (beside_graph) continue;
      auto const near = nearest(target(o), known);
      if (!is_known)
        find({"wiring.unknown_piece", label(o), say("serves '{}', which does not exist", target(o)), "the scenario",
              near.empty() ? Words("Use the name of a zone, or of a piece as the schematic shows it.") : say("Did you mean '{}'?", near),
              58});
      else
        find({"wiring.wrong_role", label(o), say("serves '{}', which has no {}", target(o), words(role(o))), "the scenario",
              needed_at(target(o)), 57});
    }
  }

  Words needed_at(std::string const& name) const {
    std::vector<Words> roles;
    for (auto const& n : needs_)
      if (n.piece == name || n.zone == name) roles.push_back(words(n.role));
    return roles.empty() ? Words("Remove this output: nothing there needs one.")
                         : say("Use a role that is there: {}.", listed(roles, " or "));
  }
  Words offered_on(WiringRole role) const {
    std::vector<Words> numbers;
    for (Fraction const n : board_.offered(role)) numbers.push_back(int(*n));
    return numbers.empty() ? Words("Use a separate zone panel: no output takes it.") : say("Use output {}.", listed(numbers, " or "));
  }

  void row(int number, WiringRole role, std::string const& serves, std::string const& zone, double mains, double low,
           std::string const& instead) {
    auto const watts = [](double w) { return w > 0 ? ReviewCell{w, measure::electric_power} : ReviewCell{""}; };
    table_.rows.push_back(
        {number ? ReviewCell{std::to_string(number)} : ReviewCell{instead}, words(role), serves, zone, watts(mains), watts(low)});
  }

  void load(std::string const& place, double mains, double low) {
    mains_ += mains, low_ += low;
    if (mains > 0 && !std::isnan(greatest()))
      judge({"wiring.over_power",
             place,
             "load",
             {"power", mains, measure::electric_power},
             {"most", greatest(), measure::electric_power},
             Judgement::at_most,
             by_manual,
             "Use a separate relay, rated for the motor.",
             Severity::serious,
             62});
  }

  void judge_sums() {
    double const total = !std::isnan(*board_.total_power) ? *board_.total_power : board_.fuse_amperes * board_.volts;
    if (!std::isnan(total))
      judge({"wiring.over_total",
             "board",
             "load of all outputs",
             {"power", mains_, measure::electric_power},
             {"most", total, measure::electric_power},
             Judgement::at_most,
             by_manual,
             "Use a separate relay panel for some of the circulators.",
             Severity::serious,
             61});
    if (!std::isnan(*board_.transformer))
      judge({"wiring.over_transformer",
             "board",
             "24 V load",
             {"power", low_, measure::electric_power},
             {"rating", *board_.transformer, measure::electric_power},
             Judgement::at_most,
             by_manual,
             "Use a separate transformer for the zone valves.",
             Severity::serious,
             54});
    if (low_ > 0 && stated_)
      part_.sentences.push_back(
          say("24 V loads without a stated draw are assumed: {} a thermostat, {} a zone valve, {} a mixing valve ({}).",
              watts(*board_.thermostat_draw), watts(*board_.valve_draw), watts(*board_.mixing_draw), common_practice));
  }
  static Amount watts(double w) { return {w, measure::electric_power}; }
  void judge(Judgement j) { part_.judge(std::move(j)); }

  Job const& job_;
  BoardSection board_;
  Entry const* stated_;
  std::vector<bool> restricted_;
  std::vector<WiringNeed> needs_;
  std::vector<Output> outputs_;
  ReviewPart part_;
  ReviewTable table_;
  double mains_ = 0, low_ = 0;
};

}  // namespace

ReviewPart review_wiring(Job const& job) { return WiringReview{job}.review(); }

}  // namespace steadyfire
