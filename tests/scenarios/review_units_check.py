#!/usr/bin/python3
"""The whole review speaks one system of units: in SI no US unit stands behind a number, in US no SI unit."""

import os
import pathlib
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))
from units_seen import strangers  # noqa: E402: found by the line above

PROGRAM = os.environ["STEADYFIRE"]
SCENARIOS = ("whole_job", "combi_family")
failures = []

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
