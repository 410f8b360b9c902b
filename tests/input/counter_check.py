#!/usr/bin/python3
"""`new --ask` and `new --answers` make the same scenario of the same answers; bad answers are asked again, or refused whole."""

import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ["STEADYFIRE"]
failures = []


def ask(holds, what):
    if not holds:
        failures.append(what)


def call(folder, *arguments, said=""):
    return subprocess.run([PROGRAM, *arguments], cwd=folder, input=said, capture_output=True, text=True)


SAID = "\n".join([
    "lots", "2200", "2", "", "", "5 degF", "",        # the house: a word is no area, a bare number takes ft2, 2 is "average"
    "unknown", "1", "",                               # altitude, circulators, plain water
    "downstairs", "fin-tube baseboard", "45", "",
    "downstairs", "bath", "9", "2", "5 %", "",        # a name twice and a choice that is none are asked again
    "upstairs", "1", "", "9 ft 6 in",
    "",
    "2", "", "1", "", "", "",                         # fixtures; no data sheet at hand
    "40",
    "50", "half inch", "1/2 in steel 40", "5", "natural gas", "65",  # a size that is none is asked again
    "22 ft", "3", "", ""]) + "\n"

with tempfile.TemporaryDirectory() as name:
    folder = pathlib.Path(name)
    by_file = call(folder, "new", "file.toml", "--answers", str(ROOT / "scenarios/counter/phone_call.toml"))
    ask(by_file.returncode == 0, f"--answers ends with {by_file.returncode}: {by_file.stderr}")
    asked = call(folder, "new", "asked.toml", "--ask", said=SAID)
    ask(asked.returncode == 0, f"--ask ends with {asked.returncode}: {asked.stdout[-500:]}{asked.stderr}")
    if not failures:
        made = [re.sub("^title.*", "", (folder / f).read_text(), flags=re.M) for f in ("file.toml", "asked.toml")]
        ask(made[0] == made[1], "the same answers make different scenarios")
        for words in ("Boiler size", "Hot water", "Gas piping", "Unknown; usual values assumed", "winter fuel"):
            ask(words.lower() in by_file.stdout.lower(), f"the page does not speak of {words}")
        ask(len(by_file.stdout.splitlines()) <= 66, f"the answer has {len(by_file.stdout.splitlines())} lines: more than a page")
        # 50 ft of 1/2 in to a burner of that size is refused: NFPA 54 / IFGC 402.4 table, 0.5 in w.c.
        ask("gas pressure drop" in by_file.stdout and ", limit 0.50 in. w.c." in by_file.stdout, "a gas run too small is not told")
        ask(call(folder, "check", "file.toml", "--quiet").returncode == 1, "the scenario that it made is not reviewed")
        again = call(folder, "new", "file.toml", "--answers", str(ROOT / "scenarios/counter/phone_call.toml"))
        ask(again.returncode == 2 and "E242" in again.stderr, "a file that stands there is written over")
    short = call(folder, "new", "short.toml", "--ask", said="")
    ask(short.returncode == 2 and "E297" in short.stderr and not (folder / "short.toml").exists(), f"no answers at all: {short.stderr}")
    told = (ROOT / "scenarios/counter/phone_call.toml").read_text("utf-8")
    for arrangement in ("direct", "closely spaced tees", "hydraulic separator", "buffer tank"):
        (folder / "wish.toml").write_text(told.replace('outdoor_design = "5 degF"', f'outdoor_design = "5 degF"\narrangement = "{arrangement}"'))
        made = call(folder, "new", f"{arrangement}.toml", "--answers", "wish.toml")
        ask(made.returncode == 0 and f'arrangement = "{arrangement}"' in (folder / f"{arrangement}.toml").read_text("utf-8"),
            f"{arrangement}: {made.returncode} {made.stderr}")
    # the pipe below 4 ft/s, and the slab's mixing valve beside hot emitters
    slab = told.replace('name = "upstairs"\nemitter = "fin-tube baseboard"', 'name = "upstairs"\nemitter = "radiant slab"')
    (folder / "slab.toml").write_text(slab)
    made = call(folder, "new", "with_slab.toml", "--answers", "slab.toml")
    ask(made.returncode == 0 and (folder / "with_slab.toml").read_text().count("motorised mixing valve") == 1, f"a slab: {made.stderr}")
    (folder / "open.toml").write_text(told.replace('outdoor_design = "5 degF"', 'outdoor_design = "unknown"').replace('"40 degF"', '"unknown"'))
    made = call(folder, "new", "still_open.toml", "--answers", "open.toml")
    text = (folder / "still_open.toml").read_text() if made.returncode == 0 else ""
    ask('outdoor_design = "unknown"' in text and 'temperature = "unknown"' in text and 'design_load = "unknown"' in text,
        f"what is unknown is not written so: {made.stderr}")
    (folder / "bad.toml").write_text('format = 1\ntitle = "bad"\n[house]\nfloor_area = "2200 gpm"\nfloors = 2\n')
    bad = call(folder, "new", "other.toml", "--answers", "bad.toml")
    ask(bad.returncode == 2 and "bad.toml:4:14" in bad.stderr and "E201" in bad.stderr and not (folder / "other.toml").exists(),
        f"bad answers: {bad.stderr}")
    both = call(folder, "new", "other.toml", "--ask", "--answers", "bad.toml")
    ask(both.returncode == 2, "--ask and --answers together are taken")
    ask(call(folder, "new", "other.toml", "--answers", "none.toml").returncode == 2, "a missing file of answers is taken")

print("\n".join(failures) or "answers by voice and by file make one scenario")
sys.exit(1 if failures else 0)
