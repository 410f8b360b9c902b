#!/usr/bin/python3
"""`advise` from outside: words, JSON, the scenario that it writes, and calls that it refuses."""

import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))
from json_schema import faults  # noqa: E402: found by the line above

PROGRAM = os.environ["STEADYFIRE"]
failures = []


def ask(holds, what):
    if not holds:
        failures.append(what)


def call(folder, *arguments):
    return subprocess.run([PROGRAM, *arguments], cwd=folder, capture_output=True, text=True, timeout=300)


def main():
    folder = pathlib.Path(tempfile.mkdtemp(prefix="steadyfire-advise-"))
    shutil.copytree(ROOT / "scenarios", folder / "scenarios")
    slab, cold = "scenarios/workshop_slab_gains.toml", "scenarios/four_zone_house.toml"
    ended = call(folder, "advise", cold, "--write", "scenarios/mended.toml", "--json", "advice.json")
    ask(ended.returncode == 0, f"it ends well: {ended.stderr}")
    ask("What is wrong:\n  studio: " in ended.stdout and "Recommended (" in ended.stdout, f"its words:\n{ended.stdout}")
    ask("can kill" in ended.stdout, "the caution is told")
    advice = json.loads((folder / "advice.json").read_text())
    told = list(faults(json.loads((ROOT / "sim/record/advice.schema.json").read_text()), advice))
    ask(not told, f"the JSON does not fit its schema: {told[:3]}")
    ask(advice["advice"]["effect"] > 0 and advice["troubles"][0]["place"] == "studio", "its JSON")

    # What it promises is what an ordinary run of the written scenario shows, and comments are kept.
    before = json.loads(call(folder, "run", cold, "--json", "-").stdout)
    after = json.loads(call(folder, "run", "scenarios/mended.toml", "--json", "-").stdout)
    short = [r["zones"]["studio"]["undershoot_Ks"] for r in (before, after)]
    ask(short[1] < short[0] / 2, f"the studio is less cold: {short}")
    comment = (folder / cold).read_text().splitlines()[0]
    ask(comment.startswith("#") and comment in (folder / "scenarios/mended.toml").read_text(), "comments are kept")

    # Sun on a slab that is warm already: each curve that is cooler leaves the nights too cold, and that is said.
    ended = call(folder, "advise", slab)
    ask("too warm" in ended.stdout and "No change tried helps without making something else worse" in ended.stdout and
        "too cold after warm-up" in ended.stdout and "shading" in ended.stdout, f"a slab in the sun:\n{ended.stdout}")

    si = call(folder, "advise", slab, "--units", "si").stdout
    ask("°C" in si and "°F" not in si, f"words in SI:\n{si}")
    well = call(folder, "advise", "scenarios/workshop_slab.toml")
    ask(well.returncode == 0 and "Nothing to fix" in well.stdout, f"a healthy house:\n{well.stdout}")
    job = call(folder, "advise", "scenarios/whole_job.toml", "--jobs", "2")
    ask("not simulated here" in job.stdout and "exhaust" in job.stdout, f"what the review finds is listed:\n{job.stdout}")

    # Hotter water and a tank would mend the burner, and overheat the vent: what is advised passes the review as the house did.
    hazard = (folder / "scenarios/oversized_burner.toml").read_text().replace("[controls]", """[vent]
system = "two pipes"
material = "PVC"
material_limit = "170 degF"
diameter = "4 in"
exhaust = { length = "12 ft", elbows = 2, terminations = 1, longest = "100 ft", shortest = "5 ft" }
intake = { length = "12 ft", elbows = 2, terminations = 1, longest = "100 ft", shortest = "5 ft" }

[[expansion_tank]]
name = "tank"
joint = "return tee"
volume = "2 gal"

[controls]""")
    (folder / "scenarios/hazard.toml").write_text(hazard)

    def serious(file):
        review = json.loads(call(folder, "check", file, "--json", "-").stdout)
        return {(f["id"], f["place"]) for p in review["parts"] for f in p["findings"] if f["weight"] == "serious"}

    ended = call(folder, "advise", "scenarios/hazard.toml", "--write", "scenarios/hazard_mended.toml")
    ask(ended.returncode == 0, ended.stderr)
    new = serious("scenarios/hazard_mended.toml") - serious("scenarios/hazard.toml")
    ask(not new or "new finding: " in ended.stdout, f"a new hazard is told: {new}\n{ended.stdout}")
    ask("new finding: " in ended.stdout or not any(i.startswith("vent.") for i, _ in new), f"no vent gets too hot: {new}")

    for arguments, code, words in (
        ((cold, "--write", "scenarios/mended.toml"), 2, "E242"),
        (("scenarios/two_loops.toml",), 2, "E241"),
        (("scenarios/nowhere.toml",), 2, "E101"),
        ((slab, "--jobs", "0"), 2, "--jobs"),
        ((slab, "--write", "no/such/folder/x.toml"), 2, "no/such/folder"),
    ):
        ended = call(folder, "advise", *arguments)
        ask(ended.returncode == code and words in ended.stderr, f"{arguments}: {ended.returncode} {ended.stderr}")

    shutil.rmtree(folder)
    print("\n".join(failures) or "advice holds when it is followed")
    return bool(failures)


sys.exit(main())
