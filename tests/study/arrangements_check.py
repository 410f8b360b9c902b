#!/usr/bin/python3
"""`arrangements` from outside: words in both systems of units, JSON, page, any number of threads, and calls that it refuses."""

import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))
from json_schema import faults  # noqa: E402: found by the line above
from units_seen import page_words, strange_headings, strangers  # noqa: E402

PROGRAM = os.environ["STEADYFIRE"]
failures = []


def ask(holds, what):
    if not holds:
        failures.append(what)


def call(folder, *arguments):
    return subprocess.run([PROGRAM, "arrangements", *arguments], cwd=folder, capture_output=True, text=True, timeout=300)


def main():
    folder = pathlib.Path(tempfile.mkdtemp(prefix="steadyfire-arrangements-"))
    shutil.copytree(ROOT / "scenarios", folder / "scenarios")
    lesson = folder / "scenarios/four_zone_house.toml"
    lesson.write_text(lesson.read_text().replace('duration = "1 d"', 'duration = "6 h"'))
    house = "scenarios/four_zone_house.toml"
    schema = json.loads((ROOT / "sim/record/arrangements.schema.json").read_text())

    told = {}
    for units in ("us", "si"):
        ended = call(folder, house, "--units", units, "--json", f"{units}.json", "--report", f"{units}.html", "--jobs", "2")
        ask(ended.returncode == 0, f"it ends well: {ended.stderr}")
        record = told[units] = json.loads((folder / f"{units}.json").read_text())
        wrong = list(faults(schema, record))
        ask(not wrong, f"the JSON does not fit its schema: {wrong[:3]}")
        page = (folder / f"{units}.html").read_text()
        for name, text in (("words", ended.stdout), ("page", page_words(page)), ("JSON", json.dumps(record, ensure_ascii=False))):
            ask(not strangers(text, units), f"{name} in {units}: {strangers(text, units)[:3]}")
        ask(not strange_headings(page_words(page), units), f"headings in {units}")
        ask("can kill" in ended.stdout and "can kill" in page, "the caution is told")
        solved = [r for r in record["rows"] if not r["reason"]]
        ask(page.count("<svg") == len(solved) >= 10, f"a picture for each of {len(solved)} rows, not {page.count('<svg')}")
        names = re.findall(r'id="([^"]*)"', page)
        ask(len(names) == len(set(names)), "two pieces of the page have one id")
        for sentence in record["answer"]:
            ask(sentence in ended.stdout, f"not printed: {sentence}")
        ask(2 <= len(record["answer"]) <= 6, f"{len(record['answer'])} sentences")
    ask([r["starts"] for r in told["us"]["rows"] if "starts" in r] == [r["starts"] for r in told["si"]["rows"] if "starts" in r],
        "the same house in both systems")

    rows = told["us"]["rows"]
    ask(rows[0]["as_now"] and not any(r["as_now"] for r in rows[1:]), "the house as it is now stands first")
    now = json.loads(subprocess.run([PROGRAM, "run", house, "--json", "-"], cwd=folder, capture_output=True, text=True, timeout=300).stdout)
    ask((rows[0]["starts"], rows[0]["fuel_J"]) == (now["burner"]["starts"], now["energy"]["fuel_J"]), "its numbers are those of `run`")
    kinds = {(r["arrangement"], r["distribution"]) for r in rows}
    for arrangement in ("direct", "closely spaced tees", "hydraulic separator", "buffer tank, two pipes", "buffer tank, three pipes",
                        "buffer tank, four pipes"):
        for distribution in ("circulators", "zone valves"):
            ask((arrangement, distribution) in kinds, f"{arrangement} with {distribution} is compared: {kinds}")
    ask(any(r["arrangement"] == "plate exchanger" and r["reason"] for r in rows), "plates are a line with the reason")
    valves = next(r for r in rows if (r["arrangement"], r["distribution"]) == ("closely spaced tees", "zone valves"))
    ask(any("4 × zone valve" in p for p in valves["parts"]) or sum(p.count("zone valve") for p in valves["parts"]) > 0, f"its parts: {valves['parts']}")

    one = call(folder, house, "--json", "one.json", "--jobs", "1", "--quiet")
    ask(one.returncode == 0 and one.stdout == "", f"quiet: {one.stdout}")
    ask((folder / "one.json").read_text() == (folder / "us.json").read_text(), "one thread says the same as two")
    piped = call(folder, house, "--json", "-", "--jobs", "2")
    ask(json.loads(piped.stdout) == told["us"], "JSON alone on standard output")

    for arguments, code, words in (
        ((), 2, "arrangements needs a scenario"),
        (("scenarios/two_loops.toml",), 2, "E241"),
        (("scenarios/nowhere.toml",), 2, "E101"),
        ((house, "--jobs", "0"), 2, "--jobs"),
        ((house, "--units", "metric"), 2, "--units"),
        ((house, "--reprot", "x.html"), 2, "did you mean '--report'"),
        ((house, "--report", "no/such/folder/x.html"), 2, "E108"),
    ):
        ended = call(folder, *arguments)
        ask(ended.returncode == code and words in ended.stderr, f"{arguments}: {ended.returncode} {ended.stderr}")

    shutil.rmtree(folder)
    print("\n".join(failures) or "arrangements are compared alike by any number of threads, in either system of units")
    return bool(failures)


sys.exit(main())
