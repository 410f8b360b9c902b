#pragma once
/// What all commands of the program share.

#include <optional>
#include <string>

#include "models/house/house.hpp"
#include "tools/cli/outputs.hpp"

namespace steadyfire::cli {

/// 0 done, 1 weighty findings of `check`, 2 bad input or usage, 3 simulation stopped, 4 machine fault; `exit_by_signal` where one
/// ended it.
enum Exit { done = 0, has_serious_findings = 1, bad_input = 2, stopped = 3, machine_fault = 4 };

struct Common {
  std::string scenario, json;
  std::string units = "us";
  bool quiet = false;
  bool to_standard_output = false;  ///< of any output
  UnitSystem system() const { return units == "si" ? UnitSystem::si : UnitSystem::us; }
  /// The summary goes to standard output, unless a file does.
  bool silent() const { return quiet || to_standard_output; }
};

/// Reads, checks and assembles a scenario. Errors: BadInput, all faults rendered.
Project load(std::string const& scenario);
Project load(std::string const& scenario, Document& document);

/// Findings for the terminal, the gravest first: what is found, where else, then the fix with the finding's id.
std::string to_words(std::vector<Finding>, UnitSystem);

int flows(Outputs&, Common const&, std::vector<std::string> const& calls);

struct RunFiles { std::string report, csv, plan; };
/// With `band` the run is repeated at both ends of every assumption.
int run(Outputs&, Common const&, RunFiles const&, bool band);

/// The review before pipe is cut; `report` is the page to write, "" for none; `all` prints every number, not one line a subject.
struct CheckFiles {
  std::string report, materials, readings;
  bool all = false;
};
int check(Outputs&, Common const&, CheckFiles const&);

/// The schematic alone, as SVG.
int draw(Outputs&, Common const&, std::string const& out);

/// A commented starter scenario.
int starter(Outputs&, std::string const& out, UnitSystem);

/// A scenario from six answers, asked in the terminal or read from `answers`, and a page that answers the call.
int counter(Outputs&, std::string const& out, std::string const& answers, UnitSystem);

struct TuneAsked {
  std::vector<std::string> turn, aims;  ///< empty: the usual ones
  std::vector<int> days;
  double length = 3;                    ///< [d] of each spell
  bool year = false;
  long runs = 600;
  unsigned seed = 1, jobs = 0;
  double flat = 2;                      ///< [%]
  std::string write, report;
};
/// Settings tuned for comfort and fuel.
int tune(Outputs&, Common const&, TuneAsked const&);

struct FitAsked {
  std::string log, window, skip, write, report;  ///< window and skip as written, "" for the usual
  std::vector<std::string> find;                 ///< addresses; empty: loads of logged rooms, minimum fire
  unsigned jobs = 0;
};
/// Unknowns of the house found from what was logged there.
int fit(Outputs&, Common const&, FitAsked const&);

struct ServeOptions {
  std::string address = "127.0.0.1";
  std::optional<int> port;
  unsigned jobs = 0;
};
/// The page on this machine, until Ctrl-C.
int serve(std::string const& what, ServeOptions const&);

struct SweepOptions {
  std::string study, store, csv, json, report;  ///< "" for none; of the store: beside the study
  unsigned jobs = 0;
  double patience = 60;  ///< [s] with a rank from which nothing comes
  bool afresh = false, quiet = false;
  std::string units = "us";
};
/// The points of a study that its store lacks, then what all of them come to.
int sweep(Outputs&, SweepOptions const&);
/// Which changes mend the house, each simulated; `write` is where the scenario with the best goes, "" for nowhere.
int advise(Outputs&, Common const&, std::string const& write, unsigned jobs);
/// Piping arrangements and distributions of the house side by side; `report` is the page to write, "" for none.
int arrangements(Outputs&, Common const&, std::string const& report, unsigned jobs);

/// JSON Schema for editors, or the reference page of all keys, to stdout.
enum class Format { scenario, readings, study, answers };
int describe_format(bool as_schema, Format, UnitSystem);

}  // namespace steadyfire::cli
