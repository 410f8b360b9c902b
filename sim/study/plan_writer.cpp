#include "sim/study/plan_writer.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

namespace steadyfire {
namespace {

using Json = nlohmann::ordered_json;

Json places_json(Plan const& plan) {
  Json list = Json::array();
  for (int p = 0; p < plan.places(); ++p) {
    bool const is_account = p < account::count, is_given = !is_account && p < first_free_place, stores = plan.capacity[p] > 0;
    Json place{{"name", plan.names[p]},
               {"holds", is_account ? "account" : is_given ? "given" : stores ? "heat" : "signal"},
               {"unit", is_account ? Json("J") : stores || (is_given && p != given::unity) ? Json("K") : Json()},
               {"tolerance", plan.tolerance[p]}};
    if (stores && !is_account) place["capacity_J_K"] = plan.capacity[p];
    list.push_back(std::move(place));
  }
  return list;
}

Json steps_json(Formula const& f) {
  Json steps = Json::array();
  for (auto const& s : f.steps) {
    Json step{name_of(s.operation), s.a};
    for (int const more : {s.b, s.c})
      if (more >= 0) step.push_back(more);
    steps.push_back(std::move(step));
  }
  return {{"steps", std::move(steps)}, {"value", f.value}};
}

/// Its number in the list, where it is put if it is new.
template <class T>
int number_in(std::vector<T>& list, T const& item) {
  auto const at = std::find(list.begin(), list.end(), item);
  if (at == list.end()) return list.push_back(item), int(list.size()) - 1;
  return int(at - list.begin());
}

}  // namespace

PlanWriter::PlanWriter(Plan const& plan, March& march, Installation const& installation, std::ostream& out)
    : plan_{plan}, march_{march}, out_{out}, x_(plan.places(), std::nan("")) {
  Json rooms = Json::object();
  for (auto const& zone : installation.zones)
    if (zone.room >= 0) rooms[zone.name] = plan.own[zone.room];
  auto const& seat = plan.seat(installation.boiler);
  Json const head{{"format", 1},
                  {"title", installation.title},
                  {"program_version", STEADYFIRE_VERSION},
                  {"places", places_json(plan)},
                  {"rooms", std::move(rooms)},
                  {"boiler_outlet", seat.first_cell[0] + seat.cells[0] - 1}};
  auto text = head.dump();
  text.pop_back();  // its brace: the object goes on, and is too long to be held whole
  out_ << text << ",\n\"intervals\":[";
}

void PlanWriter::stepped(double from, std::vector<double> const& before, State const& now) {
  bool const settled = settled_ != march_.statistics().settled;
  std::vector<std::pair<int, double>> set;
  for (int p = 0; p < plan_.places(); ++p)
    if (x_[p] != before[p]) set.emplace_back(p, before[p]);
  if (settled || !set.empty() || equations_.outdoor_slope != march_.balance().outdoor_slope) {
    Written book{plan_.per_heat.data(), {}};
    for (auto const& batch : plan_.batches) std::as_const(*batch).laws(now.now(plan_), book);
    Equations present{march_.balance().pattern(), march_.balance().outdoor_slope, std::move(book.laws)};
    bool const same = present == equations_;
    if (!same || !set.empty()) {
      if (begun_) write_interval();
      begun_ = true, start_ = from, stated_ = same, set_ = std::move(set);
      equations_ = std::move(present);
    }
    settled_ = march_.statistics().settled;
  }
  end_ = now.time, x_ = now.x;
}

void PlanWriter::write_interval() {
  Json interval{{"start_s", start_}, {"end_s", end_}, {"set", set_}};
  if (!stated_) {
    Json laws = Json::array();
    for (auto const& law : equations_.laws) {
      auto form = law.formula;
      form.constants.clear();
      Json into = Json::array();
      for (auto const& share : law.into) into.push_back(Json::array({share.place, share.factor}));
      laws.push_back({{"formula", number_in(forms_, form)}, {"constants", law.formula.constants}, {"at", law.at}, {"into", into}});
    }
    auto const& A = equations_.straight;
    interval["equations"] = {{"outdoors_K_s", equations_.outdoor_slope},
                             {"pattern", number_in(patterns_, std::pair{A.row_start, A.column})},
                             {"values", A.value},
                             {"laws", std::move(laws)}};
  }
  interval["end"] = x_;
  out_ << (written_++ ? ",\n" : "\n") << interval.dump();
}

void PlanWriter::finish(std::string const& incomplete) {
  if (begun_) write_interval();
  Json patterns = Json::array(), formulas = Json::array();
  for (auto const& [row_start, column] : patterns_) patterns.push_back({{"row_start", row_start}, {"column", column}});
  for (auto const& form : forms_) formulas.push_back(steps_json(form));
  out_ << "\n],\n\"patterns\":" << patterns.dump() << ",\n\"formulas\":" << formulas.dump()
       << ",\n\"incomplete\":" << Json(incomplete).dump() << "}\n";
}

}  // namespace steadyfire
