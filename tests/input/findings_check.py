#!/usr/bin/python3
"""A doubtful installation is a finding and a bad call an error, each with its exit code.

Runs `$STEADYFIRE flows` on the networks below. What is expected of each follows from its
shape alone: nothing can flow through a joint met once, past a shut valve, or against a
check valve, whatever the circulator. Houses follow, each with a thermostat set to some rate.
"""

import json
import os
import pathlib
import signal
import subprocess
import sys
import tempfile
import time

LOOP = """format = 1
title = "Loop"

[[circulator]]
name = "P1"
from = "a"
to = "b"

[[pipe]]
name = "loop"
from = "b"
to = "{loop_end}"
length = "60 ft"
size = "3/4 in copper M"

{more}
"""
RETURN = '[[{kind}]]\nname = "{name}"\nfrom = "{a}"\nto = "{b}"\n{keys}\n'
PIPE = 'length = "5 ft"\nsize = "3/4 in copper M"'

# A flow brought to a shut valve: it has no way out.
CUT_OFF = """format = 1
title = "Cut off"
[[joint]]
name = "A"
inflow = "3 gpm"
[[joint]]
name = "B"
inflow = "-3 gpm"
""" + RETURN.format(kind="valve", name="V", a="A", b="B", keys="cv = 5.0\nshut = true")

NO_FLOW, LONELY = "circulator.no_flow", "network.lonely_joint"
# name: (end of the loop, other pieces, findings of these two sorts as (id, place))
NETWORKS = {
    "sound loop": ("a", "", set()),
    "dead leg": ("a", RETURN.format(kind="pipe", name="stub", a="b", b="cap", keys=PIPE), {(LONELY, "cap")}),
    "slip of the pen": (
        "far joint",
        RETURN.format(kind="pipe", name="back", a="far jiont", b="a", keys=PIPE),
        {(LONELY, "far joint"), (LONELY, "far jiont"), (NO_FLOW, "P1")},
    ),
    "shut valve": ("c", RETURN.format(kind="valve", name="V", a="c", b="a", keys="cv = 10.0\nshut = true"), {(NO_FLOW, "P1")}),
    "open valve": ("c", RETURN.format(kind="valve", name="V", a="c", b="a", keys="cv = 10.0"), set()),
    "check valve against": ("c", RETURN.format(kind="check_valve", name="V", a="a", b="c", keys="cv = 10.0"), {(NO_FLOW, "P1")}),
    "check valve along": ("c", RETURN.format(kind="check_valve", name="V", a="c", b="a", keys="cv = 10.0"), set()),
    "opposed circulators": (
        "c",
        RETURN.format(kind="circulator", name="P2", a="a", b="c", keys=""),
        {(NO_FLOW, "P1"), (NO_FLOW, "P2")},
    ),
}

HOUSE = """format = 1
title = "House"
[site]
outdoor_design = "0 degF"
[boiler]
heating_input = "60 kBtu/h"
minimum_input = "12 kBtu/h"
[near_boiler]
arrangement = "closely spaced tees"
[[zone]]
name = "workshop"
design_load = "14 kBtu/h"
floor_area = "600 ft2"
emitter = {{ {emitter} }}
thermostat = {{ cycles_per_hour = "{cycles} 1/h" }}
circulator = {{ duty = "small" }}
"""
SLAB, FIN_TUBE = 'kind = "radiant slab"', 'kind = "fin-tube baseboard", length = "30 ft"'
HURRIED = "thermostat.too_fast"
# Up to twice the usual rate passes: 1 per hour with a slab, else 3 (common practice, no published source).
# (emitter, cycles per hour, whether that is found)
THERMOSTATS = [(SLAB, 6, True), (SLAB, 3, True), (SLAB, 2, False), (SLAB, 1, False), (FIN_TUBE, 6, False)]


def call(program, folder, *arguments):
    return subprocess.run([program, "flows", *arguments], cwd=folder, capture_output=True, text=True, timeout=60)


def check_networks(program, folder, complain):
    for name, (loop_end, more, expected) in NETWORKS.items():
        (folder / "net.toml").write_text(LOOP.format(loop_end=loop_end, more=more))
        run = call(program, folder, "net.toml", "--json", "net.json", "--quiet")
        if run.returncode != 0:
            complain(f"{name}: exit code {run.returncode}, not 0\n{run.stderr}")
            continue
        record = json.loads((folder / "net.json").read_text())
        told = {(f["id"], f["place"]) for f in record["findings"] if f["id"] in (NO_FLOW, LONELY)}
        if told != expected:
            complain(f"{name}: found {sorted(told)}, not {sorted(expected)}")


def check_thermostats(program, folder, complain):
    for emitter, cycles, is_found in THERMOSTATS:
        name = f"{emitter} at {cycles} per hour"
        (folder / "house.toml").write_text(HOUSE.format(emitter=emitter, cycles=cycles))
        run = call(program, folder, "house.toml", "--json", "house.json")
        if run.returncode != 0:
            complain(f"{name}: exit code {run.returncode}, not 0\n{run.stderr}")
            continue
        found = [f for f in json.loads((folder / "house.json").read_text())["findings"] if f["id"] == HURRIED]
        if [f["place"] for f in found] != ["workshop"] * is_found:
            complain(f"{name}: {HURRIED} at {[f['place'] for f in found]}")
            continue
        for f in found:
            told = [line for line in run.stdout.splitlines() if f["words"] in line]
            if len(told) != 1 or told[0].count("workshop") != 1:
                complain(f"{name}: names its zone other than once in\n{told}")
            # at half load a call lasts half a cycle
            for words in f"{cycles} calls an hour", "radiant slab", f"Calls of {60 / cycles / 2:.1f} min":
                if words not in f["words"]:
                    complain(f"{name}: '{words}' is not told in\n{f['words']}")
            if 'cycles_per_hour to "1 per hour"' not in f["remedy"]:
                complain(f"{name}: 1 per hour is not the fix of\n{f['remedy']}")
            rates = [3600 * x for x in (*f["figures"].values(), *f["limit"].values())]  # of 1/s
            if len(rates) != 2 or abs(rates[0] - cycles) > 1e-6 or abs(rates[1] - 1) > 1e-6:
                complain(f"{name}: its figure and limit are {rates}, not {cycles} and 1 per hour")


def check_calls(program, folder, complain):
    """Exit codes of calls that cannot be served; nothing may be left on the disk."""
    net = folder / "net.toml"
    net.write_text(LOOP.format(loop_end="a", more=""))
    (folder / "bad.toml").write_text(net.read_text().replace("60 ft", "60 psi"))
    (folder / "large.toml").write_text(net.read_text() + "# padding\n" * 500_000)
    (folder / "cut_off.toml").write_text(CUT_OFF)
    (folder / "old.json").write_text("kept")
    (folder / "folder").mkdir()
    before = {p.name: p.stat().st_size for p in folder.iterdir()}
    # arguments, exit code, words that must be told
    for arguments, code, words in [
        ((), 2, "scenario"),
        (("net.toml", "--units", "furlongs"), 2, "--units"),
        (("net.toml", "--no-such-option"), 2, "--no-such-option"),
        (("net.toml", "--jsn", "x"), 2, "did you mean '--json'?"),
        (("net.tml",), 2, "did you mean 'net.toml'?"),
        (("net.toml", "other.toml"), 2, "unexpected word 'other.toml'"),
        (("net.toml", "--json"), 2, "--json"),
        (("net.toml", "--calls", "bath"), 2, "error[E240]"),
        (("net.toml", "--quiet", "--json", "folder"), 2, "folder: error[E108]: this is a folder, not a file"),
        (("missing.toml",), 2, "error[E101]"),
        ((".",), 2, "error[E101]"),
        (("large.toml",), 2, "error[E102]"),
        (("cut_off.toml",), 3, "no hydraulic solution in this network\n  where     joint A"),
        (("bad.toml", "--json", "old.json"), 2, "error[E207]"),
        (("net.toml", "--quiet", "--json", "no_folder/x.json"), 2, "error[E108]: there is no folder 'no_folder'"),
        (("missing.toml", "--json", "no_folder/x.json"), 2, "error[E108]"),
    ]:
        run = call(program, folder, *arguments)
        if run.returncode != code:
            complain(f"{arguments}: exit code {run.returncode}, not {code}\n{run.stderr}")
        if words not in run.stderr:
            complain(f"{arguments}: '{words}' is not told in\n{run.stderr}")
        after = {p.name: p.stat().st_size for p in folder.iterdir()}
        if after != before:
            complain(f"{arguments}: left {sorted(set(after.items()) ^ set(before.items()))}")
    house = str(pathlib.Path(__file__).resolve().parents[2] / "scenarios/four_zone_house.toml")
    for arguments, code, words in [
        (("run", "net.toml"), 2, "error[E241]"),
        (("run", house, "--plan", "-", "--json", "-"), 2, "--json and --plan both"),
        (("run", house, "--plan", "no_folder/x.json"), 2, "error[E108]: there is no folder 'no_folder'"),
        (("run", house, "--report", "no_folder/x.html"), 2, "error[E108]"),
        (("run", house, "--csv", "old.json"), 2, "old.json: error[E108]: this is a file, not a folder"),
        (("check", house, "--materials", "no_folder/x.csv"), 2, "error[E108]"),
        (("advise", house, "--write", "no_folder/x.toml"), 2, "error[E108]"),
        (("tune", house, "--write", "no_folder/x.toml"), 2, "error[E108]"),
        (("draw", house, "--out", "no_folder/x.svg"), 2, "error[E108]"),
        (("new", "no_folder/x.toml"), 2, "error[E108]"),
        (("flows", house, "--quiet", "--json", "/dev/full"), 4, "cannot write /dev/full: No space left"),
        (("new", "net.toml"), 2, "error[E242]"),
        ((), 2, "no command given"),
        (("flow", "net.toml"), 2, "did you mean 'flows'?"),
        (("net.toml",), 2, "steadyfire flows net.toml"),
        (("draw",), 2, "steadyfire draw FILE"),
    ]:
        run = subprocess.run([program, *arguments], cwd=folder, capture_output=True, text=True)
        if run.returncode != code or words not in run.stderr:
            complain(f"{arguments}: exit code {run.returncode}, and it says\n{run.stderr}")
    full_disk(program, folder, house, complain)
    interrupted(program, folder, house, complain)


def full_disk(program, folder, house, complain):
    """What is lost on its way out is a fault of the machine, whoever lost it: /dev/full takes nothing."""
    for arguments in [
        ("flows", house), ("run", house), ("check", house), ("draw", house), ("flows", house, "--json", "-"), ("reference",),
        ("reference", "--study"), ("schema",), ("--help",), ("flows", "--help"), ("--version",), ("new", "made.toml"),
    ]:
        with open("/dev/full", "w") as full:
            run = subprocess.run([program, *arguments], cwd=folder, stdout=full, stderr=subprocess.PIPE, text=True)
        if run.returncode != 4 or "cannot write standard output: No space left" not in run.stderr:
            complain(f"{arguments} into a full disk: exit code {run.returncode}, and it says\n{run.stderr}")


def interrupted(program, folder, house, complain):
    """Ctrl-C says what is done so far. Each is stopped after a second: a year's run, and changes to a house, take longer."""
    (folder / "year.toml").write_text(pathlib.Path(house).read_text().replace('duration = "1 d"', 'duration = "1 yr"'))
    (folder / "weather").symlink_to(pathlib.Path(house).parent / "weather")
    if "1 yr" not in (folder / "year.toml").read_text():
        complain("the house has no duration of a day any more")
    for command in "check", "advise":
        run = subprocess.Popen([program, command, "year.toml"], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        time.sleep(1)
        run.send_signal(signal.SIGINT)
        out, err = run.communicate(timeout=120)
        if run.returncode != 130 or "INTERRUPTED" not in out or "[" not in out:
            complain(f"{command} interrupted: exit code {run.returncode}, and it says\n{out}{err}")


def main():
    program = os.environ.get("STEADYFIRE")
    if not program:
        sys.exit("set STEADYFIRE to the program")
    program = str(pathlib.Path(program).resolve())
    failures = []
    for check in check_networks, check_thermostats, check_calls:
        with tempfile.TemporaryDirectory() as folder:
            check(program, pathlib.Path(folder), failures.append)
    print("\n".join(failures) or f"{len(NETWORKS)} networks, {len(THERMOSTATS)} thermostats and the exit codes are as they should be")
    sys.exit(1 if failures else 0)


main()
