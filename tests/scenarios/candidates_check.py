#!/usr/bin/python3
"""`check` runs the house with each [[candidate]] as `run` does with that boiler, and says what an equal minimum fire means."""

import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ["STEADYFIRE"]
HOURS = 6
CANDIDATES = {"same fire": (90, 38), "deep": (90, 9), "weak": (40, 9)}
failures = []


def ask(holds, what):
    if not holds:
        failures.append(what)


def written(folder, command, text):
    (folder / "s.toml").write_text(text)
    done = subprocess.run([PROGRAM, command, "s.toml", "--quiet", "--json", "-"], cwd=folder, capture_output=True, text=True)
    ask(done.returncode == (1 if command == "check" else 0), f"{command} ends with {done.returncode}: {done.stderr}")
    return json.loads(done.stdout)


house = (ROOT / "scenarios/oversized_burner.toml").read_text().replace('"weather/', f'"{ROOT}/scenarios/weather/')
house = re.sub(r"^duration *=.*", f'duration = "{HOURS} h"', house, flags=re.M)
with tempfile.TemporaryDirectory() as name:
    folder = pathlib.Path(name)
    tables = "".join(f'\n[[candidate]]\nname = "{n}"\nheating_input = "{most} kBtu/h"\nminimum_input = "{least} kBtu/h"\n'
                     for n, (most, least) in CANDIDATES.items())
    part = next(p for p in written(folder, "check", house + tables)["parts"] if p["id"] == "size")
    table = next(t for t in part["tables"] if t["id"] == "sizes")
    column = {c: i for i, c in enumerate(table["columns"])}
    for row in table["rows"]:
        if row[0] not in CANDIDATES:
            continue
        most, least = CANDIDATES[row[0]]
        alone = re.sub(r"^heating_input *=.*", f'heating_input = "{most} kBtu/h"', house, count=1, flags=re.M)
        alone = re.sub(r"^minimum_input *=.*", f'minimum_input = "{least} kBtu/h"', alone, count=1, flags=re.M)
        run = written(folder, "run", alone)
        ask(row[column["starts"]] == run["burner"]["starts"], f"{row[0]}: {row[column['starts']]} starts, alone {run['burner']['starts']}")
        ask(row[column["fuel"]]["J"] == run["energy"]["fuel_J"], f"{row[0]}: fuel differs from the run alone")
    ask(len(table["rows"]) == 1 + len(CANDIDATES), "a row for each size")
    # Equal minimum fires: burns at the lowest fire are equal whatever the rating (a trade fact, common practice, no source).
    said = " ".join(part["sentences"])
    ask("'as stated' and 'same fire' have the same minimum fire" in said, f"equal minimum fires are not told: {said}")
    ask("Too small: 'weak'" in said, f"a size too small is not told: {said}")
    small = {row[0]: row[column["smallest zone's burn"]] for row in table["rows"]}
    ask(small["as stated"] == small["same fire"] != small["deep"], f"burns of the smallest zone: {small}")

print("\n".join(failures) or f"{len(CANDIDATES)} candidates run as they do alone")
sys.exit(1 if failures else 0)
