#!/usr/bin/python3
"""What `flows --json`, `run --json`, `run --csv` and `check --json` write of every shipped scenario fits the schemas and says its units.

The schemas are written apart from the writers and know no key that they do not name, so either side's slip is told.
"""
import copy
import csv
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

root = pathlib.Path(__file__).resolve().parents[2]
sys.path.append(str(root / "tests"))
from json_schema import faults  # noqa: E402: found by the line above

program = os.environ["STEADYFIRE"]
SCHEMAS = {kind: json.loads((root / f"sim/record/{kind}.schema.json").read_text()) for kind in ("flows", "run", "review")}
HOURS = 2
BANDED = "workshop_slab.toml"  # runs some thirty times within a second

UNIT = re.compile(r"_(W|J|Pa|K|Ks|Kd|degC|m|m3|s|kg|money|m_s|m3_s|kg_m3|W_m|W_K|W_mK|W_m2K|m2K_W|J_K|J_kgK|J_m3K|Pa_s)$")
# Shares, counts and pure numbers. `hours` is its own unit.
PLAIN = {"carbon_dioxide_dry", "oxygen_dry", "water_share",
         "format", "limb", "starts", "starts_per_hour_worst", "starts_by_day", "burns_ended", "events_left_out", "hours", "draws", "draws_left_out",
         "near_stops", "count", "of", "flow_share", "on_target", "never_hot", "cooled", "short_of_flow", "without_burner", "burner_starts",
         "closure", "fire", "heat_share", "efficiency", "reynolds", "friction_factor", "head_gradient"}
PLAIN_FIGURES = {"burns", "failed", "burns_at_high_limit", "starts", "starts_lower", "starts_higher", "reserve_share", "least_share", "clogged", "flow_share", "heat_share", "limit", "reynolds", "starts_per_hour_worst", "starts_limit"}
# Keys of a scenario that take a pure number; a valve's cv is the trade's own number.
PLAIN_ASSUMPTIONS = {"balancing_cv", "cloud", "covered", "cv", "efficiency", "excess_air", "exponent", "flow_exponent", "humidity",
                     "off_draft", "pipes_inside", "power_to_water", "purge_flow",
                     "loss_coefficient", "split", "stirred", "water_side_share"}
# Columns of words and numbers; the unit of band.csv's value differs by row and stands beside it.
PLAIN_COLUMNS = {"place", "what", "why", "zone", "emitter", "key", "end", "value", "value_unit", "starts", "starts_per_hour_worst",
                 "incomplete", "burn", "tap", "burner_fired"}

failures = []


def unitless(value, path=()):
    """Yields the path of each number that has a unit neither on itself nor on a group above it."""
    if isinstance(value, dict):
        key = value.get("key")
        for name, item in value.items():
            plain = name in PLAIN or name == "rows" \
                or (len(path) > 1 and path[-1] in ("figures", "figure", "limit", "at_most", "at_least") and name in PLAIN_FIGURES) \
                or (name in ("value", "least", "most") and (key or path[-1]) in PLAIN_ASSUMPTIONS) \
                or (name == "bins" and path[-1].rpartition("/")[2] in ("fire", "call"))
            if not plain and not UNIT.search(name):
                # an end of a band has its key one level up
                yield from unitless(item, path + ((key,) if key and name in ("low", "high") else (name,)))
    elif isinstance(value, list):
        for item in value:
            yield from unitless(item, path)
    elif isinstance(value, (int, float)) and not isinstance(value, bool):
        yield ".".join(path)


def short(scenario):
    """The scenario's text, to run for HOURS from anywhere."""
    text = scenario.read_text().replace('"weather/', f'"{root}/scenarios/weather/')
    text = re.sub(r"^duration *=.*\n", "", text, flags=re.M)
    new = f'[run]\nduration = "{HOURS} h"\n' + ('start_clock = "6:30"\n' if "[[tap]]" in text else "")  # when a family wakes
    return re.sub(r"^\[run\]\n", new, text, flags=re.M) if re.search(r"^\[run\]$", text, re.M) else text + "\n" + new


def written(folder, command, *more):
    done = subprocess.run([program, command, "s.toml", "--quiet", "--json", "-", *more], cwd=folder, capture_output=True, text=True)
    if done.returncode not in ((0, 1) if command == "check" else (0,)):
        failures.append(f"{command}: exit code {done.returncode}\n{done.stderr}")
        return None
    return json.loads(done.stdout)


def check_json(name, kind, record):
    told = [*faults(SCHEMAS[kind], record, kind), *(f"{path} has no unit" for path in unitless(record))]
    failures.extend(f"{name}: {fault}" for fault in told[:5])


def check_csv(name, folder):
    tables = {file.name: file for file in folder.iterdir()}
    expected = {"series.csv", "events.csv", "zones.csv", "burns.csv"} | ({"band.csv"} if name == BANDED else set())
    if "[[tap]]" in (root / "scenarios" / name).read_text():
        expected.add("draws.csv")
    if tables.keys() != expected:
        failures.append(f"{name}: the tables are {sorted(tables)}")
    for file in tables.values():
        with file.open(newline="") as text:
            header, *rows = csv.reader(text)
        failures.extend(f"{name}, {file.name}: column {column} has no unit" for column in header
                        if not UNIT.search(column) and column not in PLAIN_COLUMNS and not re.search("/(fire|call)$", column))
        if any(len(row) != len(header) for row in rows):
            failures.append(f"{name}, {file.name}: a row is not as long as the header")
        if file.name == "band.csv":
            failures.extend(f"{name}, band.csv: {row[1]} has no unit" for row in rows
                            if not UNIT.search("_" + row[header.index("value_unit")]) and row[1] not in PLAIN_ASSUMPTIONS)


def check_review(name, folder, run):
    review = written(folder, "check")
    if not review:
        return
    check_json(name, "review", review)
    found = {finding["id"] for part in review["parts"] for finding in part["findings"]}
    failures.extend(f"{name}: the review lacks {finding['id']} of the run" for finding in run["findings"] if finding["id"] not in found)
    for part in review["parts"]:
        failures.extend(f"{name}: {part['id']}, {table['id']}: a row is not as long as the columns"
                        for table in part["tables"] if any(len(row) != len(table["columns"]) for row in table["rows"]))


# By sort of record: a part of it, and the keys that the part must have.
PARTS = {"flows": (lambda r: next(iter(r["states"][0]["edges"].values())), "flow_m3_s", ["kind", "zone", "head_loss_m"]),
         "run": (lambda r: next(iter(r["zones"].values())), "heat_J",
                 ["emitter", "room_degC", "overshoot_Ks", "undershoot_Ks", "call_s", "design_load_W"])}


def check_made_faults(kind, record):
    """A key more, a key less, a word for a number, a number without its unit: each must be told."""
    def made(what, told, part, change):
        wrong = copy.deepcopy(record)
        change(part(wrong))
        if not any(told(wrong)):
            failures.append(f"{kind}: a made fault is not told: {what}")

    def fits(wrong):
        return faults(SCHEMAS[kind], wrong)

    part, leaf, others = PARTS[kind]
    every = {"flows": ["format", "title", "fluid", "states", "findings", "assumptions"], "run": list(record)}[kind]
    for of, keys in (lambda r: r, every), (part, [leaf, *others]), (lambda r: r["assumptions"][0], list(record["assumptions"][0])):
        made("a key more", fits, of, lambda p: p.update(more=1))
        for key in keys:
            made(f"no {key}", fits, of, lambda p: p.pop(key))
    made("format 2", fits, lambda r: r, lambda p: p.update(format=2))
    made("a word for a number", fits, part, lambda p: p.update({leaf: "1"}))
    made("a key without its unit", unitless, part, lambda p: p.update({leaf.partition("_")[0]: p.pop(leaf)}))


def main():
    for part in "findings", "assumptions":
        if not SCHEMAS["flows"]["$defs"][part] == SCHEMAS["run"]["$defs"][part] == SCHEMAS["review"]["$defs"][part]:
            failures.append(f"the schemas differ in {part}")
    runs = 0
    scenarios = sorted((root / "scenarios").glob("*.toml"))
    for scenario in scenarios:
        with tempfile.TemporaryDirectory() as name:
            folder = pathlib.Path(name)
            is_house = re.search(r"^\[boiler\]", scenario.read_text(), re.M)
            (folder / "s.toml").write_text(short(scenario) if is_house else scenario.read_text())
            flows = written(folder, "flows")
            if flows:
                check_json(scenario.name, "flows", flows)
            if not is_house:  # a bare network has no time to run through
                continue
            run = written(folder, "run", "--csv", "tables", *(["--band"] if scenario.name == BANDED else []))
            if run:
                runs += 1
                check_json(scenario.name, "run", run)
                check_csv(scenario.name, folder / "tables")
                check_review(scenario.name, folder, run)
                if run["duration_s"] != HOURS * 3600:
                    failures.append(f"{scenario.name}: ran for {run['duration_s']} s")
            if scenario.name == BANDED and flows and run:
                if not run["band"]:
                    failures.append(f"{BANDED}: no band")
                check_made_faults("flows", flows)
                check_made_faults("run", run)
    print("\n".join(failures) or f"{len(scenarios)} records of flows and {runs} of runs and reviews fit their schemas and say their units")
    sys.exit(1 if failures else 0)


main()
