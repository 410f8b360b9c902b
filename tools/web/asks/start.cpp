// A scenario from the six questions of the counter.

#include "tools/counter/answers.hpp"
#include "sim/scenario/table_reader.hpp"
#include "tools/web/asks/asks.hpp"
#include "tools/web/request.hpp"

namespace steadyfire::web {
namespace {

Kind const& kind_at(std::string const& table) {
  for (auto const& k : answers_catalog())
    if (k.home != Home::nested && table_key(k) == table) return k;
  throw BadRequest("no question about '" + table + "'", "see `describe` for the questions");
}

/// The answers as edits of an empty file, so that they are written as any value is.
std::vector<Edit> edits_of(Json const& answers) {
  std::vector<Edit> edits;
  for (auto const& [table, given] : answers.items()) {
    auto const& kind = kind_at(table);
    bool const many = kind.home == Home::repeated;
    if (many != given.is_array()) throw BadRequest("'" + table + "' is " + (many ? "a list" : "not a list"), "");
    auto const all = many ? given : Json::array({given});
    int index = 0;
    for (auto const& one : all) {
      if (!one.is_object()) throw BadRequest("an item of '" + table + "' is not a set of answers", "");
      auto const name = text_under(one, "name", "");
      edits.push_back({Edit::Do::add, {table, 0, {}}, name});
      for (auto const& [key, value] : one.items())
        if (key != "name" && !text_under(one, key.c_str()).empty())
          edits.push_back({Edit::Do::set, {table, index, {key}}, value.get<std::string>()});
      ++index;
    }
  }
  return edits;
}

}  // namespace

Json start(Json const& request, Listener const&) {
  ReadScenario r;
  try {
    auto const text =
        edited("format = 1\ntitle = \"Asked at the counter\"\n", edits_of(object_under(request, "answers")), answers_catalog());
    r.document = read_document("answers", text, answers_catalog(), r.faults);
  } catch (BadEdit const& e) {
    throw BadRequest(e.what(), "see `describe` for the answers");
  }
  check_answers(r.document, r.faults);
  Json answer{{"faults", r.faults_json()}, {"unknown", Json::array()}};
  if (!r.is_good()) return answer;
  answer["text"] = steadyfire::scenario_of(r.document);
  for (auto const& u : unknowns_of(r.document, request.contains("units") ? units_of(request) : UnitSystem::us))
    answer["unknown"].push_back(u.words());
  return answer;
}

}  // namespace steadyfire::web
