#pragma once
/// What stands below the options in --help: of the program, and of each command.

namespace steadyfire::cli {

inline constexpr char const* program_footer = R"(
Start here:
  steadyfire new house.toml                         write a sample house, then change it into yours
  steadyfire flows house.toml                       check the flow in every zone
  steadyfire run house.toml --report report.html    simulate a day: burner starts, burns, rooms, fuel, and why
  steadyfire check house.toml --report review.html  review the whole job: size, gas, vent, piping, wiring
  steadyfire advise house.toml                      find the change that fixes it
  steadyfire arrangements house.toml                compare tees, separator, buffer tank, zone valves in this house
  steadyfire tune house.toml                        find settings that improve comfort and fuel

A scenario is a text file (TOML) that describes the house. 'steadyfire reference' lists every table and key.
1 kBtu/h = 1,000 Btu/h = 1 MBH.
Exit codes: 0 done (findings included), 1 `check` found something serious, 2 bad input or usage, 3 the simulation stopped,
4 machine error (disk, memory), 130 interrupted (Ctrl-C; 128 and its number after another signal).

Gas, flue gas, carbon monoxide, pressure, hot water and electricity can kill. These results help you decide.
The local code, the appliance manual and a licensed contractor decide.
)";

inline constexpr char const* flows_footer = R"(
Solves every combination of calling zones. Findings come first. Then all zones calling, each zone alone and the worst
combination: flow needed, flow, heat beside the design load, the room on the design day, each circulator's operating point.

  steadyfire flows house.toml
  steadyfire flows house.toml --calls bath        only this zone calls, with every pipe
  steadyfire flows house.toml --calls bath --calls bath,kitchen
  steadyfire flows house.toml --calls all         one line for each combination
  steadyfire flows house.toml --json - | less
)";
inline constexpr char const* run_footer = R"(
Shows burner starts and burn lengths, condensing time, room temperatures, fuel and losses, and the
reason for what it finds. Set weather, run length and start in the scenario, under [site] and [run].

  steadyfire run house.toml
  steadyfire run house.toml --report report.html
  steadyfire run house.toml --csv results --json results.json --units si
)";
inline constexpr char const* check_footer = R"(
Compares every number it can compute with its limit. Findings come first, most serious first, each with its
limit, whose limit it is, and what to do. What is not in the file is listed as not checked; nothing is guessed.

  steadyfire check house.toml
  steadyfire check house.toml --all                   every number, table, site check and caution
  steadyfire check house.toml --report review.html --json review.json
  steadyfire check house.toml --materials list.csv
  steadyfire check house.toml --readings read.toml    gauge readings, and the likely faults
Exit code 1: at least one serious finding.
)";
inline constexpr char const* tune_footer = R"(
Searches for settings that keep rooms closer to setpoint with less fuel. Shows the best trade-offs, settings that are better
on every count if there are any, and how far each can move before it matters.

  steadyfire tune house.toml                                       the reset curve, over the scenario's own run
  steadyfire tune house.toml --day 15 --day 60 --day 105 --days 3  over three weather periods of the year
  steadyfire tune house.toml --turn 'controls.reset.cold_supply=120 °F..180 °F' --turn boiler.off_differential
  steadyfire tune house.toml --for comfort,energy,starts --write tuned.toml
--for takes comfort, energy, fuel, cost and any figure of a run, for example starts or bath.too_cold. No file is overwritten.
)";
inline constexpr char const* advise_footer = R"(
Lists what is wrong with rooms, flows and burner. Simulates what a contractor can change (settings first, then valves and
circulators, joined zones, pipe, emitter, buffer tank, boiler), alone and combined, and ranks them before and after.

  steadyfire advise house.toml
  steadyfire advise house.toml --write fixed.toml    write the scenario with the best change, comments kept
)";
inline constexpr char const* arrangements_footer = R"(
Pipes the house every way: direct, closely spaced tees, hydraulic separator, buffer tank; a circulator per zone, or zone valves with
one circulator. Chooses the missing parts, solves the design day, runs the scenario's days. Names the simplest that works, and why.

  steadyfire arrangements house.toml
  steadyfire arrangements house.toml --report arrangements.html
)";
inline constexpr char const* draw_footer = R"(
  steadyfire draw house.toml --out house.svg      opens in any browser
)";
inline constexpr char const* fit_footer = R"(
The log is a CSV file: time (2026-01-24 06:10, or 'time [min]' since the scenario's start); one column for each logged room, named
after its zone; supply, return and outdoors; each with its unit: 'bath [degF]'. The burner is a column 'burner' (1 or 0) or 'fire [%]'.
Leave a cell empty for a gap. Values that the log cannot settle are listed as unknown.

  steadyfire fit house.toml log.csv                                  design loads of the logged rooms, and minimum fire
  steadyfire fit house.toml log.csv --find zone.bath.room.mass_capacity --find zone.bath.circulator.speed
  steadyfire fit house.toml log.csv --write fitted.toml --report fit.html
)";
inline constexpr char const* serve_footer = R"(
Starts the page on this computer and prints its address. Open that in a browser to lay out, run, compare and tune.
It works offline. Nothing is written until you save, and then only .toml files in this folder.

  steadyfire serve                     the scenarios in this folder, and the samples
  steadyfire serve house.toml          open this one
  steadyfire serve jobs --port 9000

Other computers reach it only with --address. Anyone who can reach it can then read and change this folder; there is no password.
)";
inline constexpr char const* sweep_footer = R"(
Varies values of a scenario over a grid, or draws likely ones; runs each point and keeps its figures in a store.
If it is stopped (Ctrl-C, a power cut), run the same command to continue. A finished study prints its results at once.

  steadyfire sweep scenarios/studies/how_big_may_it_be.toml
  steadyfire sweep scenarios/studies/likely_houses.toml --report likely.html --csv points.csv
  mpirun -n 64 steadyfire sweep likely.toml       on a cluster: see tools/scripts/sweep.slurm
  steadyfire reference --study                    every key of a study file, and every figure
)";
inline constexpr char const* new_footer = R"(
  steadyfire new house.toml                       then change it in any text editor
  steadyfire new house.toml --ask                 six questions, then one page of answers
  steadyfire new house.toml --answers call.toml   the same from a file; reference --answers lists its keys
)";
inline constexpr char const* reference_footer = R"(
  steadyfire reference | less                     the page is Markdown
  steadyfire reference --answers                  the keys of a file for new --answers, also at the end of that page
)";
inline constexpr char const* schema_footer = R"(
  steadyfire schema > steadyfire.schema.json      for completion and checks in a text editor
)";

}  // namespace steadyfire::cli
