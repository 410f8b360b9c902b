#!/usr/bin/python3
"""Studies, advice, tuning and fits speak one system of units: in SI no US unit stands behind a number or in a heading, in US no SI unit.

Every shipped study is swept, and a few scenarios are advised on and tuned, each cut to an hour or minutes: what is told counts here,
not what it comes to. `told_units_long_check.py` asks the same of all scenarios, whole, and of a fit. The reference, the schema and the sample house are
asked too.
"""

import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))
from units_seen import page_words, strange_headings, strangers  # noqa: E402: found by the line above

PROGRAM = os.environ["STEADYFIRE"]
WHOLE = "--whole" in sys.argv[1:]
FEW = ("four_zone_house", "many_emitters", "shared_slab", "workshop_slab_gains_reset")
SYSTEMS = ("us", "si")
failures, told = [], []


def call(folder, system, *arguments):
    """What is said."""
    done = subprocess.run([PROGRAM, *arguments, "--units", system], cwd=folder, capture_output=True, text=True, timeout=1800)
    if done.returncode:
        failures.append(f"{' '.join(arguments)}: ends with {done.returncode}: {done.stderr}")
    return done.stdout


def ask(name, system, text, least, headings=False):
    """`least` units of its own system must be told, or the text is not what was meant."""
    seen = [*strangers(text, system), *(strange_headings(text, system) if headings else [])]
    failures.extend(f"{name}, {system}: …{s}…" for s in seen[:10])
    other = SYSTEMS[system == "us"]
    if len(strangers(text, other)) + len(strange_headings(text, other)) < least:
        failures.append(f"{name}, {system}: fewer than {least} quantities are told:\n{text[:300]}")
    told.append(name)


def shortened(text):
    """An hour of the morning; a scenario is told in words all the same."""
    text = re.sub(r"^(duration|start_clock) *=.*\n", "", text, flags=re.M)
    run = '[run]\nduration = "1 h"\nstart_clock = "6:30"\n'
    return text.replace("[run]\n", run) if re.search(r"^\[run\]$", text, re.M) else text + "\n" + run


def ask_of_scenario(folder, name):
    for system in SYSTEMS:
        ask(f"advise {name}", system, call(folder, system, "advise", f"{name}.toml"), 0)
        if name != "workshop_slab_gains_reset":
            continue
        page = folder / f"{name}_{system}.html"
        written = folder / f"{name}_{system}_tuned.toml"
        said = call(folder, system, "tune", f"{name}.toml", "--runs", "40", "--report", page.name, "--write", written.name)
        ask(f"tune {name}", system, said, 10)
        ask(f"page of tune {name}", system, page_words(page.read_text()), 10, True)


def ask_of_study(folder, study):
    for system in SYSTEMS:
        page, table = folder / f"{study}_{system}.html", folder / f"{study}_{system}.csv"
        said = call(folder, system, "sweep", f"studies/{study}.toml", "--report", page.name, "--csv", table.name)
        ask(f"sweep {study}", system, said, 3)
        ask(f"page of sweep {study}", system, page_words(page.read_text()), 3, True)
        ask(f"table of sweep {study}", system, table.read_text().split("\n")[0], 1, True)


def ask_of_fit(folder):
    for system in SYSTEMS:
        page, written = folder / f"fit_{system}.html", folder / f"fitted_{system}.toml"
        said = call(folder, system, "fit", str(ROOT / "scenarios/night_setback.toml"), "logs/night_setback.csv", "--report", page.name,
                    "--write", written.name)
        ask("fit night_setback", system, said, 5)
        ask("page of fit night_setback", system, page_words(page.read_text()), 5, True)
        put = re.search(r'boiler\.minimum_input = ("[^"]*")', said)
        if not put or f"minimum_input = {put[1]}" not in written.read_text():
            failures.append(f"fit, {system}: the line to paste is not what is written: {put}")


def ask_of_forms(folder):
    for system in SYSTEMS:
        for of in ((), ("--study",), ("--readings",)):
            page = call(folder, system, "reference", *of).split("\n# Figures")[0]  # which gives each figure's unit in both
            ask(f"reference {' '.join(of)}", system, page, 0 if of == ("--study",) else 3)
        ask("schema", system, call(folder, system, "schema"), 300)
        house = folder / f"house_{system}.toml"
        call(folder, system, "new", house.name)
        ask("new", system, house.read_text(), 10)
        call(folder, system, "flows", house.name)
        area = {"us": "1830", "si": "170"}[system]  # without a unit: it gets the one of the question
        asked = subprocess.run([PROGRAM, "new", f"asked_{system}.toml", "--ask", "--units", system], cwd=folder, capture_output=True,
                               text=True, input=area + 60 * "\n")
        ask("new --ask", system, asked.stdout, 3, True)
        written = re.findall(r'^floor_area = "(\d+) ft2"', (folder / f"asked_{system}.toml").read_text(), re.M)
        if abs(sum(map(int, written)) - 1830) > 2:
            failures.append(f"new --ask, {system}: {area} is taken as {written} ft2")


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        for part in ("logs", "weather", "studies"):
            (folder / part).mkdir()
            for file in (ROOT / "scenarios" / part).iterdir():
                (folder / part / file.name).write_bytes(file.read_bytes())
        houses = []
        for file in sorted((ROOT / "scenarios").glob("*.toml")):
            text = file.read_text()
            (folder / file.name).write_text(text if WHOLE else shortened(text))
            is_long = file.stem == "cold_coast_year"  # a year for each change, of the four-zone house
            if "\n[boiler]" in text and not is_long and (WHOLE or file.stem in FEW):
                houses.append(file.stem)
        for study in (folder / "studies").glob("*.toml"):
            text = re.sub(r"^duration *=.*\n", "", study.read_text(), flags=re.M)
            if not WHOLE:
                study.write_text(text.replace("[study]\n", '[study]\nduration = "20 min"\n'))
        ask_of_forms(folder)
        for study in sorted((folder / "studies").glob("*.toml")):
            ask_of_study(folder, study.stem)
        if WHOLE:  # a fit takes minutes
            ask_of_fit(folder)
        for house in houses:
            ask_of_scenario(folder, house)
    print("\n".join(failures) or f"{len(told)} texts hold the reader's units alone")
    sys.exit(bool(failures))


main()
