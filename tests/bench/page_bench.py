#!/usr/bin/python3
"""How long a picture takes while a slider moves: quick runs of the one-day four-zone house over HTTP, as the page asks for them.

    tests/bench/page_bench.py [PROGRAM] [SCENARIO]      PROGRAM is build/steadyfire, or $STEADYFIRE

Reported, never asserted: the median time to the first part and to the answer, of twelve settings of one knob, and of the full run.
"""

import http.client
import json
import os
import pathlib
import re
import signal
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = sys.argv[1] if len(sys.argv) > 1 else os.environ.get("STEADYFIRE", ROOT / "build" / "steadyfire")
SCENARIO = pathlib.Path(sys.argv[2]) if len(sys.argv) > 2 else ROOT / "scenarios" / "four_zone_house.toml"
FIRES = [6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17]  # kBtu/h, the boiler's minimum fire


def ask(server, request):
    """Seconds to the first part with a picture and to the answer, the answer and its length in bytes."""
    connection = http.client.HTTPConnection(*server)
    began = time.perf_counter()
    connection.request("POST", "/ask/run", json.dumps(request), {"Content-Type": "application/json"})
    response = connection.getresponse()
    first, event = None, ""
    while line := response.readline():
        if line.startswith(b"event: "):
            event = line[7:].strip().decode()
        elif line.startswith(b"data: "):
            now = time.perf_counter() - began
            if event == "part" and first is None and b"over_time" in line:
                first = now
            if event == "answer":
                connection.close()
                return first, now, json.loads(line[6:]), len(line)
            if event == "failed":
                sys.exit(line.decode())
    sys.exit("no answer")


def report(name, times):
    firsts = [t[0] if t[0] is not None else t[1] for t in times]
    wholes = [t[1] for t in times]
    print(f"{name}: first picture {1000 * statistics.median(firsts):.0f} ms, whole day {1000 * statistics.median(wholes):.0f} ms "
          f"(least {1000 * min(wholes):.0f}, most {1000 * max(wholes):.0f}), {times[0][3] / 1000:.0f} kB")


def main():
    text = SCENARIO.read_text("utf-8")
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(SCENARIO.parent / "weather", pathlib.Path(folder) / "weather")
        served = subprocess.Popen([PROGRAM, "serve", folder, "--port", "0"], stdout=subprocess.PIPE, text=True)
        host, port = re.search(r"http://(.+):(\d+)/", served.stdout.readline()).groups()
        server = (host, int(port))
        base = {"text": text, "file": "", "units": "us"}
        try:
            quick = [ask(server, {**base, "quick": True, "edits": [{"do": "set", "at": {"table": "boiler", "index": 0, "path": ["minimum_input"]},
                                                                    "value": f"{fire} kBtu/h"}]}) for fire in FIRES]
            starts = [a[2]["key"][0]["words"] for a in quick if a[2].get("key")]
            full = [ask(server, base) for _ in range(3)]
        finally:
            served.send_signal(signal.SIGINT)
            served.wait(30)
    if full[0][2]["faults"]:
        sys.exit(json.dumps(full[0][2]["faults"], indent=1))
    report("quick run", quick)
    report("full run", full)
    print(f"starts at each setting: {', '.join(starts)}; in full {full[0][2]['key'][0]['words']}")


main()
