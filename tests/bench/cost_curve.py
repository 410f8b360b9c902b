#!/usr/bin/python3
"""cost_curve.py BENCHMARKS PICTURE.svg: CPU time of a design day over the number of zones, drawn from one run.

Needs python3-matplotlib. Both axes are logarithmic; the dashed line rises as the number of zones to the power 1.5."""

import json
import subprocess
import sys

import matplotlib

matplotlib.use("svg")
matplotlib.rcParams["svg.hashsalt"] = "steadyfire"
from matplotlib import pyplot  # noqa: E402

program, picture = sys.argv[1:]
run = subprocess.run([program, "--benchmark_filter=day_by_zones", "--benchmark_format=json", "--benchmark_repetitions=3"],
                     capture_output=True, text=True, check=True)
median = [b for b in json.loads(run.stdout)["benchmarks"] if b.get("aggregate_name") == "median"]
zones = [int(b["run_name"].split(":")[1]) for b in median]
cost = [b["cpu_time"] / median[0]["cpu_time"] for b in median]

figure, axes = pyplot.subplots(figsize=(6, 4))
axes.loglog(zones, cost, "o-", color="#20527a", label="a design day, one thread")
axes.loglog(zones, [(z / zones[0]) ** 1.5 for z in zones], "--", color="#777777", label="zones to the power 1.5")
for z, c, b in zip(zones, cost, median):
    axes.annotate(f"{c:.1f}× · {int(b['places'])} states", (z, c), textcoords="offset points", xytext=(8, -12))
axes.set_xticks(zones, [str(z) for z in zones])
axes.set_xlim(3.2, 110)
axes.set_ylim(0.7, 40)
axes.set_yticks([1, 2, 5, 10, 20], ["1", "2", "5", "10", "20"])
axes.set_xlabel("zones, two boilers over a buffer tank")
axes.set_ylabel("CPU time, in days of 4 zones")
axes.legend()
figure.tight_layout()
figure.savefig(picture, metadata={"Date": None})
print("\n".join(f"{z} zones: {c:.2f}" for z, c in zip(zones, cost)))
