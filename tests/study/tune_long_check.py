#!/usr/bin/python3
"""`steadyfire tune` from outside: words, JSON, the file written, bad input, Ctrl-C."""

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
SLAB = str(SCENARIOS / "workshop_slab_gains_reset.toml")
QUICK = ["--runs", "60"]


def call(*arguments):
    return subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, text=True, timeout=300)


class Tune(unittest.TestCase):
    def test_better_settings_are_told_written_and_true(self):
        with tempfile.TemporaryDirectory() as folder:
            written = pathlib.Path(folder) / "tuned.toml"
            answer, page = pathlib.Path(folder) / "tuned.json", pathlib.Path(folder) / "tuned.html"
            run = call("tune", SLAB, "--runs", "400", "--write", written, "--json", answer, "--report", page)
            self.assertEqual(run.returncode, 0, run.stderr)
            for words in ("From ‘now’ to ‘chosen’", "Better settings"):
                self.assertIn(words, page.read_text())
            for words in ("Better settings:", "too warm", "too cold", "fuel burned", "Lines to change", "How far each", "can kill"):
                self.assertIn(words, run.stdout)
            self.assertIn("# Lesson 3, fourth part", written.read_text())  # comments stay
            told = json.loads(answer.read_text())
            self.assertEqual(list(faults(json.loads((ROOT / "sim/record/tuning.schema.json").read_text()), told)), [])
            self.assertTrue(told["is_better"])
            now, chosen = told["now"]["figures"], told["chosen"]["figures"]
            for key in ("too_warm", "fuel"):
                self.assertLess(chosen[key], now[key])
            self.assertLessEqual(chosen["too_cold"], now["too_cold"])
            for address, value in told["chosen"]["settings"].items():
                self.assertIn(f'{address.split(".")[-1]} = "{value}"', written.read_text())
            anew = json.loads(call("run", written, "--json", "-").stdout)
            self.assertAlmostEqual(anew["zones"]["workshop"]["overshoot_Ks"], chosen["too_warm"], delta=1e-6 * chosen["too_warm"])
            self.assertAlmostEqual(anew["energy"]["fuel_J"], chosen["burnt"], delta=1e-6 * chosen["burnt"])
            before = written.read_text()
            again = call("tune", SLAB, *QUICK, "--write", written)
            self.assertEqual(again.returncode, 2)
            self.assertIn("E242", again.stderr)
            self.assertEqual(written.read_text(), before)

    def test_nothing_better_is_said_and_nothing_is_written(self):
        with tempfile.TemporaryDirectory() as folder:
            written = pathlib.Path(folder) / "tuned.toml"
            run = call("tune", SLAB, *QUICK, "--turn", "zone.workshop.reset.cold_supply=110 degF..111 degF",
                       "--turn", "zone.workshop.reset.mild_supply=75 degF..76 degF", "--write", written)
            self.assertEqual(run.returncode, 0, run.stderr)
            self.assertIn("No better settings within these bounds", run.stdout)
            self.assertIn("is not written", run.stdout)
            self.assertFalse(written.exists())

    def test_the_number_of_threads_changes_nothing(self):
        one, three = (call("tune", SLAB, *QUICK, "--jobs", jobs, "--units", "si", "--json", "-") for jobs in (1, 3))
        self.assertEqual(one.returncode, 0, one.stderr)
        self.assertEqual(one.stdout, three.stdout)
        self.assertIn("degC", one.stdout)

    def test_bad_calls_say_what_is_wrong(self):
        for arguments, words in (
            (["--turn", "zone.workshp.reset.cold_supply"], "did you mean 'workshop'?"),
            (["--turn", "zone.workshop.reset.cold_supply=120 degF..80 degF"], "swapped"),
            (["--turn", "zone.workshop.reset.cold_supply=2 gpm..80 degF"], "a flow, not a temperature"),
            (["--turn", "boiler.heating_input", "--turn", "boiler.heating_input"], "appears twice"),
            (["--day", "15"], "does not cover a year"),
            (["--day", "400"], "400"),
            (["--year", "--day", "15"], "--day"),
            (["--for", "comfort,feul"], "did you mean 'fuel'?"),
            (["--for", "fuel"], "only one figure"),
            (["--for", "fuel,highest_supply"], "cannot be improved"),
            (["--for", "fuel,fuel"], "appears twice"),
            (["--runs", "3"], "40"),
            (["--trun", "x"], "--turn"),
        ):
            with self.subTest(arguments):
                run = call("tune", SLAB, *arguments)
                self.assertEqual(run.returncode, 2, run.stdout + run.stderr)
                self.assertIn(words, run.stderr)
                self.assertEqual(run.stdout, "")
        self.assertEqual(call("tune", SCENARIOS / "two_loops.toml").returncode, 2)

    def test_spells_of_a_year_are_summed(self):
        run = call("tune", SCENARIOS / "cold_coast_year.toml", "--day", "15", "--day", "105", "--days", "0.5", "--runs", "40", "--json", "-")
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assertEqual(json.loads(run.stdout)["spells"], ["0.5 d from day 15", "0.5 d from day 105"])

    def test_ctrl_c_ends_it_with_nothing_written(self):
        with tempfile.TemporaryDirectory() as folder:
            answer = pathlib.Path(folder) / "answer.json"
            process = subprocess.Popen([PROGRAM, "tune", SLAB, "--runs", "100000", "--json", answer], stdout=subprocess.PIPE,
                                       stderr=subprocess.PIPE)
            time.sleep(1.5)
            process.send_signal(signal.SIGINT)
            self.assertEqual(process.wait(timeout=60), 130)
            process.communicate()
            self.assertEqual(list(pathlib.Path(folder).iterdir()), [])


if __name__ == "__main__":
    unittest.main()
