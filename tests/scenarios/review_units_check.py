#!/usr/bin/python3
"""The whole review speaks one system of units: in SI no US unit stands behind a number, in US no SI unit."""

import os
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ["STEADYFIRE"]
SCENARIOS = ("whole_job", "combi_family")
# "W", "kWh", "%", hours and the like belong to both. A trade size names a pipe or tube and is no length.
SIZE = r"\b\d[\d/. ]* in (?=copper|steel|PEX|CPVC|PVC|cast|inside|around)"
UNITS = {
    "si": r"°F|ft|ft/s|ft²|ft3|in|in2|in\. w\.c\.|gpm|gal|psi|kBtu/h|Btu/h|kBtu|Btu|therms?|cfh|lb/h|lb|degF|inH2O",
    "us": r"°C|K|m|m/s|m²|m³|m3|mm|cm2|cm²|L|L/s|m³/h|kPa|Pa|bar|mbar|kW|kJ|MJ/m3|kg|kg/h|degC",
}
failures = []


def strangers(text, system):
    """Numbers of `text` with a unit of the other system, each with what surrounds it."""
    plain = re.sub(SIZE, "", text)
    found = re.finditer(rf"(?<![\w.])[-+]?\d[\d.]*[  ](?:{UNITS[system]})(?![\w/])", plain)
    return [plain[max(0, m.start() - 50):m.end() + 20].replace("\n", " ") for m in found]


# the rule itself, tried on what it must see and what it must let pass
assert strangers("flow 1.7 gpm, limit", "si") and strangers("head 4.05 m (limit", "us") and strangers("to 180 °F.", "si")
assert not strangers("3/4 in copper M, 0.107 L/s", "si") and not strangers("4.2 ft/s at 12.0 psi, 80 W, 3 min", "us")

for name in SCENARIOS:
    for system in ("us", "si"):
        done = subprocess.run([PROGRAM, "check", f"scenarios/{name}.toml", "--all", "--units", system], cwd=ROOT, capture_output=True, text=True)
        if done.returncode not in (0, 1):
            failures.append(f"{name}: check ends with {done.returncode}: {done.stderr}")
        if len(done.stdout.splitlines()) < 100:
            failures.append(f"{name}, {system}: the whole review has {len(done.stdout.splitlines())} lines")
        failures += [f"{name}, {system}: …{s}…" for s in strangers(done.stdout, system)]

print("\n".join(failures) or f"{len(SCENARIOS)} reviews hold the reader's units alone")
sys.exit(bool(failures))
