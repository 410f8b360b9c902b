/// steadyfire: answers before pipe is cut.

#include <CLI/CLI.hpp>
#include <iostream>
#include <system_error>

#include "tools/cli/command.hpp"
#include "tools/cli/usage.hpp"

using namespace steadyfire;

namespace {

char const* const footer = R"(
Start here:
  steadyfire new house.toml                         write a sample house, then change it into yours
  steadyfire flows house.toml                       check the flow in every zone
  steadyfire run house.toml --report report.html    simulate a day: burner starts, burns, rooms, fuel, and why
  steadyfire check house.toml --report review.html  review the whole job: size, gas, vent, piping, wiring
  steadyfire advise house.toml                      find the change that fixes it
  steadyfire tune house.toml                        find settings that improve comfort and fuel

A scenario is a text file (TOML) that describes the house. 'steadyfire reference' lists every table and key.
1 kBtu/h = 1,000 Btu/h = 1 MBH.
Exit codes: 0 done (findings included), 1 `check` found something serious, 2 bad input or usage, 3 the simulation stopped,
4 machine error (disk, memory), 130 interrupted.

Gas, flue gas, carbon monoxide, pressure, hot water and electricity can kill. These results help you decide.
The local code, the appliance manual and a licensed contractor decide.
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
Shows burner starts and burn lengths, condensing time, room temperatures, fuel and losses, and the
reason for what it finds. Set weather, run length and start in the scenario, under [site] and [run].

  steadyfire run house.toml
  steadyfire run house.toml --report report.html
  steadyfire run house.toml --csv results --json results.json --units si
)";
char const* const check_footer = R"(
Compares every number it can compute with its limit. Findings come first, most serious first, each with its
limit, whose limit it is, and what to do. What is not in the file is listed as not checked; nothing is guessed.

  steadyfire check house.toml
  steadyfire check house.toml --all                   every number, table, site check and caution
  steadyfire check house.toml --report review.html --json review.json
  steadyfire check house.toml --materials list.csv
  steadyfire check house.toml --readings read.toml    gauge readings, and the likely faults
Exit code 1: at least one serious finding.
)";
char const* const tune_footer = R"(
Searches for settings that keep rooms closer to setpoint with less fuel. Shows the best trade-offs, settings that are better
on every count if there are any, and how far each can move before it matters.

  steadyfire tune house.toml                                       the reset curve, over the scenario's own run
  steadyfire tune house.toml --day 15 --day 60 --day 105 --days 3  over three weather periods of the year
  steadyfire tune house.toml --turn 'controls.reset.cold_supply=120 °F..180 °F' --turn boiler.off_differential
  steadyfire tune house.toml --for comfort,energy,starts --write tuned.toml
--for takes comfort, energy, fuel, cost and any figure of a run, for example starts or bath.too_cold. No file is overwritten.
)";
char const* const advise_footer = R"(
Lists what is wrong with rooms, flows and burner. Simulates what a contractor can change (settings first, then valves and
circulators, joined zones, pipe, emitter, buffer tank, boiler), alone and combined, and ranks them before and after.

  steadyfire advise house.toml
  steadyfire advise house.toml --write fixed.toml    write the scenario with the best change, comments kept
)";
char const* const draw_footer = R"(
  steadyfire draw house.toml --out house.svg      opens in any browser
)";
char const* const fit_footer = R"(
The log is a CSV file: time (2026-01-24 06:10, or 'time [min]' since the scenario's start); one column for each logged room, named
after its zone; supply, return and outdoors; each with its unit: 'bath [degF]'. The burner is a column 'burner' (1 or 0) or 'fire [%]'.
Leave a cell empty for a gap. Values that the log cannot settle are listed as unknown.

  steadyfire fit house.toml log.csv                                  design loads of the logged rooms, and minimum fire
  steadyfire fit house.toml log.csv --find zone.bath.room.mass_capacity --find zone.bath.circulator.speed
  steadyfire fit house.toml log.csv --write fitted.toml --report fit.html
)";
char const* const serve_footer = R"(
Starts the page on this computer and prints its address. Open that in a browser to lay out, run, compare and tune.
It works offline. Nothing is written until you save, and then only .toml files in this folder.

  steadyfire serve                     the scenarios in this folder, and the samples
  steadyfire serve house.toml          open this one
  steadyfire serve jobs --port 9000

Other computers reach it only with --address. Anyone who can reach it can then read and change this folder; there is no password.
)";
char const* const sweep_footer = R"(
Varies values of a scenario over a grid, or draws likely ones; runs each point and keeps its figures in a store.
If it is stopped (Ctrl-C, a power cut), run the same command to continue. A finished study prints its results at once.

  steadyfire sweep scenarios/studies/how_big_may_it_be.toml
  steadyfire sweep scenarios/studies/likely_houses.toml --report likely.html --csv points.csv
  mpirun -n 64 steadyfire sweep likely.toml       on a cluster: see tools/scripts/sweep.slurm
  steadyfire reference --study                    every key of a study file, and every figure
)";
char const* const new_footer = R"(
  steadyfire new house.toml                       then change it in any text editor
  steadyfire new house.toml --ask                 six questions, then one page of answers
  steadyfire new house.toml --answers call.toml   the same from a file
)";
char const* const reference_footer = R"(
  steadyfire reference | less                     the page is Markdown
)";
char const* const schema_footer = R"(
  steadyfire schema > steadyfire.schema.json      for completion and checks in a text editor
)";

void add_scenario(CLI::App& command, cli::Common& common) {
  command.add_option("scenario", common.scenario, "the scenario file (TOML)")->required()->type_name("FILE");
  command.add_option("--units", common.units, "units in the output: us or si")->check(CLI::IsMember({"us", "si"}))->type_name("");
  command.add_flag("--quiet", common.quiet, "do not print the summary");
}
void add_json(CLI::App& command, cli::Common& common) {
  command.add_option("--json", common.json, "write all results as JSON to FILE (- for standard output)")->type_name("FILE");
}

}  // namespace

int main(int argc, char** argv) try {
  CLI::App app{
      "Steadyfire simulates a hydronic heating job before pipe is cut: flow in each zone, short cycling, outdoor reset, hot water,\n"
      "gas and vent.",
      "steadyfire"};
  app.footer(footer);
  app.set_version_flag("--version", std::string("steadyfire ") + STEADYFIRE_VERSION);
  app.require_subcommand(1);

  cli::Common common;
  std::vector<std::string> calls;
  auto* flows = app.add_subcommand("flows", "find flow and head loss for every combination of calling zones");
  flows->footer(flows_footer);
  add_scenario(*flows, common), add_json(*flows, common);
  flows->add_option("--calls", calls, "only this combination, as bath,kitchen; repeat for more; 'all' lists every one in a line")
      ->allow_extra_args(false)
      ->type_name("ZONES");

  cli::RunFiles files;
  auto* run = app.add_subcommand("run", "simulate a day, a week or a year; report what happens and why");
  run->footer(run_footer);
  add_scenario(*run, common), add_json(*run, common);
  run->add_option("--report", files.report, "write the report (one HTML file, works offline)")->type_name("FILE");
  run->add_option("--csv", files.csv, "write series, events, zones and burns as CSV files in FOLDER")->type_name("FOLDER");
  run->add_option("--plan", files.plan, "write the equations of the run as JSON for other programs (- for standard output)")
      ->type_name("FILE");

  bool band = false;
  run->add_flag("--band", band, "range check: run again with each assumed value at both ends of its usual range; report what changes");

  cli::CheckFiles review;
  auto* check = app.add_subcommand("check", "review the whole job before you cut pipe");
  check->footer(check_footer);
  add_scenario(*check, common), add_json(*check, common);
  check->add_flag("--all", review.all, "print every number, table, site check and caution");
  check->add_option("--report", review.report, "write the review as a page to print (one HTML file, works offline)")->type_name("FILE");
  check->add_option("--readings", review.readings, "gauge readings (TOML); ranks the likely faults")->type_name("FILE");
  check->add_option("--materials", review.materials, "write the materials list as CSV to FILE")->type_name("FILE");

  cli::TuneAsked tuning;
  auto* tune = app.add_subcommand("tune", "search for settings that improve comfort and fuel");
  tune->footer(tune_footer);
  add_scenario(*tune, common), add_json(*tune, common);
  tune->add_option("--turn", tuning.turn, "setting to vary: ADDRESS or ADDRESS=LOW..HIGH; repeat for more (default: the reset curve)")
      ->allow_extra_args(false)
      ->type_name("ADDRESS");
  tune->add_option("--for", tuning.aims, "figures to improve, for example comfort,energy,starts")
      ->delimiter(',')
      ->allow_extra_args(false)
      ->type_name("");
  auto* days = tune->add_option("--day", tuning.days, "start a weather period on this day of the year; repeat for more")
                   ->allow_extra_args(false)
                   ->check(CLI::Range(1, 365))
                   ->type_name("");
  tune->add_option("--days", tuning.length, "length of each period in days (default 3)")
      ->needs(days)
      ->check(CLI::Range(0.04, 365.0))
      ->type_name("");
  tune->add_flag("--year", tuning.year, "use the whole year of the weather")->excludes(days);
  tune->add_option("--runs", tuning.runs, "points to try (default 600)")->check(CLI::Range(40, 1000000))->type_name("");
  tune->add_option("--seed", tuning.seed, "seed of the search: the same seed gives the same result (default 1)")->type_name("");
  tune->add_option("--flat", tuning.flat, "count up to this much worse as equal, in % (default 2)")
      ->check(CLI::Range(0.01, 50.0))
      ->type_name("");
  tune->add_option("--write", tuning.write, "write the scenario with the settings found; FILE must not exist")->type_name("FILE");
  tune->add_option("--report", tuning.report, "write the trade-offs as a page (one HTML file, works offline)")->type_name("FILE");
  tune->add_option("--jobs", tuning.jobs, "runs at the same time (default: one for each processor)")
      ->check(CLI::Range(1, 256))
      ->type_name("");

  std::string advised;
  unsigned advise_jobs = 0;
  auto* advise = app.add_subcommand("advise", "find the change that fixes it: each one simulated and ranked, before and after");
  advise->footer(advise_footer);
  add_scenario(*advise, common), add_json(*advise, common);
  advise->add_option("--write", advised, "write the scenario with the best change; FILE must not exist")
      ->type_name("FILE");
  advise->add_option("--jobs", advise_jobs, "runs at the same time (default: one for each processor)")
      ->check(CLI::Range(1, 256))
      ->type_name("");

  cli::FitAsked fitting;
  auto* fit = app.add_subcommand("fit", "find loads, mass, flow or minimum fire from a temperature log, and how sure each is");
  fit->footer(fit_footer);
  add_scenario(*fit, common), add_json(*fit, common);
  fit->add_option("log", fitting.log, "the temperature log (CSV)")->required()->type_name("LOG");
  fit->add_option("--find", fitting.find, "value to find, by its address; repeat for more (default: design loads and minimum fire)")
      ->allow_extra_args(false)
      ->type_name("ADDRESS");
  fit->add_option("--window", fitting.window, "compare averages over this time (default: two typical burner cycles)")->type_name("TIME");
  fit->add_option("--skip", fitting.skip, "leave out this much of the start of the log (default 3 h)")->type_name("TIME");
  fit->add_option("--write", fitting.write, "write the scenario with the values found; FILE must not exist")->type_name("FILE");
  fit->add_option("--report", fitting.report, "write the report (one HTML file, works offline)")->type_name("FILE");
  fit->add_option("--jobs", fitting.jobs, "runs at the same time (default: one for each processor)")
      ->check(CLI::Range(1, 256))
      ->type_name("");

  std::string out = "-";
  auto* draw = app.add_subcommand("draw", "draw the piping schematic as SVG");
  draw->footer(draw_footer);
  add_scenario(*draw, common);
  draw->add_option("--out", out, "file to write (- for standard output)")->type_name("FILE");

  std::string starter_file;
  auto* starter = app.add_subcommand("new", "write a sample scenario with comments");
  starter->footer(new_footer);
  starter->add_option("file", starter_file, "file to write; must not exist yet")->required()->type_name("FILE");

  bool ask = false;
  std::string answers;
  auto* by_asking =
      starter->add_flag("--ask", ask, "ask six questions, write a scenario from the answers, and review it on one page");
  starter->add_option("--answers", answers, "the same with the answers in FILE (TOML)")->type_name("FILE")->excludes(by_asking);
  starter->add_option("--units", common.units, "units in the output: us or si")->check(CLI::IsMember({"us", "si"}))->type_name("");

  std::string opened = ".";
  cli::ServeOptions serving;
  auto* serve = app.add_subcommand("serve", "open the browser page: lay out, run a day, compare, tune");
  serve->footer(serve_footer);
  serve->add_option("opened", opened, "a scenario file, or a folder of them (default: this folder)")->type_name("FILE or FOLDER");
  serve->add_option("--port", serving.port, "port to listen on, 0 for any free one (default 8417, or a free one if 8417 is taken)")
      ->check(CLI::Range(0, 65535))
      ->type_name("");
  serve->add_option("--address", serving.address, "address to listen on (default 127.0.0.1: this computer only)")->type_name("");
  serve->add_option("--jobs", serving.jobs, "runs at the same time (default: one for each processor)")
      ->check(CLI::Range(1, 256))
      ->type_name("");

  cli::SweepOptions study;
  auto* sweep = app.add_subcommand("sweep", "run a scenario many times with values varied; report what each one does");
  sweep->footer(sweep_footer);
  sweep->add_option("study", study.study, "the study file (TOML)")->required()->type_name("FILE");
  sweep->add_option("--store", study.store, "store: the file that keeps the points (default: next to the study, ending in .store)")
      ->type_name("FILE");
  sweep->add_option("--csv", study.csv, "write one row per point as CSV to FILE (- for standard output)")->type_name("FILE");
  sweep->add_option("--json", study.json, "write the results as JSON to FILE (- for standard output)")->type_name("FILE");
  sweep->add_option("--report", study.report, "write the report (one HTML file, works offline)")->type_name("FILE");
  sweep->add_option("--jobs", study.jobs, "runs at the same time (default: one for each processor)")
      ->check(CLI::Range(1, 256))
      ->type_name("");
  sweep->add_flag("--afresh", study.afresh, "start over; the old store is kept under another name");
  sweep->add_option("--patience", study.patience, "under MPI: seconds before the points of a silent rank go to others (default 60)")
      ->check(CLI::Range(0.1, 1e6))
      ->type_name("");
  sweep->add_option("--units", study.units, "units in the output and the CSV: us or si")
      ->check(CLI::IsMember({"us", "si"}))
      ->type_name("");
  sweep->add_flag("--quiet", study.quiet, "do not print the summary");

  auto* reference = app.add_subcommand("reference", "list every table and key of a scenario, with units and ranges");
  reference->footer(reference_footer);
  auto* schema = app.add_subcommand("schema", "print the JSON Schema of scenarios, for text editors");
  schema->footer(schema_footer);
  bool of_readings = false, of_study = false;
  auto* readings = reference->add_flag("--readings", of_readings, "list those of a file for check --readings");
  reference->add_flag("--study", of_study, "list those of a study file for sweep, and all figures")->excludes(readings);

  try {
    app.parse(argc, argv);
  } catch (CLI::ParseError const& e) {
    if (e.get_exit_code() == 0) return app.exit(e);  // --help and --version
    std::cerr << cli::explain_usage(app, e, {argv + 1, argv + argc});
    return cli::bad_input;
  }
  if (*run) {
    if (common.json == "-" && files.plan == "-")
      throw BadInput("error: --json and --plan both go to standard output\n  expected  - for one of them\n");
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
  std::cerr << "error: program fault, not your file: " << e.what() << '\n';
  return cli::machine_fault;
} catch (std::bad_alloc const&) {
  std::cerr << "error: not enough memory\n";
  return cli::machine_fault;
}
