// What a scenario says, value by value, and what its water does at rest.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "tools/job/catalog.hpp"
#include "models/house/network_rules.hpp"
#include "plots/network_drawing.hpp"
#include "plots/page_parts.hpp"
#include "plots/piping_layout.hpp"
#include "sim/scenario/table_reader.hpp"
#include "sim/study/flow_findings.hpp"
#include "sim/study/network_picture.hpp"
#include "tools/job/house_run.hpp"
#include "tools/web/asks/asks.hpp"
#include "tools/web/request.hpp"
#include "tools/web/written.hpp"

namespace steadyfire::web {
namespace {

/// Where the scenario says, or would say, what a piece is: its table or the entry that made it, then the entry that would make it, else
/// a table that overrides it by its name; of a piece that has no such table, the one that makes it.
struct Origin {
  Place place;
  Entry const* stated;  ///< null where it is not
};

/// The origins of all pieces of a document, its tables sorted by what is asked of them.
class Origins {
 public:
  explicit Origins(Document const& document) : document_{document} {
    for (std::size_t i = 0; i < document.tables.size(); ++i) {
      auto const& t = document.tables[i];
      ++count_[places_[i].table];
      first_.try_emplace({t.kind, ""}, i), first_.try_emplace({t.kind, t.name}, i);
      last_called_[t.name] = last_called_[t.kind->name] = i;
      if (!near_boiler_ && t.kind->name == "near boiler") near_boiler_ = i;
    }
  }

  Origin of(Piece const& piece) const {
    if (auto const* stated = entries_.at(piece.at)) return {stated->place, stated->entry};
    if (auto const& in = piece.stated_in; in.key)
      if (auto const table = first_.find({in.table, in.name}); table != first_.end())
        return {{places_[table->second].table, places_[table->second].index, {in.key->key}}, nullptr};
    if (piece.kind->home != Home::nested) {
      auto const table = table_key(*piece.kind);
      auto const count = count_.find(table);
      return {{table, count == count_.end() ? 0 : count->second, {}, piece.name}, nullptr};
    }
    // No table of its own can stand in a file: said by the one that brings it about.
    if (auto const called = last_called_.find(piece.name.substr(0, piece.name.find('/'))); called != last_called_.end())
      return whole(called->second);
    return near_boiler_ ? whole(*near_boiler_) : Origin{Place{"near_boiler", 0, {}}, nullptr};
  }

 private:
  Origin whole(std::size_t table) const { return {places_[table], &document_.tables[table]}; }

  Document const& document_;
  EntryPlaces const entries_{document_};
  std::vector<Place> const places_ = tables_of(document_);
  std::map<std::string, int> count_;
  std::map<std::pair<Kind const*, std::string>, std::size_t> first_;  ///< by kind and name; without a name the first of its kind
  std::map<std::string, std::size_t> last_called_;                    ///< by name or kind
  std::optional<std::size_t> near_boiler_;
};

Json taken_json(Piece const& piece, Entry const* stated, UnitSystem units) {
  Json taken = Json::array();
  for (std::size_t i = 0; i < piece.kind->fields.size(); ++i) {
    auto const& f = piece.kind->fields[i];
    if (f.sort == Field::Sort::reference || f.sort == Field::Sort::references) continue;  // the arrangement's wiring
    bool const in_file = stated && stated->kind == piece.kind && stated->values[i].given && !stated->values[i].unknown;
    auto const words = words_of(f, piece.values[i], units);
    if (words.empty()) continue;
    taken.push_back({{"key", f.key}, {"words", words}, {"whose", in_file ? "stated" : piece.values[i].given ? "arranged" : "usual"}});
  }
  return taken;
}

/// Flow and water of each limb of the drawing, in a state of the flows study.
Moment moment_of(Plan const& plan, FlowState const& state) {
  Moment m;
  for (std::size_t b = 0; b < plan.branches.size(); ++b) {
    if (!is_drawn(plan, plan.branches[b])) continue;
    m.flow.push_back(state.edges.at(b).flow), m.temperature.push_back(state.edges.at(b).leaving);
  }
  m.words = state.calls.empty() ? "" : state.calling + " calling, design conditions";
  return m;
}

Json figures_json(Plan const& plan, int piece, FlowState const& state, UnitSystem units) {
  Json figures = Json::array();
  for (std::size_t b = 0; b < plan.branches.size(); ++b) {
    if (plan.branches[b].piece != piece) continue;
    auto const& e = state.edges.at(b);
    auto const colon = e.name.rfind(':');
    std::string const side = colon == std::string::npos ? "" : e.name.substr(colon + 1) + ": ";
    figures.push_back(shown(side + "flow", printed(e.flow, measure::flow, units)));
    figures.push_back(e.head_loss < 0 ? shown(side + "head", printed(-e.head_loss, measure::head, units))
                                      : shown(side + "head loss", printed(e.head_loss, measure::head, units)));
    if (e.velocity) figures.push_back(shown(side + "velocity", printed(*e.velocity, measure::velocity, units)));
    if (e.reynolds) figures.push_back(shown(side + "Reynolds number", fmt::format("{:.0f}", *e.reynolds)));
    if (e.head_gradient) figures.push_back(shown(side + "head loss per length", printed(*e.head_gradient, measure::head_gradient, units)));
    if (state.temperatures.empty()) continue;
    figures.push_back(shown(side + "water in", printed(e.entering, measure::temperature, units)));
    figures.push_back(shown(side + "water out", printed(e.leaving, measure::temperature, units)));
  }
  for (auto const& c : state.circulators)
    if (c.name == plan.pieces[piece].name) figures.push_back(shown("power", printed(c.power, measure::electric_power, units)));
  return figures;
}

Json state_json(FlowState const& s, UnitSystem units) {
  auto const tell = [&](double si, Measure const& m) { return printed(si, m, units); };
  Json zones = Json::array(), totals = Json::array();
  for (auto const& z : s.zones)
    zones.push_back({{"name", z.name}, {"wanted", tell(z.wanted, measure::flow)}, {"got", tell(z.got, measure::flow)},
                     {"drop", tell(z.drop, measure::temperature_change)}, {"head", tell(z.head, measure::head)},
                     {"heat", tell(z.heat, measure::power)}, {"room", tell(z.room, measure::temperature)},
                     {"is_short", is_short_of_flow(z)}});
  if (!s.calls.empty()) {
    totals.push_back(shown("boiler flow", tell(s.boiler_flow, measure::flow)));
    totals.push_back(shown("zone flow", tell(s.zones_flow, measure::flow)));
    totals.push_back(shown("supply at the boiler", tell(s.boiler_supply, measure::temperature)));
    totals.push_back(shown("supply at the zones", tell(s.system_supply, measure::temperature)));
    totals.push_back(shown("return", tell(s.boiler_return, measure::temperature)));
    totals.push_back(shown("heat from the boiler", tell(s.boiler_heat, measure::power)));
  }
  double watts = 0;
  for (auto const& c : s.circulators) watts += c.power;
  if (watts > 0) totals.push_back(shown("circulators", tell(watts, measure::electric_power)));
  return {{"calls", s.calls},
          {"words", s.calls.empty() ? "nothing calling" : s.calling + " calling"},
          {"zones", zones},
          {"totals", totals}};
}

Json assumptions_json(std::vector<Assumption> const& all, UnitSystem units) {
  Json list = Json::array();
  for (auto const& a : all)
    list.push_back({{"place", a.place}, {"key", spaced(a.key)}, {"taken", printed(a.value, a.measure, units)},
                    {"range", a.has_range() ? printed(a.least, a.measure, units) + " to " + printed(a.most, a.measure, units) : ""},
                    {"why", a.why}});
  return list;
}

/// The state to show: the one with these calls, or the first with most zones calling.
std::size_t shown_state(std::vector<FlowState> const& states, std::vector<std::string> calls) {
  std::sort(calls.begin(), calls.end());
  std::size_t best = 0;
  for (std::size_t i = 0; i < states.size(); ++i) {
    auto of_state = states[i].calls;
    std::sort(of_state.begin(), of_state.end());
    if (!calls.empty() && of_state == calls) return i;
    if (states[i].calls.size() > states[best].calls.size()) best = i;
  }
  return best;
}

/// The page asks at each change, and each zone adds a combination that takes time by all zones.
std::size_t constexpr most_zones_of_combinations = 40;

}  // namespace

Json look(Json const& request, Listener const&) {
  auto const scenario = scenario_of(request);
  auto const calls = request.contains("calls") ? texts_under(request, "calls") : std::vector<std::string>{};
  auto const r = read(scenario);
  Json answer{{"faults", r.faults_json()}, {"tables", written_json(scenario.text)}};
  if (!r.is_good()) return answer;
  auto const& in = r.project.installation;
  for (auto const& name : calls)
    if (std::none_of(in.zones.begin(), in.zones.end(), [&](auto const& z) { return z.name == name; }))
      throw BadRequest("no zone is called '" + name + "'", "'calls' names zones of the scenario");
  auto options = flows_options_of(r.project);
  bool const is_short = in.zones.size() > most_zones_of_combinations;
  if (is_short)
    for (options.calls.emplace_back(); auto const& z : in.zones) options.calls.back().push_back(z.name);
  FlowsRecord record;
  try {
    record = study_flows(in, options);
    if (is_short)
      record.sample = fmt::format("{} zones: here only all of them calling is solved; the command flows solves more", in.zones.size());
    if (std::size_t at = shown_state(record.states, calls); !calls.empty() && record.states[at].calls.size() != calls.size()) {
      auto only = options;  // one that is not among the sample
      only.calls = {calls};
      record.states.push_back(study_flows(in, only).states.at(0));
    }
  } catch (Stopped const& s) {
    answer["faults"].push_back(fault_of(s));
  }
  for (auto& f : r.project.is_house ? hurried_thermostats(in) : lonely_joints(in)) record.findings.push_back(f);
  for (auto& f : findings_of_site(r.project)) record.findings.push_back(f);
  std::stable_sort(record.findings.begin(), record.findings.end(), [](auto const& a, auto const& b) { return a.order > b.order; });
  auto const plan = lay_out(in);
  auto const drawing = drawing_of(plan);
  auto const shown_at = shown_state(record.states, calls);
  bool const is_solved = !record.states.empty();
  auto const moment = is_solved ? moment_of(plan, record.states[shown_at]) : Moment{};
  answer["title"] = in.title, answer["is_house"] = r.project.is_house;
  auto const layout = lay_out(drawing);
  answer["svg"] = draw_network(drawing, layout, is_solved && r.project.is_house ? &moment : nullptr, scenario.units);
  answer["crossings"] = crossings(layout);
  answer["states"] = Json::array();
  for (auto const& s : record.states) answer["states"].push_back(state_json(s, scenario.units));
  answer["shown"] = shown_at, answer["sample"] = record.sample;
  answer["findings"] = to_json(record.findings, scenario.units);
  answer["assumptions"] = assumptions_json(in.assumptions, scenario.units);
  Origins const origins{r.document};
  answer["pieces"] = Json::array();
  for (std::size_t i = 0; i < in.pieces.size(); ++i) {
    auto const& piece = in.pieces[i];
    auto const origin = origins.of(piece);
    answer["pieces"].push_back(
        {{"id", piece.name},
         {"kind", piece.kind->name},
         {"label", label_of(piece.name)},
         {"zone", piece.zone},
         {"at", to_json(origin.place)},
         {"is_stated", origin.stated != nullptr},
         {"taken", taken_json(piece, origin.stated, scenario.units)},
         {"figures", is_solved ? figures_json(plan, int(i), record.states[shown_at], scenario.units) : Json::array()}});
  }
  return answer;
}

}  // namespace steadyfire::web
