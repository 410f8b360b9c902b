#!/usr/bin/python3
"""Every shipped study reads, runs and is told, with its claims, table and report; its runs are cut to minutes, so that this takes seconds."""

import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ["STEADYFIRE"]
failures = []
studies = sorted((ROOT / "scenarios/studies").glob("*.toml"))
with tempfile.TemporaryDirectory() as name:
    folder = pathlib.Path(name)
    for study in studies:
        text = re.sub(r"^duration *=.*\n", "", study.read_text(), flags=re.M).replace('"../', f'"{ROOT}/scenarios/')
        (folder / study.name).write_text(text.replace("[study]\n", '[study]\nduration = "20 min"\n'))
        run = subprocess.run([PROGRAM, "sweep", study.name, "--csv", "points.csv", "--report", "report.html"], cwd=folder,
                             capture_output=True, text=True)
        points = len((folder / "points.csv").read_text().splitlines()) - 1 if run.returncode == 0 else 0
        said = run.stdout
        if run.returncode or f"{points} points of a" not in said or "all simulated" not in said or "can kill" not in said:
            failures.append(f"{study.name}: {run.returncode}, {points} points\n{said}{run.stderr}")
        elif text.count("[[claim]]") != said.count("likely houses: ") + said.count("points of the grid"):
            failures.append(f"{study.name}: a claim is not told\n{said}")
        elif not (folder / "report.html").read_text().startswith("<!doctype html>"):
            failures.append(f"{study.name}: the report is no page")
print("\n".join(failures) or f"{len(studies)} shipped studies run")
sys.exit(1 if failures or len(studies) < 2 else 0)
