"""A combination of calls that has no rest is told by flows, and the others stand.

A process that draws its heat whatever the water's temperature cools water that no boiler warms without end.
"""
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

HOUSE = '''format = 1
title = "A process beside rooms"
[boiler]
heating_input = "60 kBtu/h"
minimum_input = "12 kBtu/h"
[near_boiler]
arrangement = "closely spaced tees"
circulator = { duty = "medium" }
[[zone]]
name = "rooms"
design_load = "15 kBtu/h"
floor_area = "700 ft2"
emitter = { kind = "panel radiator", output = "20 kBtu/h" }
circulator = {}
[[zone]]
name = "process"
design_load = "15 kBtu/h"
floor_area = "700 ft2"
emitter = { kind = "heat draw", power = "10000000 Btu/h" }
circulator = {}
'''
with tempfile.TemporaryDirectory() as folder:
    scenario, out = Path(folder) / "house.toml", Path(folder) / "flows.json"
    scenario.write_text(HOUSE)
    ran = subprocess.run([os.environ["STEADYFIRE"], "flows", scenario, "--json", out], capture_output=True, text=True)
    if ran.returncode != 0 or "[flows.not_solved]" not in ran.stdout:
        sys.exit(f"exit code {ran.returncode}: {ran.stderr or ran.stdout}")
    record = json.loads(out.read_text())
if [(u["calls"], u["error"]) for u in record["unsolved"]] != [(["rooms"], "E413")]:
    sys.exit(f"unsolved: {record['unsolved']}")
if [s["calls"] for s in record["states"]] != [["process"], ["rooms", "process"]]:
    sys.exit("the other combinations do not stand")
