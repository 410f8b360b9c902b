"""A combination of calls that has no rest is told by flows, run and check, and the rest stands.

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
    for command, code in (("run", 0), ("check", 1)):  # check finds much else
        ran = subprocess.run([os.environ["STEADYFIRE"], command, scenario, "--json", out], capture_output=True, text=True)
        told = json.loads(out.read_text()) if ran.returncode == code else {}
        told = told.get("findings") or [f for part in told.get("parts", []) for f in part["findings"]]
        ids = [f["id"] for f in told]
        if ids.count("flows.not_solved") != 1 or "room.too_cold" not in ids:
            sys.exit(f"{command}, exit code {ran.returncode}: {ids or ran.stderr}")
if [(u["calls"], u["error"]) for u in record["unsolved"]] != [(["rooms"], "E413")]:
    sys.exit(f"unsolved: {record['unsolved']}")
if [s["calls"] for s in record["states"]] != [["process"], ["rooms", "process"]]:
    sys.exit("the other combinations do not stand")
