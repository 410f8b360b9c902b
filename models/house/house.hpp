#pragma once
/// From a checked scenario file to an installation: a house of zones, or a bare network.

#include "models/house/sections.hpp"
#include "models/weather/weather.hpp"
#include "sim/network/builder.hpp"
#include "sim/scenario/reader.hpp"

namespace steadyfire {

/// A scenario ready to be laid out and run.
struct Project {
  Installation installation;
  RunSection run;
  Weather weather;
  bool is_house = false;       ///< has a boiler and zones; else a bare network
  double ground = 284, unheated = 289;  ///< [K]
  std::string weather_words;
  FileFaults file_faults;      ///< of a weather file and of a list of draws
  double carbon_per_joule = 0; ///< [kg/J] of fuel
  double guessed_design = Field::none;  ///< [K] outdoor design temperature that neither the file nor a year of weather tells
  double input_left = 1;       ///< of the boiler's rated inputs at the altitude of the house; its piece has what is left
};

/// What the file leaves open and every result hangs on: an outdoor design temperature that nobody stated.
std::vector<Finding> findings_of_site(Project const&);

/// Errors  adds to `faults` all that only shows between tables: tables that do not go together and, where the
///         reader had no fault, unknown names, a zone without what it needs, flows that do not sum to zero.
Project make_project(Document const&, Catalog, Diagnostics& faults);

/// The same with one assumption at another value. Errors: adds to `faults` where the value does not go with the others.
Project suppose(Project const&, Document const&, Catalog, Supposition const&, Diagnostics& faults);

}  // namespace steadyfire
