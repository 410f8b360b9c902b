#include "tools/cli/command_line.hpp"

#include <CLI/CLI.hpp>
#include <filesystem>
#include <iostream>
#include <span>

#include "sim/core/text.hpp"
#include "sim/record/record_csv.hpp"
#include "tools/cli/command.hpp"
#include "tools/cli/help.hpp"
#include "tools/cli/usage.hpp"

namespace steadyfire::cli {
namespace {

class CommandLine {
 public:
  CommandLine() {
    app_.footer(program_footer);
    app_.set_version_flag("--version", std::string("steadyfire ") + STEADYFIRE_VERSION);
    app_.require_subcommand(1);
    add_flows(), add_run(), add_check(), add_tune(), add_advise(), add_arrangements(), add_fit();  // in the order of --help
    add_draw(), add_new(), add_serve(), add_sweep(), add_reference();
  }

  int run(int argc, char** argv) {
    for (std::string const word : std::span(argv, std::size_t(argc)))
      if (!is_utf8(word)) {
        std::cerr << "error: an option or a file name is not UTF-8 text: " << word.substr(0, utf8_bytes(word))
                  << "…\n  expected  names and options in UTF-8\n  hint      rename the file with plain letters\n";
        return bad_input;
      }
    try {
      app_.parse(argc, argv);
    } catch (CLI::ParseError const& e) {
      if (e.get_exit_code() == 0) return app_.exit(e);  // --help and --version
      std::cerr << explain_usage(app_, e, {argv + 1, argv + argc});
      return bad_input;
    }
    for (auto const& c : commands_) {
      if (!*c.app) continue;
      Outputs outputs;
      for (auto const& add : c.outputs) add(outputs);
      outputs.look();
      common_.to_standard_output = outputs.to_standard_output();
      return c.run(outputs);
    }
    throw InternalError("no command to run");
  }

 private:
  struct Command {
    CLI::App* app;
    std::function<int(Outputs&)> run;
    std::vector<std::function<void(Outputs&)>> outputs{};
  };
  CLI::App& add(std::string name, std::string words, char const* footer, std::function<int(Outputs&)> run) {
    auto* command = app_.add_subcommand(std::move(name), std::move(words));
    command->footer(footer);
    commands_.push_back({command, std::move(run)});
    return *command;
  }
  /// What the command added last will write.
  void writes(std::function<void(Outputs&)> add) { commands_.back().outputs.push_back(std::move(add)); }
  void add_output(CLI::App& command, char const* option, std::string& file, std::string const& words,
                  Outputs::Sort sort = Outputs::Sort::file) {
    command.add_option(option, file, words)->type_name("FILE");
    writes([option, &file, sort](Outputs& all) { all.add(option, file, sort); });
  }
  static void add_units(CLI::App& command, std::string& units, std::string const& of = "the output") {
    command.add_option("--units", units, "units in " + of + ": us or si")->check(CLI::IsMember({"us", "si"}))->type_name("");
  }
  void add_scenario(CLI::App& command) {
    command.add_option("scenario", common_.scenario, "the scenario file (TOML)")->required()->type_name("FILE");
    add_units(command, common_.units);
    command.add_flag("--quiet", common_.quiet, "do not print the summary");
  }
  void add_json(CLI::App& command) {
    add_output(command, "--json", common_.json, "write all results as JSON to FILE (- for standard output)");
  }
  void add_report(CLI::App& command, std::string& file, std::string const& what = "the report") {
    add_output(command, "--report", file, "write " + what + " (one HTML file, works offline)");
  }
  void add_write(CLI::App& command, std::string& file, std::string const& found) {
    add_output(command, "--write", file, "write the scenario with " + found + "; FILE must not exist", Outputs::Sort::new_file);
  }
  static void add_jobs(CLI::App& command, unsigned& jobs) {
    command.add_option("--jobs", jobs, "runs at the same time (default: one for each processor)")
        ->check(CLI::Range(1, 256))
        ->type_name("");
  }

  void add_flows() {
    auto& command = add("flows", "find flow and head loss for every combination of calling zones",
                        flows_footer, [this](Outputs& outputs) { return cli::flows(outputs, common_, calls_); });
    add_scenario(command), add_json(command);
    command.add_option("--calls", calls_, "only this combination, as bath,kitchen; repeat for more; 'all' lists every one in a line")
        ->allow_extra_args(false)
        ->type_name("ZONES");
  }

  void add_run() {
    auto& command = add("run", "simulate a day, a week or a year; report what happens and why", run_footer,
                        [this](Outputs& outputs) { return cli::run(outputs, common_, files_, band_); });
    add_scenario(command), add_json(command);
    add_report(command, files_.report);
    command.add_option("--csv", files_.csv, "write series, events, zones and burns as CSV files in FOLDER")->type_name("FOLDER");
    writes([this](Outputs& all) { all.add_folder("--csv", files_.csv, {csv_tables.begin(), csv_tables.end()}); });
    add_output(command, "--plan", files_.plan, "write the equations of the run as JSON for other programs (- for standard output)");
    command.add_flag("--band", band_,
                     "range check: run again with each assumed value at both ends of its usual range; report what changes");
  }

  void add_check() {
    auto& command = add("check", "review the whole job before you cut pipe", check_footer,
                        [this](Outputs& outputs) { return cli::check(outputs, common_, review_); });
    add_scenario(command), add_json(command);
    command.add_flag("--all", review_.all, "print every number, table, site check and caution");
    add_report(command, review_.report, "the review as a page to print");
    command.add_option("--readings", review_.readings, "gauge readings (TOML); ranks the likely faults")->type_name("FILE");
    add_output(command, "--materials", review_.materials, "write the materials list as CSV to FILE");
  }

  void add_tune() {
    auto& command = add("tune", "search for settings that improve comfort and fuel",
                        tune_footer, [this](Outputs& outputs) { return cli::tune(outputs, common_, tuning_); });
    add_scenario(command), add_json(command);
    command.add_option("--turn", tuning_.turn, "setting to vary: ADDRESS or ADDRESS=LOW..HIGH; repeat for more (default: the reset curve)")
        ->allow_extra_args(false)
        ->type_name("ADDRESS");
    command.add_option("--for", tuning_.aims, "figures to improve, for example comfort,energy,starts")
        ->delimiter(',')
        ->allow_extra_args(false)
        ->type_name("");
    auto* days = command.add_option("--day", tuning_.days, "start a weather period on this day of the year; repeat for more")
                     ->allow_extra_args(false)
                     ->check(CLI::Range(1, 365))
                     ->type_name("");
    command.add_option("--days", tuning_.length, "length of each period in days (default 3)")
        ->needs(days)
        ->check(CLI::Range(0.04, 365.0))
        ->type_name("");
    command.add_flag("--year", tuning_.year, "use the whole year of the weather")->excludes(days);
    command.add_option("--runs", tuning_.runs, "points to try (default 600)")->check(CLI::Range(40, 1000000))->type_name("");
    command.add_option("--seed", tuning_.seed, "seed of the search: the same seed gives the same result (default 1)")->type_name("");
    command.add_option("--flat", tuning_.flat, "count up to this much worse as equal, in % (default 2)")
        ->check(CLI::Range(0.01, 50.0))
        ->type_name("");
    add_write(command, tuning_.write, "the settings found");
    add_report(command, tuning_.report, "the trade-offs as a page");
    add_jobs(command, tuning_.jobs);
  }

  void add_advise() {
    auto& command = add("advise", "find the change that fixes it: each one simulated and ranked, before and after",
                        advise_footer, [this](Outputs& outputs) { return cli::advise(outputs, common_, advised_, advise_jobs_); });
    add_scenario(command), add_json(command);
    add_write(command, advised_, "the best change");
    add_jobs(command, advise_jobs_);
  }

  void add_arrangements() {
    auto& command = add("arrangements", "compare direct, tees, separator and buffer tank, with circulators or zone valves, in this house",
                        arrangements_footer,
                        [this](Outputs& outputs) { return cli::arrangements(outputs, common_, arranged_, arrange_jobs_); });
    add_scenario(command), add_json(command);
    add_output(command, "--report", arranged_, "write the comparison as a page to print (one HTML file, works offline)");
    add_jobs(command, arrange_jobs_);
  }

  void add_fit() {
    auto& command = add("fit", "find loads, mass, flow or minimum fire from a temperature log, and how sure each is",
                        fit_footer, [this](Outputs& outputs) { return cli::fit(outputs, common_, fitting_); });
    add_scenario(command), add_json(command);
    command.add_option("log", fitting_.log, "the temperature log (CSV)")->required()->type_name("LOG");
    command.add_option("--find", fitting_.find, "value to find, by its address; repeat for more (default: design loads and minimum fire)")
        ->allow_extra_args(false)
        ->type_name("ADDRESS");
    command.add_option("--window", fitting_.window, "compare averages over this time (default: two typical burner cycles)")
        ->type_name("TIME");
    command.add_option("--skip", fitting_.skip, "leave out this much of the start of the log (default 3 h)")->type_name("TIME");
    add_write(command, fitting_.write, "the values found");
    add_report(command, fitting_.report);
    add_jobs(command, fitting_.jobs);
  }

  void add_draw() {
    auto& command = add("draw", "draw the piping schematic as SVG", draw_footer,
                        [this](Outputs& outputs) { return cli::draw(outputs, common_, out_); });
    add_scenario(command);
    add_output(command, "--out", out_, "file to write (- for standard output)");
  }

  void add_new() {
    auto& command = add("new", "write a sample scenario with comments", new_footer, [this](Outputs& outputs) { return start(outputs); });
    command.add_option("file", starter_file_, "file to write; must not exist yet")->required()->type_name("FILE");
    writes([this](Outputs& all) { all.add("FILE", starter_file_, Outputs::Sort::new_file); });
    auto* by_asking =
        command.add_flag("--ask", ask_, "ask six questions, write a scenario from the answers, and review it on one page");
    command.add_option("--answers", answers_, "the same with the answers in FILE (TOML)")->type_name("FILE")->excludes(by_asking);
    add_units(command, common_.units);
  }

  void add_serve() {
    auto& command = add("serve", "open the browser page: lay out, run a day, compare, tune",
                        serve_footer, [this](Outputs&) { return cli::serve(opened_, serving_); });
    command.add_option("opened", opened_, "a scenario file, or a folder of them (default: this folder)")->type_name("FILE or FOLDER");
    command.add_option("--port", serving_.port, "port to listen on, 0 for any free one (default 8417, or a free one if 8417 is taken)")
        ->check(CLI::Range(0, 65535))
        ->type_name("");
    command.add_option("--address", serving_.address, "address to listen on (default 127.0.0.1: this computer only)")->type_name("");
    add_jobs(command, serving_.jobs);
  }

  void add_sweep() {
    auto& command = add("sweep", "run a scenario many times with values varied; report what each one does",
                        sweep_footer, [this](Outputs& outputs) { return cli::sweep(outputs, study_); });
    command.add_option("study", study_.study, "the study file (TOML)")->required()->type_name("FILE");
    command.add_option("--store", study_.store, "store: the file that keeps the points (default: next to the study, ending in .store)")
        ->type_name("FILE");
    writes([this](Outputs& all) {
      if (study_.store.empty()) study_.store = std::filesystem::path{study_.study}.replace_extension(".store").string();
      all.add("--store", study_.store, Outputs::Sort::store);
    });
    add_output(command, "--csv", study_.csv, "write one row per point as CSV to FILE (- for standard output)");
    add_output(command, "--json", study_.json, "write the results as JSON to FILE (- for standard output)");
    add_report(command, study_.report);
    add_jobs(command, study_.jobs);
    command.add_flag("--afresh", study_.afresh, "start over; the old store is kept under another name");
    command.add_option("--patience", study_.patience, "under MPI: seconds before the points of a silent rank go to others (default 60)")
        ->check(CLI::Range(0.1, 1e6))
        ->type_name("");
    add_units(command, study_.units, "the output and the CSV");
    command.add_flag("--quiet", study_.quiet, "do not print the summary");
  }

  void add_reference() {
    auto& command = add("reference", "list every table and key of a scenario, with units and ranges",
                        reference_footer, [this](Outputs&) { return describe(false); });
    auto& schema =
        add("schema", "print the JSON Schema of scenarios, for text editors", schema_footer, [this](Outputs&) { return describe(true); });
    add_units(command, common_.units), add_units(schema, common_.units);
    auto* readings = command.add_flag("--readings", of_readings_, "list those of a file for check --readings");
    auto* study = command.add_flag("--study", of_study_, "list those of a study file for sweep, and all figures")->excludes(readings);
    command.add_flag("--answers", of_answers_, "list those of a file of answers for new --answers")->excludes(readings)->excludes(study);
  }

  int start(Outputs& outputs) const {
    bool const by_answers = ask_ || !answers_.empty();
    return by_answers ? cli::counter(outputs, starter_file_, answers_, common_.system())
                      : cli::starter(outputs, starter_file_, common_.system());
  }
  int describe(bool as_schema) const {
    auto const format = of_readings_  ? Format::readings
                        : of_study_   ? Format::study
                        : of_answers_ ? Format::answers
                                      : Format::scenario;
    return describe_format(as_schema, format, common_.system());
  }

  CLI::App app_{
      "Steadyfire simulates a hydronic heating job before pipe is cut: flow in each zone, short cycling, outdoor reset, hot water,\n"
      "gas and vent.",
      "steadyfire"};
  std::vector<Command> commands_;

  Common common_;
  std::vector<std::string> calls_;  // of flows
  RunFiles files_;
  bool band_ = false;
  CheckFiles review_;
  TuneAsked tuning_;
  std::string advised_;
  unsigned advise_jobs_ = 0;
  std::string arranged_;
  unsigned arrange_jobs_ = 0;
  FitAsked fitting_;
  std::string out_ = "-";  // of draw
  std::string starter_file_, answers_;
  bool ask_ = false;
  std::string opened_ = ".";
  ServeOptions serving_;
  SweepOptions study_;
  bool of_readings_ = false, of_study_ = false, of_answers_ = false;
};

}  // namespace

int run_command_line(int argc, char** argv) { return CommandLine{}.run(argc, argv); }

}  // namespace steadyfire::cli
