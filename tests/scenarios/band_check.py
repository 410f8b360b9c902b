#!/usr/bin/python3
"""What an assumption does to the answer is what stating its value does; air stays only where water falls slowly.

The band of `run --band` and of `flows` is held against scenarios that state the end of a range outright.
Speeds of water follow from the inflow and the bore alone.
"""

import json
import math
import os
import pathlib
import subprocess
import sys
import tempfile

HOUSE = """format = 1
title = "one zone"
[site]
outdoor_design = "5 degF"
ground = "52 degF"
unheated_space = "60 degF"
[boiler]
heating_input = "60 kBtu/h"
minimum_input = "15 kBtu/h"
excess_air = "25 %"
approach_full_fire = "18 degF"
approach_low_fire = "5 degF"
prepurge = "15 s"
ignition_hold = "6 s"
postpurge = "30 s"
off_differential = "9 degF"
on_differential = "9 degF"
{water}
metal = "5 Btu/degF"
jacket_loss = "2 Btu/(h.degF)"
purge_flow = "50 %"
off_draft = "0.5 %"
condensate_held = "0.02 gal"
power_to_water = "40 %"
{boiler_loss}
least_flow = "1 gpm"
power_firing = "60 W"
power_standby = "6 W"
[near_boiler]
arrangement = "direct"
[[zone]]
name = "hall"
design_load = "20 kBtu/h"
floor_area = "800 ft2"
design_drop = "20 degF"
emitter = {{ kind = "panel radiator", output = "22 kBtu/h", exponent = 1.3, cv = 2.5 }}
circulator = {{ duty = "small", efficiency = "25 %", power_to_water = "80 %" }}
supply_temperature = "160 degF"
pipes_inside = "100 %"
[run]
duration = "0.25 d"
"""
RUN = """format = 1
title = "a run"
[[joint]]
name = "a"
inflow = "{flow} m3/s"
[[joint]]
name = "b"
head = "0 m"
[[pipe]]
name = "down"
from = "a"
to = "b"
length = "10 ft"
diameter = "20 mm"
{keys}
"""
BORE = math.pi / 4 * 0.020**2  # [m2]


def answer(program, folder, text, *arguments):
    (folder / "s.toml").write_text(text)
    run = subprocess.run([program, arguments[0], "s.toml", *arguments[1:], "--json", "-"], cwd=folder, capture_output=True, text=True)
    if run.returncode != 0:
        sys.exit(f"exit code {run.returncode}\n{run.stderr}")
    return json.loads(run.stdout)


def check_band(program, folder, complain):
    record = answer(program, folder, HOUSE.format(water="", boiler_loss=""), "run", "--band")
    if answer(program, folder, HOUSE.format(water="", boiler_loss=""), "run", "--band")["band"] != record["band"]:
        complain("the band is not the same twice")
    told = [(b["place"], b["key"]) for b in record["band"]]
    ranged = [(a["place"], a["key"]) for a in record["assumptions"]]
    if told != ranged or sorted(told) != [("boiler", "rated_head_loss"), ("boiler", "water_content")]:
        complain(f"bands of {told}, assumptions {ranged}")
    band = next(b for b in record["band"] if b["key"] == "water_content")
    moved = 0
    for end, gallons in ("low", 0.3), ("high", 3):
        stated = answer(program, folder, HOUSE.format(water=f'water_content = "{gallons} gal"', boiler_loss=""), "run")
        want = {
            "starts": stated["burner"]["starts"],
            "starts_per_hour_worst": stated["burner"]["starts_per_hour_worst"],
            "burn_median_s": stated["burner"]["burn_s"]["median"],
            "coldest_room_degC": stated["zones"]["hall"]["room_degC"]["mean"],
            "fuel_J": stated["energy"]["fuel_J"],
        }
        got = {key: band[end][key] for key in want}
        # the stated text and the range come to SI by different roundings
        if any(not math.isclose(got[k], want[k], rel_tol=1e-5) for k in want):
            complain(f"water content at its {end} end gives {got}, stated outright {want}")
        moved += got["fuel_J"] != record["energy"]["fuel_J"]
    if moved != 2:
        complain("an end of the band is the middle")


def check_flow_band(program, folder, complain):
    record = answer(program, folder, HOUSE.format(water="", boiler_loss=""), "flows")
    band = next(b for b in record["band"]["ends"] if b["key"] == "rated_head_loss")
    for end, feet in ("low", 2), ("high", 14):
        stated = answer(program, folder, HOUSE.format(water="", boiler_loss=f'rated_head_loss = "{feet} ft"'), "flows")
        got, want = (z["hall"]["flow_m3_s"] for z in (band[end]["zones"], stated["states"][0]["zones"]))
        if not math.isclose(got, want, rel_tol=1e-9):
            complain(f"flow with the boiler's head loss at its {end} end is {got}, stated outright {want}")
    if not band["low"]["zones"]["hall"]["flow_m3_s"] > band["high"]["zones"]["hall"]["flow_m3_s"]:
        complain("more head loss does not lessen the flow")


def check_slow_runs(program, folder, complain):
    for speed, keys, slow in [
        (0.5, "", False),
        (0.5, 'drop = "8 ft"', True),
        (0.7, 'drop = "8 ft"', False),
        (0.5, 'drop = "-8 ft"', False),  # it rises
        (-0.5, 'drop = "-8 ft"', True),  # but not for water that runs the other way
        (0.5, "purgeable = false", True),
        (0.7, "purgeable = false", False),
        (0, "purgeable = false", False),
    ]:
        record = answer(program, folder, RUN.format(flow=speed * BORE, keys=keys), "flows")
        found = [f for f in record["findings"] if f["id"] == "pipe.slow"]
        if bool(found) != slow or any(f["place"] != "down" or f["weight"] != "note" for f in found):
            complain(f"at {speed} m/s with {keys or 'no drop'}: {found}")
        if found and not math.isclose(found[0]["figures"]["velocity_m_s"], abs(speed), rel_tol=1e-6):
            complain(f"speed {found[0]['figures']}, not {speed} m/s")
    heights = RUN.replace('name = "a"\n', 'name = "a"\nheight = "8 ft"\n', 1)
    record = answer(program, folder, heights.format(flow=0.5 * BORE, keys=""), "flows")
    if [f["id"] for f in record["findings"]] != ["pipe.slow"]:
        complain(f"between joints of different heights: {record['findings']}")


def main():
    program = os.environ.get("STEADYFIRE")
    if not program:
        sys.exit("set STEADYFIRE to the program")
    program = str(pathlib.Path(program).resolve())
    failures = []
    with tempfile.TemporaryDirectory() as folder:
        for check in check_band, check_flow_band, check_slow_runs:
            check(program, pathlib.Path(folder), failures.append)
    print("\n".join(failures) or "the band is what stating the ends gives; slow runs are told where they fall")
    sys.exit(1 if failures else 0)


main()
