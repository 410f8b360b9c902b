#!/usr/bin/python3
"""An unknown load from a winter's fuel: UA = fuel·η/degree-days (the degree-day method, ASHRAE Handbook, from memory)."""
import json
import os
import subprocess
import tempfile

scenario = """format = 1
title = "winter"
[site]
outdoor_design = "10 degF"
winter_fuel = "900 therm"
winter_degree_days = "6000 degF.d"
winter_efficiency = "80 %"
heated_area = "2000 ft2"
[boiler]
heating_input = "80 kBtu/h"
minimum_input = "16 kBtu/h"
[[zone]]
name = "a"
design_load = "unknown"
floor_area = "500 ft2"
emitter = { kind = "linear emitter", conductance = "300 Btu/(h.degF)" }
"""
with tempfile.TemporaryDirectory() as folder:
    path = os.path.join(folder, "winter.toml")
    with open(path, "w") as f:
        f.write(scenario)
    run = subprocess.run([os.environ["STEADYFIRE"], "flows", path, "--json", "-"], capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
load = next(a for a in json.loads(run.stdout)["assumptions"] if a["place"] == "a" and a["key"] == "design_load")
by_hand = 900e5 * 0.80 / (6000 * 24) * (70 - 10) * 500 / 2000  # Btu/h: 7500
got = load["value_W"] / (1055.05585262 / 3600)
print(f"design load {got:.1f} Btu/h, by hand {by_hand:.1f}")
raise SystemExit(abs(got - by_hand) > 1e-6 * by_hand)
