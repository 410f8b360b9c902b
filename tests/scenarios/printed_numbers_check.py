#!/usr/bin/python3
"""Every number that the documents print from the program is what the program says.

A comment before a table, a paragraph or a sample of output tells where its numbers come from, as TOML:

    <!-- checked
    run = "run scenarios/oversized_burner.toml"          the command; the record that it writes is asked
    cells = ["", "burner.starts", ["a min", "b min"]]    by column, the place in the record and the unit printed; "" is not asked
    rows = [{}, {edit = [["old", "new"]]}]               by row, each a text replaced in the scenario; or its own run, its own cells
    says = "{} of {} gpm"                                instead of rows: words of the paragraph, `cells` fill its gaps
    lines = [1, 5]                                       instead of both: the block is these lines of what the command prints
    long = true                                          takes long: printed_numbers_long_check.py asks it
    -->

UPDATE=1 writes the program's numbers into the documents. In FULL documents a table of numbers or a sample of output without
such a comment is a fault; <!-- by hand: how --> says that no program gives them.
"""

import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ.get("STEADYFIRE") or sys.exit("set STEADYFIRE to the program")
FULL = ("README.md", "scenarios/README.md", "tools/README.md")
NUMBER = r"-?\d[\d,]*(?:\.\d+)?"
MARK = re.compile(r"<!-- checked\n(.*?)-->\n+(```.*?\n```\n|.*?\n(?=\n|$))", re.S)
BLOCK = re.compile(r"(?:^<!--.*?-->\n)?(?:^```[^\n]*\n.*?^```$|(?:^\|[^\n]*\n)+)", re.S | re.M)
PLAIN_NUMBER = re.compile(rf"\|\s*{NUMBER}( (?!in )\S+)?\s*(?=\|)")  # a cell that is a number and a unit; "2 in" names a size
UNITS = {  # what is printed, from the SI of the record
    "": lambda x: x, "%": lambda x: 100 * x, "min": lambda x: x / 60, "h": lambda x: x / 3600, "s": lambda x: x,
    "°F": lambda x: 1.8 * x + 32, "°F from K": lambda x: 1.8 * (x - 273.15) + 32, "°F·h": lambda x: 1.8 * x / 3600,
    "gpm": lambda x: x / (231 * 0.0254**3 / 60), "cfh": lambda x: x / (0.3048**3 / 3600), "ft": lambda x: x / 0.3048,
    "in. w.c.": lambda x: x / 249.08891, "psi": lambda x: x / 6894.757293168, "gal": lambda x: x / (231 * 0.0254**3),
    "kBtu/h": lambda x: x / 293.07107017222, "therm": lambda x: x / 105505585.262, "kWh": lambda x: x / 3.6e6,
}


class Wrong(Exception):
    """What a comment asks for cannot be had."""


class Program:
    """Runs commands in a copy of the scenarios, each once."""

    def __init__(self, folder):
        self.folder, self.known = folder, {}
        shutil.copytree(ROOT / "scenarios", folder / "scenarios", ignore=shutil.ignore_patterns("*.store*"))

    def printed(self, run, edit=(), options=()):
        key = json.dumps([run, edit, options])
        if key not in self.known:
            command, file, *more = run.split()
            text = (self.folder / file).read_text()
            for old, new in edit:
                if text.count(old) != 1:
                    raise Wrong(f"{file} has {text.count(old)} times {old!r}")
                text = text.replace(old, new)
            if edit:
                file = file.replace(".toml", ".edited.toml")
                (self.folder / file).write_text(text)
            done = subprocess.run([PROGRAM, command, file, *more, *options], cwd=self.folder, capture_output=True, text=True)
            if done.returncode not in (0, 1):
                raise Wrong(f"{run} ends with {done.returncode}: {done.stderr}")
            self.known[key] = done.stdout
        return self.known[key]

    def value(self, run, edit, cell):
        place, _, unit = cell.partition(" ")
        found = at(json.loads(self.printed(run, edit, ("--quiet", "--json", "-"))), place.split("."), place)
        if isinstance(found, str):  # a setting in words: "102 degF"
            found = float(re.search(NUMBER, found)[0])
        return UNITS[unit](found)


def at(node, steps, place):
    """What stands at a place of a record. Keys may hold dots; of a list the number, or `key=value` of its one such entry."""
    if not steps:
        return node
    for n in range(len(steps), 0, -1):
        step, beyond = ".".join(steps[:n]), steps[n:]
        if isinstance(node, dict) and step in node:
            return at(node[step], beyond, place)
        if isinstance(node, list):
            key, equals, value = step.partition("=")
            numbered = [node[int(step)]] if re.fullmatch(r"-?\d+", step) and -len(node) <= int(step) < len(node) else []
            found = [e for e in node if str(e.get(key)) == value] if equals else numbered
            if len(found) == 1:
                return at(found[0], beyond, place)
    raise Wrong(f"{place}: the record has no {'.'.join(steps)}")


def fill(text, values):
    """The numbers of a text against values: (faults, the text with the values as exactly as they were printed)."""
    faults, values = [], list(values)
    if len(re.findall(NUMBER, text)) != len(values):
        return [f"{text.strip()!r} does not have {len(values)} numbers"], text

    def fresh(found):
        printed, value = found[0], values.pop(0)
        decimals = len(printed.partition(".")[2])
        if abs(float(printed.replace(",", "")) - value) <= 0.5000001 * 10**-decimals:
            return printed
        new = f"{value:{',' if ',' in printed else ''}.{decimals}f}"
        faults.append(f"{printed} is printed in {text.strip()!r}, the program says {new}")
        return new

    return faults, re.sub(NUMBER, fresh, text)


def asked(program, mark, row, cell):
    cells = cell if isinstance(cell, list) else [cell]
    return [program.value(row.get("run", mark.get("run")), row.get("edit", mark.get("edit", [])), c) for c in cells]


def check(program, mark, block):
    """(faults, the block with the program's numbers) for one comment."""
    faults = []
    if "lines" in mark:
        first, last = mark["lines"]
        told = program.printed(mark["run"], mark.get("edit", [])).splitlines()[first - 1:last]
        fresh = "```\n" + "".join(line.rstrip() + "\n" for line in told) + "```\n"
        return ([] if block == fresh else [f"{mark['run']} prints otherwise:\n{fresh}"]), fresh
    if "says" in mark:
        words = re.sub(r"(\\ )+", r"\\s+", re.escape(mark["says"]))
        values = [v for cell in mark["cells"] for v in asked(program, mark, {}, cell)]
        found = re.search(words.replace(r"\{\}", f"({NUMBER})"), block)
        if not found or len(found.groups()) != len(values):
            return [f"nothing says {mark['says']!r} with {len(values)} numbers"], block
        fresh = block[:found.start()]
        for i, value in enumerate(values, 1):
            told, number = fill(found[i], [value])
            faults += told
            fresh += block[found.end(i - 1) if i > 1 else found.start():found.start(i)] + number
        return faults, fresh + block[found.end(len(values)):]
    lines = block.splitlines(keepends=True)
    if len(lines) - 2 != len(mark["rows"]):
        return [f"the table has {len(lines) - 2} rows, its comment {len(mark['rows'])}"], block
    for i, row in enumerate(mark["rows"], 2):
        columns, cells = lines[i].strip().strip("|").split("|"), row.get("cells", mark.get("cells"))
        if len(columns) != len(cells):
            return [f"{lines[i].strip()} does not have {len(cells)} columns"], block
        for c, cell in enumerate(cells):
            if cell:
                told, columns[c] = fill(columns[c], asked(program, mark, row, cell))
                faults += told
        lines[i] = "|" + "|".join(columns) + "|\n"
    return faults, "".join(lines)


def checked(program, text, is_long):
    """(faults, fresh text, how many comments were asked) of a document."""
    faults, count = [], 0

    def one(found):
        nonlocal count
        mark = tomllib.loads(found[1])
        if mark.get("long", False) != is_long:
            return found[0]
        count += 1
        try:
            told, fresh = check(program, mark, found[2])
        except Wrong as e:
            told, fresh = [str(e)], found[2]
        faults.extend(told)
        return found[0][:-len(found[2])] + fresh

    return faults, MARK.sub(one, text), count


def unmarked(text):
    """Tables of numbers and samples of output that no comment speaks of."""
    for found in BLOCK.finditer(text):
        block = found[0]
        before = text[:found.start()].rstrip("\n")
        is_told = block.startswith("<!--") or before.endswith("-->")
        if not is_told and (block.startswith("```\n") or PLAIN_NUMBER.search(block)):
            yield f"no comment says where this comes from:\n{block[:200]}"


def prove(program):
    """What must be refused is refused, and mended by an update."""
    head = '<!-- checked\nrun = "flows scenarios/straight_through.toml"\n'
    boiler = '["states.-1.boiler_flow_m3_s gpm"]'
    for wrong in (f'{head}says = "boiler {{}} gpm"\ncells = {boiler}\n-->\nIts boiler\n999.0 gpm\n',
                  f"{head}cells = {boiler}\nrows = [{{}}]\n-->\n| flow |\n|---|\n| 999.0 gpm |\n",
                  f"{head}lines = [1, 1]\n-->\n```\nSomething else\n```\n"):
        told, fresh, count = checked(program, wrong, False)
        assert told and count == 1, f"a wrong number passes: {wrong}"
        assert not checked(program, fresh, False)[0] and "999" not in fresh, f"an update does not mend: {fresh}"
    assert list(unmarked("| a |\n|---|\n| 5.0 min |\n")) and list(unmarked("```\noutput\n```\n")), "unmarked numbers pass"
    assert not list(unmarked("| a |\n|---|\n| a 5 gal tank |\n")), "words with a number are no table of numbers"


def main(is_long=False):
    faults, count = [], 0
    with tempfile.TemporaryDirectory() as folder:
        program = Program(pathlib.Path(folder))
        prove(program)
        for file in (ROOT / name for name in FULL):
            text = file.read_text()
            told, fresh, marks = checked(program, text, is_long)
            count += marks
            if fresh != text and os.environ.get("UPDATE"):
                file.write_text(fresh)
                told = checked(program, fresh, is_long)[0]
                print(f"{file.relative_to(ROOT)} is up to date")
            faults += [f"{file.relative_to(ROOT)}: {f}" for f in [*told, *unmarked(text)]]
    if not count:
        faults.append("no document says anything")
    print("\n".join(faults) or f"{count} tables and samples are as the program says")
    return bool(faults)


if __name__ == "__main__":
    sys.exit(main())
