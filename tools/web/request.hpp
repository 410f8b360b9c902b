#pragma once
/// What asks share: reading their requests, a scenario's project or its faults, and faults as the page meets them.

#include <map>

#include "models/house/house.hpp"
#include "sim/scenario/edit.hpp"
#include "sim/scenario/field_words.hpp"
#include "tools/web/engine.hpp"

namespace steadyfire::web {

/// The value under a key of a request. Errors: BadRequest where it lacks or is of another type.
std::string text_under(Json const&, char const* key);
std::string text_under(Json const&, char const* key, std::string otherwise);
bool flag_under(Json const&, char const* key);  ///< false where it lacks
int count_under(Json const&, char const* key);
std::vector<std::string> texts_under(Json const&, char const* key);
/// A list or an object. Errors: BadRequest.
Json const& list_under(Json const&, char const* key);
Json const& object_under(Json const&, char const* key);

/// The part of a request that every ask about a scenario has.
struct Scenario {
  std::string text, file;
  UnitSystem units = UnitSystem::us;
};
Scenario scenario_of(Json const& request);
UnitSystem units_of(Json const& request);

/// A scenario as it was read. With faults the project is not to be used, and the document holds what could be read.
struct ReadScenario {
  Document document;
  Project project;
  Diagnostics faults;
  bool is_good() const { return faults.empty() && project.file_faults.empty(); }
  Json faults_json() const;
};
/// Errors  none: what is wrong is among the faults.
ReadScenario read(Scenario const&);

/// A fault as the page meets it, but for the value that it is about.
Json to_json(Diagnostic const&);
/// Why no answer could be found, as a fault without a place.
Json fault_of(Stopped const&);

/// As `Place` in interface.ts.
using Place = ValuePlace;
Json to_json(Place const&);
/// Errors  BadRequest.
Place place_of(Json const&);
/// Where the entries of a document begin, its tables and those inside: read once for all that is asked. The document must outlive it.
class EntryPlaces {
 public:
  struct Found {
    Place place;
    Entry const* entry;
  };
  explicit EntryPlaces(Document const&);
  /// Null where none begins.
  Found const* at(Position) const;

 private:
  void add(Place const& of_table, Entry const&, std::vector<std::string>& path);
  std::map<Position, Found> all_;
};
/// The keys of a file's tables in their order, each with how many of the same stand before it.
std::vector<Place> tables_of(Document const&);

/// Findings as the page lists them.
Json to_json(std::vector<Finding> const&, UnitSystem);
/// A figure ready to show.
Json shown(std::string name, std::string words);

}  // namespace steadyfire::web
