#!/usr/bin/python3
"""The march against scipy: the same equations, integrated by LSODA (ODEPACK) and by scipy's BDF at 1e-6 and 1e-4 K a step.

`run --plan` states the equations between events; the events are the run's own, so this checks the integration and the
laws' slopes (scipy's are derived here anew from the formulas), not where events lie: march_test does that by CVODE.

Allowed: rooms 0.02 K (the aim for a design day), water at the boiler's outlet 0.6 K (half a second of a front that
passes), fuel 0.05 %. A run held to a tenth of the tolerance must come three times closer, or to 0.003 K.
"""
import json
import os
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
from exported_plan import ExportedPlan, bdf, lsoda

program = os.environ["STEADYFIRE"]
root = pathlib.Path(__file__).resolve().parents[2]
sys.path.append(str(root / "tests"))
from json_schema import faults  # noqa: E402: found by the line above

HOURS = 3
failures = 0


def check(what, got, allowed):
    global failures
    failures += not got <= allowed
    print(f"{'ok  ' if got <= allowed else 'FAIL'} {what}: {got:.2g}, {allowed:.2g} allowed")


def run(folder, tolerance):
    text = (root / "scenarios/four_zone_house.toml").read_text()
    text = text.replace('"weather/', f'"{root}/scenarios/weather/').replace('duration = "1 d"', f'duration = "{HOURS} h"\ntolerance = "{tolerance} K"')
    (folder / "house.toml").write_text(text)
    subprocess.run([program, "run", "house.toml", "--quiet", "--plan", "plan.json", "--json", "run.json"], cwd=folder, check=True)
    schema, written = root / "sim/study/plan.schema.json", folder / "plan.json"
    told = list(faults(json.loads(schema.read_text()), json.loads(written.read_text()), "plan"))
    check("places where the file does not fit its schema", len(told), 0)
    print(*told[:5], sep="\n", end="")
    return ExportedPlan(folder / "plan.json"), json.loads((folder / "run.json").read_text())


def compare(plan, method, tolerance):
    """How far the run is from scipy at most: rooms [K], boiler outlet [K], and fuel at the end (share)."""
    rooms, fuel = list(plan.rooms.values()), plan.names.index("fuel")
    room = outlet = 0
    for interval, x in plan.integrate(method, tolerance):
        off = np.abs(x - interval["end"])
        room, outlet = max(room, off[rooms].max()), max(outlet, off[plan.boiler_outlet])
    return room, outlet, abs(x[fuel] / interval["end"][fuel] - 1)


def belongs_together(plan, record):
    """That the states in the plan are those of the record: else the comparison below would say nothing about it."""
    track = record["tracks"]["whole"]
    outside = 0
    for interval in plan.intervals:
        for zone, place in plan.rooms.items():
            bins = track["channels"][f"zone/{zone}/room"]["bins_degC"]
            b = min(int((interval["end_s"] - track["start_s"]) / track["step_s"]), len(bins["least"]) - 1)
            around = slice(max(0, b - 1), b + 1)  # an end may lie on the border of two bins
            room = interval["end"][place] - 273.15
            outside = max(outside, min(bins["least"][around]) - room, room - max(bins["most"][around]))
    check("rooms of the plan outside the record's bins [K], printed with six digits", outside, 6e-5)
    last = plan.intervals[-1]
    check("fuel of the plan against the record's", abs(last["end"][plan.names.index("fuel")] / -record["energy"]["fuel_J"] - 1), 1e-12)
    gaps = [abs(a["end_s"] - b["start_s"]) for a, b in zip(plan.intervals, plan.intervals[1:])]
    check("gaps between intervals [s]", max([*gaps, plan.intervals[0]["start_s"], abs(last["end_s"] - HOURS * 3600)]), 1e-6)


found = {}
for tolerance in 0.005, 0.0005:
    with tempfile.TemporaryDirectory() as folder:
        plan, record = run(pathlib.Path(folder), tolerance)
    belongs_together(plan, record)
    for method, step in ((lsoda, 1e-6), (bdf, 1e-4)) if tolerance == 0.005 else ((lsoda, 1e-6),):
        room, outlet, fuel = found[method, tolerance] = compare(plan, method, step)
        what = f"run at {tolerance} K, {method.__name__} at {step:g} K"
        check(f"{what}: rooms [K]", room, 0.02)
        check(f"{what}: boiler outlet [K]", outlet, 0.6)
        check(f"{what}: fuel", fuel, 5e-4)
coarse, fine = found[lsoda, 0.005], found[lsoda, 0.0005]
check("rooms, a run at a tenth of the tolerance [K], a third of this one's or 0.003", fine[0], max(coarse[0] / 3, 0.003))
check("boiler outlet, the same", fine[1] / coarse[1], 1 / 3)
raise SystemExit(f"{failures} checks failed" if failures else 0)
