#include <fmt/format.h>

#include <filesystem>
#include <iostream>

#include "tools/job/catalog.hpp"
#include "tools/review/readings.hpp"
#include "tools/cli/command.hpp"
#include "tools/counter/answers.hpp"
#include "tools/study/study_file.hpp"

namespace steadyfire::cli {
namespace {

/// The sample house with round values of the reader's units.
std::string starter_text(UnitSystem system) {
  return say(R"(# A house for Steadyfire. Write each value with its unit, US or SI.
# `steadyfire reference` lists every table and key; "unknown" assumes a usual value and lists it.
#   steadyfire flows house.toml
#   steadyfire run house.toml --report report.html
format = 1
title = "My house"

[site]
outdoor_design = "{}"
# Or: weather = {{ kind = "TMY3 file", file = "weather.csv" }}
weather = {{ kind = "daily wave", mean = "{}", swing = "{}" }}

[boiler]
heating_input = "{}"     # full fire when heating: the rating
minimum_input = "{}"     # minimum fire, from the data sheet

[near_boiler]
arrangement = "closely spaced tees"   # or "direct", "hydraulic separator", "buffer tank"
size = "1 in copper M"

[[zone]]
name = "downstairs"
design_load = "{}"
floor_area = "{}"
emitter = {{ kind = "fin-tube baseboard", length = "{}" }}
circulator = {{ duty = "small" }}
supply_temperature = "{}"

[[zone]]
name = "upstairs"
design_load = "unknown"         # estimated from the floor area
floor_area = "{}"
emitter = {{ kind = "panel radiator", output = "{}", cv = 2.5 }}
circulator = {{ duty = "small" }}
supply_temperature = "unknown"

[run]
duration = "1 d"
)",
             InEach{"5 degF", "-15 degC"}, InEach{"30 degF", "-1 degC"}, InEach{"15 degF", "8 degC"},
             InEach{"80 kBtu/h", "23 kW"}, InEach{"16 kBtu/h", "4.7 kW"}, InEach{"25 kBtu/h", "7.3 kW"},
             InEach{"900 ft2", "84 m2"}, InEach{"60 ft", "18 m"}, InEach{"170 degF", "77 degC"},
             InEach{"600 ft2", "56 m2"}, InEach{"18 kBtu/h", "5.3 kW"})
      .in(system);
}

}  // namespace

int starter(Outputs& outputs, std::string const& out, UnitSystem units) {
  outputs.begin();
  outputs.write(out, [&] { return starter_text(units); });
  outputs.commit();
  if (!outputs.to_standard_output()) std::cout << "wrote " << out << "; try: steadyfire run " << out << '\n';
  return done;
}

int describe_format(bool as_schema, Format of, UnitSystem units) {
  auto const answers = reference_page(answers_catalog(), units,
                                      "# Files of answers\n\nFor `steadyfire new FILE --answers ANSWERS`: the answers to the six "
                                      "questions. Write each value with its unit,\nin quotes. Leave out what you do not know, or write "
                                      "\"unknown\".\n");
  if (of == Format::study) std::cout << study_reference_page(units);
  else if (of == Format::answers) std::cout << answers;
  else if (of == Format::readings)
    std::cout << reference_page(readings_catalog(), units,
                                "# Files of readings\n\nFor `steadyfire check SCENARIO --readings FILE`: gauge readings. "
                                "Write each value with its unit, in quotes.\n");
  else std::cout << (as_schema ? editor_schema(catalog(), units) : reference_page(catalog(), units) + "\n" + answers);
  return done;
}

}  // namespace steadyfire::cli
