#!/usr/bin/python3
"""`steadyfire fit` from outside: the shipped log, JSON, files written, bad input, Ctrl-C."""

import json
import os
import pathlib
import signal
import subprocess
import sys
import tempfile
import time
import unittest

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))
from json_schema import faults  # noqa: E402: found by the line above

PROGRAM = os.environ.get("STEADYFIRE") or sys.exit("set STEADYFIRE to the program")
SCENARIOS = ROOT / "scenarios"
HOUSE, LOG = str(SCENARIOS / "night_setback.toml"), str(SCENARIOS / "logs" / "night_setback.csv")


def call(*arguments):
    return subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, text=True, timeout=600)


class Fit(unittest.TestCase):
    def test_the_shipped_log_tells_its_house(self):
        with tempfile.TemporaryDirectory() as folder:
            written, page, answer = (pathlib.Path(folder) / name for name in ("fitted.toml", "fit.html", "fit.json"))
            run = call("fit", HOUSE, LOG, "--write", written, "--report", page, "--json", answer)
            self.assertEqual(run.returncode, 0, run.stderr)
            for words in ("design load of house", "minimum input of boiler", "well known", "error before", "Put these in the scenario", "can kill"):
                self.assertIn(words, run.stdout)
            told = json.loads(answer.read_text())
            self.assertEqual(list(faults(json.loads((ROOT / "sim/record/fit.schema.json").read_text()), told)), [])
            # The truth of the invented log stands in its head: within twice the stated interval.
            for unknown, truth in zip(told["unknowns"], (28.8 * 293.07107, 25 * 293.07107)):
                half = (unknown["high_95"] - unknown["low_95"]) / 2
                self.assertLess(abs(unknown["found"] - truth), 2 * half, unknown)
                self.assertLess(half, 0.1 * truth)
            for column in told["columns"]:
                self.assertLess(column["rms_after"], column["rms_before"], column)
            self.assertIn("# One zone on panel radiators", written.read_text())  # comments stay
            self.assertEqual(call("run", written, "--quiet").returncode, 0)
            self.assertIn("<html", page.read_text()[:400])
            before = written.read_text()
            again = call("fit", HOUSE, LOG, "--write", written)
            self.assertEqual(again.returncode, 2)
            self.assertEqual(written.read_text(), before)

    def test_what_is_wrong_is_told(self):
        with tempfile.TemporaryDirectory() as folder:
            log = pathlib.Path(folder) / "log.csv"
            log.write_text("time [min],hose [degF]\n0,70\n")
            for arguments, words in (((HOUSE, log), "did you mean 'house'?"), ((HOUSE, LOG, "--find", "zone.house.desgn_load"), "design_load"),
                                     ((HOUSE, LOG, "--window", "soon"), "--window"), ((HOUSE, "none.csv"), "E301"), ((HOUSE,), "LOG")):
                run = call("fit", *arguments)
                self.assertEqual(run.returncode, 2, run.stderr)
                self.assertIn(words, run.stderr)

    def test_ctrl_c_ends_it_cleanly(self):
        with tempfile.TemporaryDirectory() as folder:
            written = pathlib.Path(folder) / "fitted.toml"
            with subprocess.Popen([PROGRAM, "fit", HOUSE, LOG, "--write", written], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as run:
                time.sleep(1.5)
                run.send_signal(signal.SIGINT)
                run.communicate(timeout=60)
            self.assertEqual(run.returncode, 130)
            self.assertEqual(list(pathlib.Path(folder).iterdir()), [])


unittest.main()
