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
  steadyfire tune house.toml                      settings for comfort and fuel, and how flat the best is
  steadyfire check house.toml --report review.html  the whole job before pipe is cut: gas, vent, water side, size

A scenario is a TOML file that says what stands in the house; 'steadyfire reference' lists all it may say.
Exit codes: 0 done (findings included), 1 `check` has findings of weight, 2 bad input or usage, 3 the simulation stopped,
4 a fault of the machine (disk, memory), 130 interrupted.

Gas, flue, pressure, scald, carbon monoxide and electricity can kill. What this program
computes helps to decide; local code, the appliance's manual and licensed practice decide.
)";

char const* const flows_footer = R"(
Solves every combination of calling zones. Findings come first. Then all zones calling, each zone alone and the worst
combination: flow needed, flow, heat beside the design load, the room on the design day, each circulator's operating point.

  steadyfire flows house.toml
  steadyfire flows house.toml --calls bath --calls bath,kitchen
  steadyfire flows house.toml --calls all         one line for each combination
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
char const* const tune_footer = R"(
Tries settings, by an optimiser, for rooms neither too warm nor too cold and for little fuel: the front of best compromises,
the settings that are better in all of it, if there are any, and how far each may move before it matters.

  steadyfire tune house.toml                                       the reset curve's points, over the scenario's own run
  steadyfire tune house.toml --day 15 --day 60 --day 105 --days 3  over three spells of the year
  steadyfire tune house.toml --turn 'controls.reset.cold_supply=120 degF..180 degF' --turn boiler.off_differential
  steadyfire tune house.toml --for comfort,energy,starts --write tuned.toml
--for takes comfort, energy, fuel, cost and any figure of a run, as starts or bath.too_cold. Nothing is written over.
)";
char const* const advise_footer = R"(
Tells what is wrong with rooms, flows and burner, simulates what a fitter could change (settings first, then valves and
circulators, joined zones, pipe, buffer tank, boiler), each alone and the best together, and ranks it with before and after.

  steadyfire advise house.toml
  steadyfire advise house.toml --write mended.toml    the scenario with the best of it, comments kept
)";
char const* const draw_footer = R"(
  steadyfire draw house.toml --out house.svg      any browser shows it
)";
char const* const fit_footer = R"(
The log is a table of comma-separated values: time (2026-01-24 06:10, or 'time [min]' since the scenario's start), a column for each
logged room under its zone's name, supply, return and outdoors, each with its unit as 'bath [degF]', the burner's state 'burner' (1 or 0)
or its 'fire [%]'. A gap is an empty cell. Unknowns that the log does not tell are said to be so.

  steadyfire fit house.toml log.csv                                  the loads of logged rooms, and the minimum fire
  steadyfire fit house.toml log.csv --find zone.bath.room.mass_capacity --find zone.bath.circulator.speed
  steadyfire fit house.toml log.csv --write fitted.toml --report fit.html
)";
char const* const serve_footer = R"(
Opens a page on this machine: print its address, open it in a browser, and lay out, watch, compare and tune there.
It needs no network. Nothing is written before you save, and only .toml files of the folder.

  steadyfire serve                     the scenarios of this folder, and those that come with the program
  steadyfire serve house.toml          this one first
  steadyfire serve jobs --port 9000

Other machines reach it only with --address; then anyone in reach can read and write the folder, without a password.
)";
char const* const sweep_footer = R"(
Turns values of a scenario over a grid, or draws likely ones, runs each point and keeps its figures in a store.
Whatever ends it (Ctrl-C, a power cut, a kill), the same call goes on where it ended; a finished study is told at once.

  steadyfire sweep scenarios/studies/how_big_may_it_be.toml
  steadyfire sweep scenarios/studies/likely_houses.toml --report likely.html --csv points.csv
  mpirun -n 64 steadyfire sweep likely.toml       on a cluster: see tools/scripts/sweep.slurm
  steadyfire reference --study                    every key of a study, and every figure
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
  auto* flows = app.add_subcommand("flows", "find flow and head loss for every combination of calling zones");
  flows->footer(flows_footer);
  add_scenario(*flows, common), add_json(*flows, common);
  flows->add_option("--calls", calls, "only this combination, for example bath,kitchen; repeat for more; 'all' lists every one in a line")
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

  cli::TuneAsked tuning;
  auto* tune = app.add_subcommand("tune", "find settings for comfort and fuel, by an optimiser");
  tune->footer(tune_footer);
  add_scenario(*tune, common), add_json(*tune, common);
  tune->add_option("--turn", tuning.turn, "what to set: ADDRESS or ADDRESS=LOW..HIGH; may be given again; left out: the reset curve")
      ->allow_extra_args(false)
      ->type_name("ADDRESS");
  tune->add_option("--for", tuning.aims, "figures to weigh, as comfort,energy,starts")
      ->delimiter(',')
      ->allow_extra_args(false)
      ->type_name("");
  auto* days = tune->add_option("--day", tuning.days, "a spell of weather from this day of the year; may be given again")
                   ->allow_extra_args(false)
                   ->check(CLI::Range(1, 365))
                   ->type_name("");
  tune->add_option("--days", tuning.length, "length of each spell; left out: 3")
      ->needs(days)
      ->check(CLI::Range(0.04, 365.0))
      ->type_name("");
  tune->add_flag("--year", tuning.year, "over the whole year of the weather")->excludes(days);
  tune->add_option("--runs", tuning.runs, "points to try; left out: 600")->check(CLI::Range(40, 1000000))->type_name("");
  tune->add_option("--seed", tuning.seed, "of the search: the same seed finds the same; left out: 1")->type_name("");
  tune->add_option("--flat", tuning.flat, "how much worse is still as good, in %; left out: 2")
      ->check(CLI::Range(0.01, 50.0))
      ->type_name("");
  tune->add_option("--write", tuning.write, "write the scenario with the settings found; must not exist")->type_name("FILE");
  tune->add_option("--report", tuning.report, "write the front as a page (one HTML file that needs no network)")->type_name("FILE");
  tune->add_option("--jobs", tuning.jobs, "runs at once; left out: one for each processor")->check(CLI::Range(1, 256))->type_name("");

  std::string advised;
  unsigned advise_jobs = 0;
  auto* advise = app.add_subcommand("advise", "which change mends it: each simulated, ranked, with before and after");
  advise->footer(advise_footer);
  add_scenario(*advise, common), add_json(*advise, common);
  advise->add_option("--write", advised, "write the scenario with the best change; must not exist")
      ->type_name("FILE");
  advise->add_option("--jobs", advise_jobs, "runs at once; left out: one for each processor")->check(CLI::Range(1, 256))->type_name("");

  cli::FitAsked fitting;
  auto* fit = app.add_subcommand("fit", "find loads, mass, flow or minimum fire from logged temperatures, and how well each is told");
  fit->footer(fit_footer);
  add_scenario(*fit, common), add_json(*fit, common);
  fit->add_option("log", fitting.log, "what was logged (CSV)")->required()->type_name("LOG");
  fit->add_option("--find", fitting.find, "what is looked for, by its address; may be given again; left out: loads and minimum fire")
      ->allow_extra_args(false)
      ->type_name("ADDRESS");
  fit->add_option("--window", fitting.window, "means over it are compared; left out: two of the burner's usual cycles")->type_name("TIME");
  fit->add_option("--skip", fitting.skip, "of the log's start, not compared; left out: 3 h")->type_name("TIME");
  fit->add_option("--write", fitting.write, "write the scenario with what was found; must not exist")->type_name("FILE");
  fit->add_option("--report", fitting.report, "write a page with pictures (one HTML file that needs no network)")->type_name("FILE");
  fit->add_option("--jobs", fitting.jobs, "runs at once; left out: one for each processor")->check(CLI::Range(1, 256))->type_name("");

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

  std::string opened = ".";
  cli::ServeOptions serving;
  auto* serve = app.add_subcommand("serve", "the page in the browser: lay out, watch a day, compare, tune");
  serve->footer(serve_footer);
  serve->add_option("opened", opened, "a scenario file, or a folder of them; this folder if left out")->type_name("FILE or FOLDER");
  serve->add_option("--port", serving.port, "port to listen on, 0 for any free one; left out: 8417, or a free one where that is taken")
      ->check(CLI::Range(0, 65535))
      ->type_name("");
  serve->add_option("--address", serving.address, "address to listen on; left out: 127.0.0.1, this machine alone")->type_name("");
  serve->add_option("--jobs", serving.jobs, "runs at once; left out: one for each processor")->check(CLI::Range(1, 256))->type_name("");

  cli::SweepOptions study;
  auto* sweep = app.add_subcommand("sweep", "run a scenario many times with values turned, and tell what comes of it");
  sweep->footer(sweep_footer);
  sweep->add_option("study", study.study, "the study file (TOML)")->required()->type_name("FILE");
  sweep->add_option("--store", study.store, "where its points are kept; left out: beside the study, ending in .store")->type_name("FILE");
  sweep->add_option("--csv", study.csv, "write a row a point as CSV to this file; - is standard output")->type_name("FILE");
  sweep->add_option("--json", study.json, "write the result as JSON to this file; - is standard output")->type_name("FILE");
  sweep->add_option("--report", study.report, "write a page with pictures (one HTML file that needs no network)")->type_name("FILE");
  sweep->add_option("--jobs", study.jobs, "runs at once; left out: one for each processor")->check(CLI::Range(1, 256))->type_name("");
  sweep->add_flag("--afresh", study.afresh, "begin again; what stands in the store is kept under another name");
  sweep->add_option("--patience", study.patience, "under MPI: seconds after which the points of a silent rank go to others; left out: 60")
      ->check(CLI::Range(0.1, 1e6))
      ->type_name("");
  sweep->add_option("--units", study.units, "units of the words and of the CSV: us or si")
      ->check(CLI::IsMember({"us", "si"}))
      ->type_name("");
  sweep->add_flag("--quiet", study.quiet, "no summary");

  auto* reference = app.add_subcommand("reference", "every table and key of a scenario, with units and ranges");
  reference->footer(reference_footer);
  auto* schema = app.add_subcommand("schema", "JSON Schema of scenarios, for editors");
  schema->footer(schema_footer);
  bool of_readings = false, of_study = false;
  auto* readings = reference->add_flag("--readings", of_readings, "those of a file for check --readings instead");
  reference->add_flag("--study", of_study, "those of a study for sweep instead, and all figures")->excludes(readings);

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
  if (*tune) return cli::tune(common, tuning);
  if (*sweep) return cli::sweep(study);
  if (*advise) return cli::advise(common, advised, advise_jobs);
  if (*fit) return cli::fit(common, fitting);
  if (*serve) return cli::serve(opened, serving);
  if (*draw) return cli::draw(common, out);
  if (*starter && (ask || !answers.empty())) return cli::counter(starter_file, answers, common.system());
  if (*starter) return cli::starter(starter_file);
  if (*reference || *schema)
    return cli::describe_format(bool(*schema), of_readings ? cli::Format::readings : of_study ? cli::Format::study : cli::Format::scenario);
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
