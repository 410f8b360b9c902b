#include "models/gas/gas_line.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/breadth_first_search.hpp>
#include <boost/graph/strong_components.hpp>
#include <map>

#include "models/boiler.hpp"
#include "models/gas/gas_tables.hpp"

namespace steadyfire {
namespace {

constexpr char const* meter = "meter";

/// y at x by a table, straight between the logarithms and beyond its ends.
double log_to_log(std::vector<double> const& x, std::vector<double> const& y, double at) {
  std::size_t i = 1;
  bool const rises = x[1] > x[0];
  while (i + 1 < x.size() && (rises ? at > x[i] : at < x[i])) ++i;
  double const slope = std::log(y[i] / y[i - 1]) / std::log(x[i] / x[i - 1]);
  return y[i - 1] * std::pow(at / x[i - 1], slope);
}

Entry const* find(std::span<Entry const> tables, std::string_view kind) {
  auto const at = std::find_if(tables.begin(), tables.end(), [&](Entry const& t) { return t.kind->name == kind; });
  return at == tables.end() ? nullptr : &*at;
}

class Tree {
 public:
  Tree(GasLine& line, Diagnostics& faults) : line_{line}, faults_{faults} {}
  void grow() {
    auto const before = faults_.count();
    number(meter);
    for (auto const& p : line_.pipes) number(p.from), number(p.to);
    refuse_second_feeds();
    if (faults_.count() > before) return;
    refuse_circles();
    if (faults_.count() > before) return;
    for (auto& p : line_.pipes)
      if (auto const feed = feed_.find(p.from); feed != feed_.end()) p.before = feed->second;
    refuse_unreached();
  }

 private:
  using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS>;
  int number(std::string const& joint) { return joints_.try_emplace(joint, int(joints_.size())).first->second; }
  Graph graph() {
    Graph g(joints_.size());
    for (auto const& p : line_.pipes) boost::add_edge(joints_.at(p.from), joints_.at(p.to), g);
    return g;
  }

  void refuse_second_feeds() {
    for (int i = 0; i < int(line_.pipes.size()); ++i) {
      auto const& p = line_.pipes[i];
      auto const [first, is_new] = feed_.try_emplace(p.to, i);
      if (p.to == meter)
        faults_.add({"E281", p.to_at, "gas pipe '" + p.name + "' ends at the meter", "the meter end in 'from'", "swap 'from' and 'to'"});
      else if (!is_new)
        faults_.add({"E281", p.to_at,
                     "gas pipe '" + p.name + "': joint '" + p.to + "' is already fed by '" + line_.pipes[first->second].name + "'",
                     "one path from the meter to every joint",
                     "name another joint; 'from' is the meter end", line_.pipes[first->second].to_at});
    }
  }

  /// Where no joint is fed twice, the members of a strong component run in one circle.
  void refuse_circles() {
    auto const g = graph();
    std::vector<int> component(joints_.size());
    int const count = boost::strong_components(g, boost::make_iterator_property_map(component.begin(), get(boost::vertex_index, g)));
    for (int c = 0; c < count; ++c) {
      std::vector<std::string> names;
      GasPipe const* first = nullptr;
      for (auto const& p : line_.pipes)
        if (component[joints_.at(p.from)] == c && component[joints_.at(p.to)] == c) {
          names.push_back("'" + p.name + "'");
          if (!first || p.at < first->at) first = &p;
        }
      if (first)
        faults_.add({"E282", first->at,
                     fmt::format("gas pipe{0} {1} {2} a loop", names.size() == 1 ? "" : "s", fmt::join(names, ", "),
                                 names.size() == 1 ? "forms" : "form"),
                     "a line that begins at \"meter\" and branches", "correct 'from' and 'to' of these pipes"});
    }
  }

  void refuse_unreached() {
    auto const g = graph();
    std::vector<int> steps(joints_.size(), -1);
    steps[0] = 0;
    boost::breadth_first_search(
        g, 0, boost::visitor(boost::make_bfs_visitor(boost::record_distances(steps.data(), boost::on_tree_edge{}))));
    std::vector<std::string> reached;
    for (auto const& [joint, i] : joints_)
      if (steps[i] >= 0) reached.push_back(joint);
    auto const refuse = [&](Position at, std::string who, std::string const& joint) {
      auto const near = nearest(joint, reached);
      faults_.add({"E283", at, who + ": no pipe from the meter reaches joint '" + joint + "'",
                   fmt::format("one of: {}", fmt::join(reached, ", ")), near.empty() ? "" : "did you mean '" + near + "'?"});
    };
    for (auto const& p : line_.pipes)
      if (!feed_.count(p.from) && p.from != meter) refuse(p.at, "gas pipe '" + p.name + "'", p.from);
    for (auto& b : line_.burners) {
      auto const joint = joints_.find(b.at);
      if (joint == joints_.end() || (steps[joint->second] < 0 && !feed_.count(b.at)))
        refuse(b.stands_at, "gas appliance '" + b.name + "'", b.at);
      else if (b.at != meter) b.pipe = feed_.at(b.at);
    }
  }

  GasLine& line_;
  Diagnostics& faults_;
  std::map<std::string, int> joints_, feed_;  // feed_: the pipe that ends at a joint
};

GasPipe pipe_of(Entry const& t) {
  auto const s = fill<GasPipeSection>(t.values);
  GasPipe p{t.name, s.from, s.to, s.size, value_of<&GasPipeSection::from>(t).at, value_of<&GasPipeSection::to>(t).at};
  p.straight = *s.length, p.stated_fittings = *s.fittings;
  p.bores = 30.0 * s.elbows + 16.0 * s.elbows_45 + 60.0 * s.tees_turned + 3.0 * s.valves;
  if (auto const size = find_gas_pipe_size(s.size)) {
    p.bore = size->bore, p.size = size->name;
  } else {
    p.size = "corrugated";
    p.table_length = s.capacity.x(), p.table_flow = s.capacity.y(), p.table_drop = *s.capacity_drop;
  }
  return p;
}

}  // namespace

double most_input(Entry const& boiler) {
  double const heating = *get<&Boiler::heating_input>(boiler), dhw = *get<&Boiler::dhw_input>(boiler);
  return std::max(std::max(0.0, heating), dhw);  // NaN, where not stated, is passed over
}

double GasPipe::flow_at(double gradient, FuelGas const& gas) const {
  return table_length.empty() ? gas_capacity(bore, gradient, 1, gas) : log_to_log(table_length, table_flow, table_drop / gradient);
}

double GasPipe::row(double allowed, double longest) const {
  if (table_length.empty()) return table_row(longest);
  double const scale = table_drop / allowed;  // the maker's table is for another drop: the length that has the same gradient
  for (double const length : table_length)
    if (length >= longest * scale * (1 - 1e-9)) return length / scale;
  return longest;
}

double GasPipe::capacity(double allowed, double longest, FuelGas const& gas) const { return flow_at(allowed / row(allowed, longest), gas); }

double GasPipe::drop(double flow, FuelGas const& gas) const {
  if (flow <= 0) return 0;
  return table_length.empty() ? gas_drop(flow, bore, length(), gas)
                              : table_drop * length() / log_to_log(table_flow, table_length, flow);
}

std::vector<int> GasLine::way_to(int burner) const {
  std::vector<int> way;
  for (int i = burners[burner].pipe; i >= 0; i = pipes[i].before) way.push_back(i);
  std::reverse(way.begin(), way.end());
  return way;
}

std::vector<double> GasLine::flows(FuelGas const& gas, int alone) const {
  std::vector<double> flow(pipes.size());
  for (int b = 0; b < int(burners.size()); ++b)
    if (alone < 0 || alone == b)
      for (int i : way_to(b)) flow[i] += burners[b].input / gas.heating_value;
  return flow;
}

double GasLine::length_to(int burner) const {
  double length = 0;
  for (int i : way_to(burner)) length += pipes[i].length();
  return length;
}

double GasLine::longest() const {
  double longest = 0;
  for (int b = 0; b < int(burners.size()); ++b) longest = std::max(longest, length_to(b));
  return longest;
}

double GasLine::drop_to(int burner, std::vector<double> const& flows, FuelGas const& gas) const {
  double drop = 0;
  for (int i : way_to(burner)) drop += pipes[i].drop(flows[i], gas);
  return drop;
}

GasLine GasLine::widened(FuelGas const& gas, double allowed) const {
  GasLine line = *this;
  auto const carried = flows(gas);
  for (bool changed = true; changed;) {  // a wider elbow is a longer one: until nothing changes; sizes only grow
    changed = false;
    double const longest = line.longest();
    for (std::size_t i = 0; i < line.pipes.size(); ++i) {
      auto& p = line.pipes[i];
      if (p.bore <= 0 || p.capacity(allowed, longest, gas) >= carried[i]) continue;
      for (auto const& size : gas_sizes_beside(p.size)) {
        if (size.bore <= p.bore) continue;
        p.bore = size.bore, p.size = size.name, changed = true;
        if (p.capacity(allowed, longest, gas) >= carried[i]) break;
      }
    }
  }
  return line;
}

GasLine gas_line_of(std::span<Entry const> tables, Diagnostics& faults) {
  GasLine line;
  for (auto const& t : tables) {
    if (t.kind->name == GasPipeSection::kind) line.pipes.push_back(pipe_of(t));
    if (t.kind->name != GasApplianceSection::kind) continue;
    auto const a = fill<GasApplianceSection>(t.values);
    GasBurner b{t.name, a.at, value_of<&GasApplianceSection::at>(t).at, *a.input, *a.least_pressure, *a.most_pressure};
    if (GasApplianceSection::is_boiler(t.name)) {
      auto const* boiler = find(tables, t.name);
      if (!boiler)
        faults.add({"E284", t.at, t.who + ": the scenario has no [" + (t.name == "boiler" ? "boiler" : "lag_boiler") + "]",
                    "another name for another appliance", "rename it"});
      b.input = boiler ? most_input(*boiler) : 0;
    }
    line.burners.push_back(b);
  }
  if (line.pipes.empty() && line.burners.empty()) return line;
  Entry const* first = nullptr;
  for (auto const& t : tables)
    if (!first && (t.kind->name == GasPipeSection::kind || t.kind->name == GasApplianceSection::kind)) first = &t;
  for (auto const* name : {"boiler", "lag boiler"})
    if (find(tables, name) &&
        std::none_of(line.burners.begin(), line.burners.end(), [&](auto const& b) { return b.name == name; }))
      faults.add({"E284", first->at, std::string("no gas appliance is named '") + name + "'",
                  std::string("[[gas_appliance]] with name = \"") + name + "\" and its joint",
                  "add it, so that its gas is counted"});
  Tree{line, faults}.grow();
  auto const *gas = find(tables, GasSection::kind), *boiler = find(tables, "boiler");
  if (!gas || !boiler) return line;
  auto const &carried = value_of<&GasSection::gas>(*gas), &fuel = value_of<&Boiler::fuel>(*boiler);
  if (carried.given && carried.numbers != fuel.numbers)
    faults.add({"E285", carried.at, "gas: the line carries another gas than the boiler's fuel", "one gas",
                "remove 'gas', and set 'fuel' in [boiler]", fuel.given ? fuel.at : boiler->at});
  return line;
}

}  // namespace steadyfire
