"""Houses by chance (random_houses.py): `flows`, `run` of a day and `check` end well on each, and what they write is what the schemas say.

COUNT and FIRST choose others; what fails is kept in $KEEP if that is set. House 7, with six circulators by temperature difference,
takes a minute: it is for the long check.
"""
import json
import math
import os
import re
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

here = Path(__file__).resolve()
sys.path[:0] = [str(here.parent), str(here.parents[1])]
import json_schema
from random_houses import house

steadyfire = os.environ["STEADYFIRE"]
longest = 120  # [s] of one command, on a machine that does much else
COMMANDS = {"flows": ("flows", {0}), "run": ("run", {0}), "check": ("review", {0, 1})}  # its schema, its exit codes
SCHEMAS = {name: json.loads((here.parents[2] / f"sim/record/{name}.schema.json").read_text()) for name, _ in COMMANDS.values()}


def refuse(number):
    raise ValueError(f"{number} is no number of JSON")


def fault_of(command, path):
    schema, codes = COMMANDS[command]
    out = path.with_suffix(f".{command}.json")
    try:
        ran = subprocess.run([steadyfire, command, path, "--json", out], capture_output=True, text=True, timeout=longest)
    except subprocess.TimeoutExpired:
        return f"takes longer than {longest} s"
    if ran.returncode not in codes:
        return f"exit code {ran.returncode}: {(ran.stderr or ran.stdout).strip()[:600]}"
    if bad := re.search(r"[^\n]*(\b-?(nan|inf)\b|-\d+% more)[^\n]*", ran.stdout):
        return f"tells '{bad[0].strip()}'"
    try:
        record = json.loads(out.read_text(), parse_constant=refuse)
    except ValueError as e:
        return str(e)
    if faults := list(json_schema.faults(SCHEMAS[schema], record)):
        return f"not as {schema}.schema.json says: {faults[0]}"
    return ""


def faults_of(seed, snow, folder):
    path = folder / f"{'snow' if snow else 'house'}_{seed}.toml"
    path.write_text(house(seed, snow))
    found = [f"{path.name}, {command}: {fault}" for command in COMMANDS if (fault := fault_of(command, path))]
    if found and os.environ.get("KEEP"):
        (Path(os.environ["KEEP"]) / path.name).write_text(path.read_text())
    return found


TOLD_NONSENSE = [56, 71]  # an emitter without flow, short by "inf% more"; one with enough, but colder rooms beside it: "-21% more"


def main(count, snowy, first=0):
    first = int(os.environ.get("FIRST", first))
    count = int(os.environ.get("COUNT", count))
    began = time.time()
    if house(first) != house(first) or house(first) == house(first + 1):
        sys.exit("a seed does not decide its house")
    with tempfile.TemporaryDirectory() as temporary, ThreadPoolExecutor(2) as pool:
        jobs = [(seed, snow) for snow, many in ((False, count), (True, snowy)) for seed in range(first, first + many)]
        jobs += [(seed, False) for seed in TOLD_NONSENSE]
        faults = [f for found in pool.map(lambda job: faults_of(*job, Path(temporary)), jobs) for f in found]
    if faults:
        sys.exit("\n".join(faults))
    print(f"{len(jobs)} houses in {time.time() - began:.0f} s")


if __name__ == "__main__":
    main(4, 2, first=8)
