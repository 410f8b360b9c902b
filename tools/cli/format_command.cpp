#include <fmt/format.h>

#include <filesystem>
#include <iostream>

#include "tools/job/catalog.hpp"
#include "tools/review/readings.hpp"
#include "tools/cli/command.hpp"
#include "tools/study/study_file.hpp"

namespace steadyfire::cli {
namespace {

char const* const starter_text = R"(# A house for Steadyfire. Write each value with its unit, US or SI.
# `steadyfire reference` lists every table and key; "unknown" assumes a usual value and lists it.
#   steadyfire flows house.toml
#   steadyfire run house.toml --report report.html
format = 1
title = "My house"

[site]
outdoor_design = "5 degF"
# Or: weather = { kind = "TMY3 file", file = "weather.csv" }
weather = { kind = "daily wave", mean = "30 degF", swing = "15 degF" }

[boiler]
heating_input = "80 kBtu/h"     # full fire when heating: the rating
minimum_input = "16 kBtu/h"     # minimum fire, from the data sheet

[near_boiler]
arrangement = "closely spaced tees"   # or "direct", "hydraulic separator", "buffer tank"
size = "1 in copper M"

[[zone]]
name = "downstairs"
design_load = "25 kBtu/h"
floor_area = "900 ft2"
emitter = { kind = "fin-tube baseboard", length = "60 ft" }
circulator = { duty = "small" }
supply_temperature = "170 degF"

[[zone]]
name = "upstairs"
design_load = "unknown"         # estimated from the floor area
floor_area = "600 ft2"
emitter = { kind = "panel radiator", output = "18 kBtu/h", cv = 2.5 }
circulator = { duty = "small" }
supply_temperature = "unknown"

[run]
duration = "1 d"
)";

}  // namespace

int starter(std::string const& out) {
  refuse_existing(out);
  write_file(out, starter_text);
  std::cout << "wrote " << out << "; try: steadyfire run " << out << '\n';
  return done;
}

int describe_format(bool as_schema, Format of) {
  if (of == Format::study) std::cout << study_reference_page();
  else if (of == Format::readings)
    std::cout << reference_page(readings_catalog(),
                                "# Files of readings\n\nFor `steadyfire check SCENARIO --readings FILE`: gauge readings. "
                                "Write each value with its unit, in quotes.\n");
  else std::cout << (as_schema ? editor_schema(catalog()) : reference_page(catalog()));
  std::cout << std::flush;
  return done;
}

}  // namespace steadyfire::cli
