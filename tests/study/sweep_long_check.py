#!/usr/bin/python3
"""What `sweep` keeps outlives whatever ends it: kills at any moment, a full disk, Ctrl-C, a second process, another study.

Points are runs of a minute and a half, so that many end between two kills.
"""

import csv
import io
import json
import os
import pathlib
import random
import resource
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ["STEADYFIRE"]
sys.path.append(str(ROOT / "tests"))
from json_schema import faults  # noqa: E402: found by the line above
failures = []


def ask(holds, what):
    if not holds:
        failures.append(what)


STUDY = f"""format = 1
title = "Kept"
[study]
scenario = "{ROOT}/scenarios/oversized_burner.toml"
duration = "0.001 d"
figures = ["starts", "fuel", "bath.mean_room"]
[[parameter]]
name = "minimum fire"
at = "boiler.minimum_input"
from = "8 kBtu/h"
to = "200 kBtu/h"
steps = 40
[[parameter]]
name = "loads"
at = "zone.design_load"
from = "50 %"
to = "149 %"
steps = 25
as = "factor"
"""
POINTS = 1000


def call(folder, *arguments, **more):
    return subprocess.run([PROGRAM, "sweep", *arguments], cwd=folder, capture_output=True, text=True, timeout=300, **more)


def rows(store):
    """All that must not hang on how often it was ended: every column but those that tell when and how long."""
    with sqlite3.connect(store) as db:
        names = [c[1] for c in db.execute("PRAGMA table_info(points)") if c[1] not in ("seconds", "rank", "finished")]
        if not names:
            raise sqlite3.OperationalError("no such table")
        return db.execute(f"SELECT {', '.join(names)} FROM points ORDER BY number").fetchall()


def kept(folder, whole):
    """Killed a hundred times within a second or less; what a store holds is never less than it held before."""
    random.seed(6)
    store, before, kills = folder / "killed.store", {}, 0
    for _ in range(400):
        run = subprocess.Popen([PROGRAM, "sweep", "kept.toml", "--store", store.name, "--quiet"], cwd=folder, stderr=subprocess.PIPE)
        try:
            run.wait(random.uniform(0.001, 0.12))
            break
        except subprocess.TimeoutExpired:
            run.kill(), run.wait()
            kills += 1
        if store.exists() and store.stat().st_size > 0:
            try:
                now = {row[0]: row for row in rows(store)}
            except sqlite3.OperationalError as e:  # killed before its tables were there
                ask("no such table" in str(e) and not before, f"after kill {kills}: {e}")
                continue
            ask(all(now.get(number) == row for number, row in before.items()), f"kill {kills} lost or changed a point")
            before = now
        if kills > 250:  # then it may end
            run = call(folder, "kept.toml", "--store", store.name, "--quiet")
            ask(run.returncode == 0, f"the last call ends with {run.returncode}: {run.stderr}")
            break
    ask(kills > 20, f"only {kills} kills")
    ask(rows(store) == whole, "after the kills the store differs from one that was never interrupted")
    return kills


def wait_for_points(store, run):
    """Until some points are kept, however slow the machine is."""
    until = time.time() + 60
    while time.time() < until and run.poll() is None:
        try:
            if rows(store):
                return
        except sqlite3.OperationalError:
            pass
        time.sleep(0.02)


def interrupted(folder, whole):
    run = subprocess.Popen([PROGRAM, "sweep", "kept.toml", "--store", "interrupted.store", "--jobs", "1"], cwd=folder,
                           stdout=subprocess.PIPE, text=True)
    wait_for_points(folder / "interrupted.store", run)
    run.send_signal(signal.SIGINT)
    said = run.communicate(timeout=60)[0]
    there = len(rows(folder / "interrupted.store"))
    ask(run.returncode == 130 and f"{there} of {POINTS} points" in said, f"Ctrl-C: {run.returncode}, {said}, {there} there")
    ask(call(folder, "kept.toml", "--store", "interrupted.store").returncode == 0, "it cannot go on after Ctrl-C")
    ask(rows(folder / "interrupted.store") == whole, "after Ctrl-C the store differs")


def two_at_once(folder):
    first = subprocess.Popen([PROGRAM, "sweep", "kept.toml", "--store", "two.store", "--jobs", "1", "--quiet"], cwd=folder)
    while not (folder / "two.store").exists() or (folder / "two.store").stat().st_size == 0:
        time.sleep(0.01)
    second = call(folder, "kept.toml", "--store", "two.store")
    ask(first.poll() is None, "the first sweep ended too early for this check")
    ask(second.returncode == 2 and "error[E365]" in second.stderr, f"a second process: {second.returncode}, {second.stderr}")
    ask(first.wait() == 0 and len(rows(folder / "two.store")) == POINTS, "the first of two processes was disturbed")


def of_another(folder, whole):
    """A store of another study, of another program or format, and what is no store."""
    def refused(what, code, file, text=STUDY):
        (folder / "other.toml").write_text(text)
        before = file.read_bytes()
        run = call(folder, "other.toml", "--store", file.name)
        ask(run.returncode == 2 and f"error[{code}]" in run.stderr and "--afresh" in run.stderr, f"{what}: {run.returncode}, {run.stderr}")
        ask(file.read_bytes() == before, f"{what}: the store was changed")

    def changed(name, statement):
        shutil.copy(folder / "kept.store", folder / name)
        with sqlite3.connect(folder / name) as db:
            db.execute(statement)
        db.close()
        return folder / name

    kept_store = folder / "kept.store"
    refused("other values", "E363", kept_store, STUDY.replace("steps = 25", "steps = 24"))
    refused("other figures", "E363", kept_store, STUDY.replace('"fuel"', '"cost"'))
    refused("another run", "E363", kept_store, STUDY.replace("0.001 d", "0.0012 d"))
    refused("another precision", "E363", kept_store, STUDY.replace("duration", 'precision = "rough"\nduration'))
    house = (ROOT / "scenarios/oversized_burner.toml").read_text().replace("22 kBtu/h", "23 kBtu/h")
    (folder / "house.toml").write_text(house)
    refused("another house", "E363", kept_store, STUDY.replace(f"{ROOT}/scenarios/oversized_burner.toml", "house.toml"))
    refused("another version", "E364", changed("version.store", "UPDATE study SET program_version = '0.0.1'"))
    refused("another format", "E364", changed("format.store", "UPDATE study SET store_format = 2"))
    refused("no mark", "E364", changed("mark.store", "PRAGMA application_id = 0"))
    (folder / "words.store").write_text("no database at all, but long enough to be one\n" * 100)
    refused("no database", "E364", folder / "words.store")

    (folder / "title.toml").write_text(STUDY.replace('"Kept"', '"Renamed"') + '[[claim]]\nfigure = "starts"\nat_most = 0\n')
    run = call(folder, "title.toml", "--store", "kept.store")
    ask(run.returncode == 0 and "Renamed" in run.stdout and "burner starts at most 0: true at" in run.stdout, f"another title: {run.stderr}")
    run = call(folder, "other.toml", "--store", "words.store", "--afresh", "--quiet")
    ask(run.returncode == 0 and "words.store.before-1" in run.stderr, f"afresh: {run.returncode}, {run.stderr}")
    ask((folder / "words.store.before-1").read_text().startswith("no database"), "afresh lost what stood there")
    ask(rows(folder / "words.store") == whole, "afresh: other points")


def full_disk(folder, whole):
    """A limit on the size of files stands for the full disk; it needs no mount. Some points are there before."""
    run = subprocess.Popen([PROGRAM, "sweep", "kept.toml", "--store", "full.store", "--jobs", "1", "--quiet"], cwd=folder)
    time.sleep(0.3)
    run.send_signal(signal.SIGINT)
    run.wait()
    before = rows(folder / "full.store")
    ask(0 < len(before) < 700, f"{len(before)} points before the disk was full: too few or too many for this check")
    limit = 40_000  # less than the log needs for the rest
    run = call(folder, "kept.toml", "--store", "full.store", "--quiet",
               preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit)))
    ask(run.returncode == 4 and "full.store" in run.stderr, f"a full disk ends with {run.returncode}: {run.stderr}")
    with sqlite3.connect(folder / "full.store") as db:
        ask(db.execute("PRAGMA integrity_check").fetchone() == ("ok",), "a full disk broke the store")
    there = rows(folder / "full.store")
    ask(len(before) <= len(there) < POINTS, f"{len(before)} points before and {len(there)} after the disk was full")
    ask(set(before) <= set(there) <= set(whole), "a full disk left half a point, or lost one")
    ask(call(folder, "kept.toml", "--store", "full.store", "--quiet").returncode == 0, "it cannot go on after a full disk")
    ask(rows(folder / "full.store") == whole, "after a full disk the store differs")


def what_is_told(folder, whole):
    began = time.monotonic()
    again = call(folder, "kept.toml")
    ask(time.monotonic() - began < 5 and again.returncode == 0, "a finished study is not told at once")
    ask(" failed" in again.stdout and "× 0.50" in again.stdout and "kill" in again.stdout, f"the summary: {again.stdout}")
    table = list(csv.reader(io.StringIO(call(folder, "kept.toml", "--csv", "-").stdout)))
    ask(table[0] == ["point", "minimum fire [kBtu/h]", "loads [× own]", "burner starts", "fuel [therm]", "bath: mean room [degF]",
                     "could not be simulated"] and len(table) == POINTS + 1, f"the CSV's heading: {table[0]}")
    failed = [row for row in table[1:] if row[-1]]
    ask(all(row[3:6] == ["", "", ""] for row in failed) and len(failed) == sum(bool(r[-2]) for r in whole), "failed points of the CSV")
    ask(all("minimum input is above the heating input" in row[-1] for row in failed) and failed, "failed points have no reason")
    si = list(csv.reader(io.StringIO(call(folder, "kept.toml", "--csv", "-", "--units", "si").stdout)))
    ask(si[0][1] == "minimum fire [kW]" and abs(float(si[1][1]) - 8 * 0.29307107) < 1e-5, f"the CSV in SI: {si[0]}, {si[1]}")
    record = json.loads(call(folder, "kept.toml", "--json", "-").stdout)
    ask(record["asked"] == POINTS and record["failed"] == len(failed) and sum(f["points"] for f in record["faults"]) == len(failed),
        "failed points of the JSON")
    told = list(faults(json.loads((ROOT / "sim/record/study.schema.json").read_text()), record))
    ask(not told, f"the JSON does not fit its schema: {told[:3]}")
    ask(len(record["inputs"][0]["W"]) == POINTS - len(failed), "columns of the JSON")
    with sqlite3.connect(folder / "kept.store") as db:
        first = db.execute('SELECT "minimum fire [kBtu/h]", "loads [× own]" FROM readable WHERE number = 0').fetchone()
    ask(abs(first[0] - 8) < 1e-9 and abs(first[1] - 0.5) < 1e-9, f"the view: {first}")


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        (folder / "kept.toml").write_text(STUDY)
        run = call(folder, "kept.toml", "--jobs", "1")
        ask(run.returncode == 0, f"a sweep ends with {run.returncode}: {run.stderr}")
        whole = rows(folder / "kept.store")
        ask([row[0] for row in whole] == list(range(POINTS)), "not every point is there once")
        run = call(folder, "kept.toml", "--jobs", "2", "--store", "two_jobs.store")
        ask(rows(folder / "two_jobs.store") == whole, "two threads give other points than one")
        kills = kept(folder, whole)
        interrupted(folder, whole)
        two_at_once(folder)
        of_another(folder, whole)
        full_disk(folder, whole)
        what_is_told(folder, whole)
    print("\n".join(failures) or f"{POINTS} points outlive {kills} kills, a full disk, Ctrl-C and a second process")
    sys.exit(1 if failures else 0)


main()
