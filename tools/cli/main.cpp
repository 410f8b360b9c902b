/// steadyfire: answers before pipe is cut.

#include <CLI/CLI.hpp>
#include <iostream>
#include <system_error>

#include "tools/cli/command.hpp"

using namespace steadyfire;

namespace {

char const* const footer = R"(
A scenario is a TOML file that says what stands in the house; README.md shows one line by line.
Exit codes: 0 done (findings included), 2 bad input or usage, 3 the simulation stopped,
4 a fault of the machine (disk, memory), 130 interrupted.

Gas, flue, pressure, scald, carbon monoxide and electricity can kill. What this program
computes helps to decide; local code, the appliance's manual and licensed practice decide.
)";

void add_common(CLI::App& command, cli::Common& common) {
  command.add_option("scenario", common.scenario, "the scenario file (TOML)")->required();
  command.add_option("--json", common.json, "write everything as JSON to this file; - is standard output");
  command.add_option("--units", common.units, "units of the summary: us or si")->check(CLI::IsMember({"us", "si"}));
  command.add_flag("--quiet", common.quiet, "no summary");
}

}  // namespace

int main(int argc, char** argv) try {
  CLI::App app{"Steadyfire: does every zone get its flow, will the burner short-cycle, which reset curve keeps the slab right?"};
  app.footer(footer);
  app.set_version_flag("--version", std::string("steadyfire ") + STEADYFIRE_VERSION);
  app.require_subcommand(1);

  cli::Common common;
  std::vector<std::string> calls;
  auto* flows = app.add_subcommand("flows", "steady flows and head losses for every combination of zones that may call");
  add_common(*flows, common);
  flows->add_option("--calls", calls, "only this combination of zones, as bath,kitchen; may be given again");

  cli::RunFiles files;
  auto* run = app.add_subcommand("run", "march the house through hours, days or a year, and tell what happens and why");
  add_common(*run, common);
  run->add_option("--report", files.report, "write a report page (one HTML file that needs no network)");
  run->add_option("--csv", files.csv, "write series, events, zones and burns as CSV into this folder");
  run->add_option("--plan", files.plan, "write the equations of the run as JSON, for other programs to integrate; - is standard output");

  bool band = false;
  run->add_flag("--band", band, "run again with each value that was not stated at either end of its usual range, and tell what changes");

  std::string out = "-";
  auto* draw = app.add_subcommand("draw", "the piping schematic as SVG");
  add_common(*draw, common);
  draw->add_option("--out", out, "file to write; - is standard output");

  std::string starter_file;
  auto* starter = app.add_subcommand("new", "write a commented starter scenario");
  starter->add_option("file", starter_file, "file to write; must not exist")->required();

  auto* reference = app.add_subcommand("reference", "every table and key of a scenario, with units and ranges");
  auto* schema = app.add_subcommand("schema", "JSON Schema of scenarios, for editors");

  try {
    app.parse(argc, argv);
  } catch (CLI::ParseError const& e) {
    return app.exit(e) == 0 ? cli::done : cli::bad_input;
  }
  if (*run) {
    if (common.json == "-" && files.plan == "-") throw BadInput("error: only one of --json and --plan can be standard output\n");
    return cli::run(common, files, band);
  }
  if (*draw) return cli::draw(common, out);
  if (*starter) return cli::starter(starter_file);
  if (*reference || *schema) return cli::describe_format(bool(*schema));
  return cli::flows(common, calls);
} catch (BadInput const& e) {
  std::cerr << e.what();
  return cli::bad_input;
} catch (Stopped const& e) {
  std::cerr << e.what() << '\n';
  return cli::stopped;
} catch (std::system_error const& e) {
  std::cerr << "error: cannot write " << e.what() << '\n';
  return cli::machine_fault;
} catch (InternalError const& e) {
  std::cerr << "error: a fault of this program, not of your file: " << e.what() << '\n';
  return cli::machine_fault;
} catch (std::bad_alloc const&) {
  std::cerr << "error: not enough memory\n";
  return cli::machine_fault;
}
