#!/usr/bin/python3
"""yardstick.py BENCH_FOLDER [--quick]: how near the march is to a tight integration, and what it costs. Reported, never asserted.

BENCH_FOLDER holds `yardstick` (cmake --preset bench). One day pointwise says little: where a start that is just met shifts all
that follow, two tight runs differ by half a degree. So:

1. Quiet days, where CVODE at 1e-4 K and at 1e-5 K agree within 0.002 K: rooms at each hour, and the fuel net of what the
   house holds more at the end, against CVODE at 1e-5 K.
2. Days that are chaotic: ten of them, each 0.02 K warmer, by the means of their starts, net fuel and burn lengths, with
   standard errors, against CVODE at 1e-4 K.
3. What it costs: instructions by valgrind's callgrind (the same at any load), and CPU time in days of four zones.
"""
import json
import os
import pathlib
import statistics
import subprocess
import sys
import tempfile

folder = pathlib.Path(sys.argv[1])
quick = "--quick" in sys.argv
QUIET = ["night_setback", "ghost_flow", "manifold_floors"]
CHAOTIC = ["four_zone_house", "twelve_zones"] if quick else ["four_zone_house", "oversized_burner", "twelve_zones", "32"]
DAYS = 10


def days(house, count, *options):
    run = subprocess.run([folder / "yardstick", house, str(count), *options], capture_output=True, text=True, check=True)
    return [json.loads(line) for line in run.stdout.splitlines()]


def net(day):
    return day["fuel_J"] - day["stored_J"]


def told(values, scale=1.0):
    mean = statistics.mean(values) * scale
    return f"{mean:.2f} ± {statistics.stdev(values) * scale / len(values) ** 0.5:.2f}"


def quantile(values, share):
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


print("| quiet day | rooms within | starts | net fuel | steps |\n|---|---|---|---|---|")
for house in QUIET:
    ours, tight = days(house, 1)[0], days(house, 1, "1e-5", "1e-5", "cvode")[0]
    apart = max(abs(a - b) for hour, other in zip(ours["rooms_K"], tight["rooms_K"]) for a, b in zip(hour, other))
    print(f"| {house} | {apart:.4f} K | {ours['starts']}, {tight['starts']} | {100 * (net(ours) / net(tight) - 1):+.4f}% | {ours['steps']} |")

print(f"\n| {DAYS} days | by | starts | net fuel, kWh | burns at 10, 50, 90%, s | steps |\n|---|---|---|---|---|---|")
for house in CHAOTIC:
    for name, options in (("the march", ()), ("CVODE", ("1e-4", "1e-4", "cvode"))):
        some = days(house, DAYS, *options)
        burns = ", ".join(told([quantile(d["burns_s"], share) for d in some if d["burns_s"]]) for share in (0.1, 0.5, 0.9))
        print(f"| {house} | {name} | {told([d['starts'] for d in some])} | {told([net(d) for d in some], 1 / 3.6e6)} | {burns} | "
              f"{statistics.mean(d['steps'] for d in some):.0f} |", flush=True)


def instructions(house, count):
    with tempfile.NamedTemporaryFile() as out:
        run = subprocess.run(["valgrind", "--tool=callgrind", f"--callgrind-out-file={out.name}", folder / "yardstick", house, str(count)],
                             capture_output=True, text=True)
    return int(run.stderr.split("Collected :")[1].split()[0])


def cpu(house, count):
    before = os.times()
    days(house, count)
    after = os.times()
    return after.children_user - before.children_user


print("\n| a day of | instructions, millions | CPU, in days of four zones |\n|---|---|---|")
one = min(cpu("four_zone_house", 4) - cpu("four_zone_house", 1) for _ in range(3)) / 3
for house in ["four_zone_house", "4", "8", "16", "32", "twelve_zones"]:
    cost = instructions(house, 2) - instructions(house, 1)
    share = min(cpu(house, 3) - cpu(house, 1) for _ in range(3)) / 2 / one
    print(f"| {house} | {cost / 1e6:.0f} | {share:.2f} |", flush=True)
