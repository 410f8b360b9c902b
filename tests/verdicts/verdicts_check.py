#!/usr/bin/python3
"""Small jobs, each with the verdict that a master of the trade would give, and the sum behind it.

Each jobs_*.py beside this file lists JOBS; a job is a dictionary:

    name      what the job is, in a few words
    master    what a master of the trade would say to this house
    sum       the arithmetic behind it; a rule of thumb says that it is one
    house     the scenario's text; or `scenario`, a shipped one, with `edit`, pairs of old and new text
    files     other files beside it, {name: text}
    asks      one or more questions to the program:
        command   as on the command line; HOUSE stands for the scenario
        finds     [(finding, place, severity), …] that must be there; None for any place or severity
        lacks     [finding or (finding, place), …] that must not
        says      patterns that the printed words must match (re, spaces of any length)
        never     patterns that they must not
        exit      the exit code; unless said 0, or of `check` 1 too, where another subject of the house is at fault
        figures   [(path in the record, least, most), …], SI as in JSON

Every verdict is looked for in what a user reads: printed words, and the findings of --json.
"""
import concurrent.futures
import glob
import importlib.util
import json
import os
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[1]
PROGRAM = os.path.abspath(os.environ.get("STEADYFIRE") or sys.exit("set STEADYFIRE to the program"))
ONLY = re.compile(os.environ.get("ONLY", ""))  # ONLY=slab: the jobs whose name has it


def jobs():
    for path in sorted(glob.glob(str(HERE / "jobs_*.py"))):
        spec = importlib.util.spec_from_file_location(pathlib.Path(path).stem, path)
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        yield from module.JOBS


def text_of(job):
    if "house" in job:
        return job["house"]
    text = (ROOT / "scenarios" / job["scenario"]).read_text()
    for old, new in job.get("edit", []):
        assert text.count(old) == 1, f"{job['name']}: {old!r} stands {text.count(old)} times in {job['scenario']}"
        text = text.replace(old, new)
    return text


def findings_in(record):
    if isinstance(record, dict):
        if "id" in record and "weight" in record:
            yield record
        else:
            for value in record.values():
                yield from findings_in(value)
    elif isinstance(record, list):
        for value in record:
            yield from findings_in(value)


def at(record, path):
    """None where the record has nothing there."""
    for key in path.split("."):
        if isinstance(record, list):
            record = record[int(key)] if abs(int(key)) < len(record) + (int(key) < 0) else None
        else:
            record = record.get(key) if isinstance(record, dict) else None
    return record


def matches(finding, wanted):
    wanted = (wanted,) if isinstance(wanted, str) else wanted
    return all(w is None or w == finding[key] for w, key in zip(wanted, ("id", "place", "weight")))


def answer(job, ask, folder):
    """What is wrong with the answer, a line each."""
    command = [str(pathlib.Path(folder) / "house.toml") if w == "HOUSE" else w for w in shlex.split(ask["command"])]
    asks_record = any(k in ask for k in ("finds", "lacks", "figures"))
    record_file = str(pathlib.Path(folder) / "record.json")
    if asks_record:
        command += ["--json", record_file]
    run = subprocess.run([PROGRAM, *command], cwd=folder, capture_output=True, text=True, timeout=600)
    words = re.sub(r"\s+", " ", run.stdout + run.stderr)
    faults = []
    allowed = [ask["exit"]] if "exit" in ask else [0, 1] if command[0] == "check" else [0]
    if run.returncode not in allowed:
        faults.append(f"exit code {run.returncode}, not {allowed[0]}: {run.stderr[-300:]}")
    for pattern in ask.get("says", []):
        if not re.search(pattern, words):
            faults.append(f"does not say: {pattern}")
    for pattern in ask.get("never", []):
        if found := re.search(pattern, words):
            faults.append(f"says: …{words[max(0, found.start() - 60):found.end() + 60]}…")
    if asks_record and os.path.exists(record_file):
        record = json.loads(pathlib.Path(record_file).read_text())
        found = list(findings_in(record))
        for wanted in ask.get("finds", []):
            if not any(matches(f, wanted) for f in found):
                faults.append(f"does not find {wanted}, only " + ", ".join(sorted({f"{f['id']} ({f['place']}, {f['weight']})" for f in found})))
        for unwanted in ask.get("lacks", []):
            faults += [f"finds {f['id']} at {f['place']}: {f['words']}" for f in found if matches(f, unwanted)]
        for path, least, most in ask.get("figures", []):
            value = at(record, path)
            if not (value is not None and least <= value <= most):
                faults.append(f"{path} is {value}, not {least} to {most}")
    elif asks_record:
        faults.append("no record was written")
    return faults


def judge(job):
    with tempfile.TemporaryDirectory() as folder:
        (pathlib.Path(folder) / "weather").symlink_to(ROOT / "scenarios" / "weather")
        (pathlib.Path(folder) / "house.toml").write_text(text_of(job))
        for name, text in job.get("files", {}).items():
            (pathlib.Path(folder) / name).write_text(text)
        return [f"{ask['command']}: {fault}" for ask in job["asks"] for fault in answer(job, ask, folder)]


chosen = [j for j in jobs() if ONLY.search(j["name"])]
assert chosen, "no job of this name"
names = [j["name"] for j in chosen]
assert len(set(names)) == len(names), "two jobs of one name"
wrong = 0
with concurrent.futures.ThreadPoolExecutor(max_workers=2) as pool:
    for job, faults in zip(chosen, pool.map(judge, chosen)):
        wrong += bool(faults)
        print(("FAIL " if faults else "ok   ") + job["name"])
        for fault in faults:
            print("     " + fault)
        if faults:
            print(f"     the master says: {job['master']}\n     as: {job['sum']}")
print(f"{len(chosen)} jobs, {wrong} judged otherwise than by a master of the trade")
sys.exit(1 if wrong else 0)
