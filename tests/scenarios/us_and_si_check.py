"""The same house in US and in SI units gives the same plan: the same pieces and counts, numbers within 1e-9.

Every shipped scenario is written once more with each value converted exactly (NIST SP 811), its lines, joints and names as they are.
A slab of 900 ft² is added, whose loops are a whole number of the longest: what a rounding error would decide.
"""
import json
import os
import re
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal
from pathlib import Path

root = Path(__file__).resolve().parents[2]
steadyfire = os.environ["STEADYFIRE"]
btu = Decimal("1055.05585262")
UNITS = {  # trade's unit: what it is called in SI, and how many
    "ft": ("m", Decimal("0.3048")), "in": ("mm", Decimal("25.4")), "ft2": ("m2", Decimal("0.09290304")),
    "gal": ("L", Decimal("3.785411784")), "gpm": ("L/min", Decimal("3.785411784")), "psi": ("Pa", Decimal("6894.757293168361")),
    "kBtu/h": ("W", btu / Decimal(3600) * 1000), "Btu/h": ("W", btu / Decimal(3600)), "ft3": ("m3", Decimal("0.028316846592")),
    "in/h": ("mm/h", Decimal("25.4")), "mph": ("m/s", Decimal("0.44704")), "cfm": ("m3/s", Decimal("0.028316846592") / 60),
    "Btu/h/degF": ("W/K", btu / Decimal(2000)), "Btu/degF": ("J/K", btu * Decimal("1.8")),
}
WORD = re.compile(r'([\w]+)\s*=|"([^"\n]*)"|#.*')
VALUE = re.compile(r"(-?[\d.]+) (\S+)")


def differences():
    """Keys whose degF is a difference, by the reference page."""
    page = subprocess.run([steadyfire, "reference"], capture_output=True, text=True, check=True).stdout
    found = {"difference": set(), "point": set()}
    for key, what in re.findall(r"^\| `(\w+)` \| (?:list, each )?a temperature( difference)? \(", page, re.M):
        found["difference" if what else "point"].add(key)
    return found["difference"], found["point"]


def in_si(text, difference, both):
    key = ""

    def one(found):
        nonlocal key
        if found[1]:
            key = found[1]
            return found[0]
        value = VALUE.fullmatch(found[2] or "")
        if not value:
            return found[0]
        number, unit = Decimal(value[1]), value[2]
        if unit == "degF" and key not in both:
            if key in difference:
                return f'"{number / Decimal("1.8"):.25g} K"'
            return f'"{(number - 32) / Decimal("1.8"):.25g} degC"'
        if unit in UNITS:
            return f'"{number * UNITS[unit][1]:.25g} {UNITS[unit][0]}"'
        return found[0]

    return WORD.sub(one, text)


def differ(a, b, where=""):
    if type(a) is not type(b) and not (isinstance(a, (int, float)) and isinstance(b, (int, float))):
        yield f"{where}: {a} and {b}"
    elif isinstance(a, dict):
        if a.keys() != b.keys():
            yield f"{where}: keys {sorted(a.keys() ^ b.keys())}"
        for key in a.keys() & b.keys():
            yield from differ(a[key], b[key], f"{where}.{key}")
    elif isinstance(a, (list, tuple)):
        if len(a) != len(b):
            yield f"{where}: {len(a)} and {len(b)}"
        for k, (x, y) in enumerate(zip(a, b)):
            yield from differ(x, y, f"{where}[{k}]")
    elif isinstance(a, (int, float)) and not isinstance(a, bool):
        if abs(a - b) > 1e-9 * max(abs(a), abs(b)) + 1e-12:
            yield f"{where}: {a} and {b}"
    elif a != b:
        yield f"{where}: {a} and {b}"


def shortened(text):
    """Its run begins, no more."""
    text = re.sub(r"^duration = .*\n", "", text, flags=re.M)
    start = 'duration = "2 min"\n'
    return text.replace("[run]\n", "[run]\n" + start) if "[run]\n" in text else text + "\n[run]\n" + start


def plan(folder, name, text):
    path, out = folder / f"{name}.toml", folder / f"{name}.json"
    path.write_text(text)
    run = subprocess.run([steadyfire, "run", path, "--quiet", "--plan", out], capture_output=True, text=True)
    if run.returncode != 0 or not out.exists():
        return f"exit code {run.returncode}: {run.stderr}"
    plan = json.loads(out.read_text())
    first = plan.pop("intervals")[0]  # later ones begin at events, which a rounding error moves
    flows = path.with_suffix(".flows.json")
    subprocess.run([steadyfire, "flows", path, "--quiet", "--json", flows], check=True)
    states = json.loads(flows.read_text())["states"]
    return plan, {key: first[key] for key in first if key not in ("end_s", "end")}, states


def check(name, text, folder, keys):
    us, si = plan(folder, name + "_us", text), plan(folder, name + "_si", in_si(text, *keys))
    if isinstance(us, str) or isinstance(si, str):
        return [f"{name}: {us if isinstance(us, str) else si}"]
    return [f"{name}{fault}" for fault in list(differ(us, si))[:5]]


difference, point = differences()
keys = difference, difference & point
texts = {file.stem: shortened(file.read_text()) for file in sorted((root / "scenarios").glob("*.toml"))}
house = '''format = 1
title = "A floor"
[boiler]
heating_input = "60 kBtu/h"
minimum_input = "10 kBtu/h"
[near_boiler]
arrangement = "closely spaced tees"
[[zone]]
name = "floor"
design_load = "20 kBtu/h"
floor_area = "900 ft2"
emitter = { kind = "radiant slab" }
circulator = {}
'''
del texts["two_loops"]  # a network without boiler, which does not run
texts |= {f"floor_of_{ft2}": shortened(house.replace("900", str(ft2))) for ft2 in (225, 450, 675, 900, 1125, 1350)}
faults = []
with tempfile.TemporaryDirectory() as temporary:
    folder = Path(temporary)
    for side in ("weather", "logs"):
        (folder / side).symlink_to(root / "scenarios" / side)
    with ThreadPoolExecutor(2) as pool:
        for found in pool.map(lambda item: check(*item, folder, keys), texts.items()):
            faults += found
if list(differ({"a": [1.0]}, {"a": [1.0 + 1e-8]})) == []:
    faults.append("the comparison cannot fail")
if faults:
    sys.exit("\n".join(faults))
print(f"{len(texts)} houses have the same plan in either system of units")
