#!/usr/bin/python3
"""What a second thread gains a sweep, and how a store of a million points is told. Reported, never asserted.

Usage: STEADYFIRE=build/…/steadyfire tests/bench/study_bench.py. CPU time, and ratios of runs that alternate, as others may load the machine.
What a sweep costs beyond its runs: benchmarks --benchmark_filter=points_.
The million points are runs of nobody: their numbers are drawn here, to time the store and what is made of it.
"""

import os
import pathlib
import resource
import signal
import sqlite3
import statistics
import subprocess
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ["STEADYFIRE"]


def study(duration, parameters, figures='["starts", "fuel", "bath.mean_room"]', more=""):
    return f"""format = 1
title = "Bench"
[study]
scenario = "{ROOT}/scenarios/oversized_burner.toml"
duration = "{duration}"
figures = {figures}
{more}""" + parameters


FIRES = '[[parameter]]\nname = "minimum fire"\nat = "boiler.minimum_input"\nfrom = "8 kBtu/h"\nto = "38 kBtu/h"\nsteps = {}\n'
LOADS = '[[parameter]]\nname = "loads"\nat = "zone.design_load"\nas = "factor"\nfrom = 0.7\nto = 1.3\nsteps = {}\n'


def timed(folder, *arguments):
    """[s] of the clock, [s] of CPU."""
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
    subprocess.run([PROGRAM, *arguments], cwd=folder, check=True, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.monotonic() - began, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def sweep(folder, name, *more):
    for file in folder.glob("timed.store*"):
        file.unlink()
    return timed(folder, "sweep", name, "--store", "timed.store", "--quiet", *more)


def threads(folder):
    (folder / "days.toml").write_text(study("1 d", FIRES.format(10) + LOADS.format(4)))
    ratios, rates, cpu = [], [], []
    for _ in range(3):
        one, two = sweep(folder, "days.toml", "--jobs", "1"), sweep(folder, "days.toml", "--jobs", "2")
        ratios.append(one[0] / two[0]), rates.append(40 / two[0]), cpu.append(two[1] / one[1])
    print(f"40 days of four zones: two threads against one {statistics.median(ratios):.2f} times as fast ({min(ratios):.2f} to "
          f"{max(ratios):.2f}), {statistics.median(cpu):.2f} times the CPU; {statistics.median(rates):.1f} points/s with two")


def million(folder):
    (folder / "million.toml").write_text(study("0.001 d", FIRES.format(1000) + LOADS.format(1000)))
    run = subprocess.Popen([PROGRAM, "sweep", "million.toml", "--quiet"], cwd=folder)
    time.sleep(1)
    run.send_signal(signal.SIGINT), run.wait()
    with sqlite3.connect(folder / "million.store") as db:
        db.execute("""INSERT OR IGNORE INTO points WITH RECURSIVE n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i < 999999)
                      SELECT i, 0, 0, 100 + abs(random() % 100), 1e8 + i, 294 + (random() % 1000) / 500.0, '', 0, 0, '', '' FROM n""")
    db.close()
    size = (folder / "million.store").stat().st_size / 1e6
    plain = timed(folder, "sweep", "million.toml")
    report = timed(folder, "sweep", "million.toml", "--report", "million.html")
    table = timed(folder, "sweep", "million.toml", "--csv", "million.csv", "--quiet")
    print(f"a million points of three figures, {size:.0f} MB: told in {plain[0]:.1f} s ({plain[1]:.1f} s CPU), with a report of "
          f"{(folder / 'million.html').stat().st_size / 1e6:.1f} MB {report[0]:.1f} s ({report[1]:.1f} s CPU), as CSV {table[0]:.1f} s")


with tempfile.TemporaryDirectory() as name:
    for part in threads, million:
        part(pathlib.Path(name))
