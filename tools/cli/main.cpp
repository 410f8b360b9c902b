/// steadyfire: answers before pipe is cut.

#include <CLI/CLI.hpp>
#include <iostream>
#include <system_error>

#include "tools/cli/command.hpp"
#include "tools/cli/usage.hpp"

using namespace steadyfire;

namespace {

char const* const footer = R"(
Begin with:
  steadyfire new house.toml                       a commented house to change into yours
  steadyfire flows house.toml                     does every zone get its flow?
  steadyfire run house.toml --report report.html  starts, burns, rooms and fuel of a day, and why
  steadyfire check house.toml --report review.html  the whole job before pipe is cut: gas, vent, water side, size

A scenario is a TOML file that says what stands in the house; 'steadyfire reference' lists all it may say.
Exit codes: 0 done (findings included), 1 `check` has findings of weight, 2 bad input or usage, 3 the simulation stopped,
4 a fault of the machine (disk, memory), 130 interrupted.

Gas, flue, pressure, scald, carbon monoxide and electricity can kill. What this program
computes helps to decide; local code, the appliance's manual and licensed practice decide.
)";

char const* const flows_footer = R"(
Tells for each combination of calling zones the flow wanted and got, each circulator's place on its
curve, and what a zone that is short loses in heat and in room temperature. Findings come first.

  steadyfire flows house.toml
  steadyfire flows house.toml --calls bath --calls bath,kitchen
  steadyfire flows house.toml --json - | less
)";
char const* const run_footer = R"(
Tells burner starts and burn lengths, condensing time, room temperatures, fuel and losses, and the
reason for what it finds. Weather, length and start stand in the scenario, in [site] and [run].

  steadyfire run house.toml
  steadyfire run house.toml --report report.html
  steadyfire run house.toml --csv results --json results.json --units si
)";
char const* const check_footer = R"(
Computes what can be computed of a job before pipe is cut, from the scenario and the job's side data in it,
and holds each number against its limit. Findings come first, the weightiest on top, each with whose limit
it is and what would mend it. What the file does not say is listed, and is not guessed.

  steadyfire check house.toml
  steadyfire check house.toml --report review.html --json review.json
  steadyfire check house.toml --materials list.csv
  steadyfire check house.toml --readings read.toml    what gauges showed, and what explains it
Exit code 1 where there are findings of weight.
)";
char const* const draw_footer = R"(
  steadyfire draw house.toml --out house.svg      any browser shows it
)";
char const* const new_footer = R"(
  steadyfire new house.toml                       then change it in any text editor
  steadyfire new house.toml --ask                 six questions, then a page that answers them
  steadyfire new house.toml --answers call.toml   the same from a file
)";
char const* const reference_footer = R"(
  steadyfire reference | less                     the page is Markdown
)";
char const* const schema_footer = R"(
  steadyfire schema > steadyfire.schema.json      an editor that reads it helps to write scenarios
)";

void add_scenario(CLI::App& command, cli::Common& common) {
  command.add_option("scenario", common.scenario, "the scenario file (TOML)")->required()->type_name("FILE");
  command.add_option("--units", common.units, "units of the words: us or si")->check(CLI::IsMember({"us", "si"}))->type_name("");
  command.add_flag("--quiet", common.quiet, "no summary");
}
void add_json(CLI::App& command, cli::Common& common) {
  command.add_option("--json", common.json, "write everything as JSON to this file; - is standard output")->type_name("FILE");
}

}  // namespace

int main(int argc, char** argv) try {
  CLI::App app{"Steadyfire: does every zone get its flow, will the burner short-cycle, which reset curve keeps the slab right?",
               "steadyfire"};
  app.footer(footer);
  app.set_version_flag("--version", std::string("steadyfire ") + STEADYFIRE_VERSION);
  app.require_subcommand(1);

  cli::Common common;
  std::vector<std::string> calls;
  auto* flows = app.add_subcommand("flows", "steady flows and head losses for every combination of zones that may call");
  flows->footer(flows_footer);
  add_scenario(*flows, common), add_json(*flows, common);
  flows->add_option("--calls", calls, "only this combination of zones, as bath,kitchen; may be given again")
      ->allow_extra_args(false)
      ->type_name("ZONES");

  cli::RunFiles files;
  auto* run = app.add_subcommand("run", "march the house through hours, days or a year, and tell what happens and why");
  run->footer(run_footer);
  add_scenario(*run, common), add_json(*run, common);
  run->add_option("--report", files.report, "write a report page (one HTML file that needs no network)")->type_name("FILE");
  run->add_option("--csv", files.csv, "write series, events, zones and burns as CSV into this folder")->type_name("FOLDER");
  run->add_option("--plan", files.plan, "write the equations of the run as JSON, for other programs to integrate; - is standard output")
      ->type_name("FILE");

  bool band = false;
  run->add_flag("--band", band, "run again with each value that was not stated at either end of its usual range, and tell what changes");

  cli::CheckFiles review;
  auto* check = app.add_subcommand("check", "review the whole job before pipe is cut");
  check->footer(check_footer);
  add_scenario(*check, common), add_json(*check, common);
  check->add_option("--report", review.report, "write the review as a page to print (one HTML file)")->type_name("FILE");
  check->add_option("--readings", review.readings, "what gauges showed (TOML): ranks what could be wrong")->type_name("FILE");
  check->add_option("--materials", review.materials, "write the materials list as CSV to this file")->type_name("FILE");

  std::string out = "-";
  auto* draw = app.add_subcommand("draw", "the piping schematic as SVG");
  draw->footer(draw_footer);
  add_scenario(*draw, common);
  draw->add_option("--out", out, "file to write; - is standard output")->type_name("FILE");

  std::string starter_file;
  auto* starter = app.add_subcommand("new", "write a commented starter scenario");
  starter->footer(new_footer);
  starter->add_option("file", starter_file, "file to write; must not exist")->required()->type_name("FILE");

  bool ask = false;
  std::string answers;
  auto* by_asking =
      starter->add_flag("--ask", ask, "ask six questions in the terminal, write a scenario from them, and answer on one page");
  starter->add_option("--answers", answers, "the same, with the answers in this file (TOML)")->type_name("FILE")->excludes(by_asking);
  starter->add_option("--units", common.units, "units of the words: us or si")->check(CLI::IsMember({"us", "si"}))->type_name("");

  auto* reference = app.add_subcommand("reference", "every table and key of a scenario, with units and ranges");
  reference->footer(reference_footer);
  auto* schema = app.add_subcommand("schema", "JSON Schema of scenarios, for editors");
  schema->footer(schema_footer);
  bool of_readings = false;
  reference->add_flag("--readings", of_readings, "those of a file for check --readings instead");

  try {
    app.parse(argc, argv);
  } catch (CLI::ParseError const& e) {
    if (e.get_exit_code() == 0) return app.exit(e);  // --help and --version
    std::cerr << cli::explain_usage(app, e, {argv + 1, argv + argc});
    return cli::bad_input;
  }
  if (*run) {
    if (common.json == "-" && files.plan == "-") throw BadInput("error: only one of --json and --plan can be standard output\n");
    return cli::run(common, files, band);
  }
  if (*check) return cli::check(common, review);
  if (*draw) return cli::draw(common, out);
  if (*starter && (ask || !answers.empty())) return cli::counter(starter_file, answers, common.system());
  if (*starter) return cli::starter(starter_file);
  if (*reference || *schema) return cli::describe_format(bool(*schema), of_readings);
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
