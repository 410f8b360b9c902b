#!/usr/bin/python3
"""What a day of the four-zone house costs here, and what the same equations cost scipy. Reported, never asserted.

  tests/bench/scipy_compare.py [PROGRAM]        PROGRAM: build/steadyfire unless told, or $STEADYFIRE

Both in one go, one thread, CPU time. Ours: the whole process over a day less the same over two minutes, the least of
five; that finds the events, solves the flows and keeps the record besides. scipy's: inside LSODA (ODEPACK, analytic
Jacobian, dense as it takes no other) and BDF (analytic sparse Jacobian) alone; the events, the flows and the matrices
between them are given by `run --plan`, reading and setting up are not counted. So the ratio flatters scipy.
Accuracy is matched by rooms at each hour: scipy gets the loosest tolerance that keeps them within 0.02 K of LSODA at
1e-7 K a step, over the same intervals.
"""
import os

os.environ.update(OPENBLAS_NUM_THREADS="1", OMP_NUM_THREADS="1")  # before numpy looks

import pathlib
import subprocess
import sys
import tempfile
import time

import numpy as np

root = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(root / "tests/reference"))
from exported_plan import ExportedPlan, bdf, lsoda

ROOMS_WITHIN = 0.02  # [K]
program = sys.argv[1] if len(sys.argv) > 1 else os.environ.get("STEADYFIRE", str(root / "build/steadyfire"))


def cpu_of_run(scenario):
    child = subprocess.Popen([program, "run", scenario, "--quiet"])
    _, status, used = os.wait4(child.pid, 0)
    if status:
        sys.exit(f"{program} run {scenario} failed")
    return used.ru_utime + used.ru_stime


def timed(method, spent):
    def run(*arguments):
        began = time.process_time()
        x = method(*arguments)
        spent[0] += time.process_time() - began
        return x

    return run


def at_hours(plan, method, tolerance):
    """Rooms at the first end of an interval after each hour, by scipy and as the run had them [K]; CPU time [s]."""
    rooms, spent, hour = list(plan.rooms.values()), [0.0], 1
    theirs, ours = [], []
    for interval, x in plan.integrate(timed(method, spent), tolerance):
        if interval["end_s"] >= 3600 * hour:
            theirs.append(x[rooms]), ours.append(interval["end"][rooms])
            hour = int(interval["end_s"] // 3600) + 1
    return np.array(theirs), np.array(ours), spent[0]


with tempfile.TemporaryDirectory() as folder:
    text = (root / "scenarios/four_zone_house.toml").read_text().replace('"weather/', f'"{root}/scenarios/weather/')
    day, moment = folder + "/day.toml", folder + "/moment.toml"
    pathlib.Path(day).write_text(text)
    pathlib.Path(moment).write_text(text.replace('duration = "1 d"', 'duration = "2 min"'))
    subprocess.run([program, "run", day, "--quiet", "--plan", folder + "/plan.json"], check=True)
    plan = ExportedPlan(folder + "/plan.json")
    mine = min(cpu_of_run(day) for _ in range(5)) - min(cpu_of_run(moment) for _ in range(5))

print(f"{plan.places} places, {len(plan.intervals)} intervals between events")
reference, ours, _ = at_hours(plan, lsoda, 1e-7)
print(f"steadyfire run       {mine:7.3f} s   rooms within {np.abs(ours - reference).max():.4f} K at {len(ours)} hours")
best = {}
for method, label in (lsoda, "scipy LSODA"), (bdf, "scipy BDF, sparse"):
    for tolerance in 0.3, 0.1, 0.03, 0.01, 0.003, 0.001:
        theirs, _, spent = at_hours(plan, method, tolerance)
        off = np.abs(theirs - reference).max()
        print(f"{label:<18} {spent:9.3f} s   rooms within {off:.4f} K at {tolerance:g} K a step{'' if off <= ROOMS_WITHIN else ': too far'}")
        if off <= ROOMS_WITHIN:
            best[label] = spent
            break
if not best:
    sys.exit("scipy met the accuracy at none of these tolerances")
winner = min(best, key=best.get)
print(f"ratio {best[winner] / mine:.0f}: {winner} against steadyfire, in scipy's favour as said above")
