#!/usr/bin/python3
"""A file full of faults, of depth or of odd bytes costs no more than its size: fifty faults are told, the others counted.

Files are made here; times and memory (of `$STEADYFIRE flows FILE`) have room for a loaded machine, where without bounds they took
minutes and 600 MB.
"""

import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
HEAD = 'format = 1\ntitle = "x"\n'
MANY = 100_000
ESC, CSI = "\x1b", "\x9b"
HOUSE = (ROOT / "scenarios/four_zone_house.toml").read_text()

failures = []


def ask(good, *words):
    if not good:
        failures.append(" ".join(str(w) for w in words)[:1000])


def call(program, folder, *arguments):
    return subprocess.run([program, *arguments], cwd=folder, capture_output=True, timeout=120)


def floods(program, folder):
    files = {
        "keys": "".join(f"k{i} = 1\n" for i in range(MANY)),
        "tables": "".join(f"[t{i}]\n" for i in range(MANY)),
        "lists of tables": "".join(f"[[t{i}]]\n" for i in range(MANY)),
        "empty zones": "[[zone]]\n" * MANY,
        "zones of one name": '[boiler]\n' + '[[zone]]\nname = "a"\n' * MANY,
        "bad values": "".join(f'[[zone]]\nname = "z{i}"\ndesign_load = "x"\n' for i in range(MANY)),
        "items of a line": '[[zone]]\nname = "a"\nroom = { gains = [' + ",".join(['"é"'] * MANY) + "] }\n",
        "keys of a line": "site = { " + ", ".join(f"é{i} = 1".replace("é", "e") for i in range(MANY)) + " }\n",
    }
    least = resource_of([program, "--version"], folder)[2]
    for name, text in files.items():
        (folder / "flood.toml").write_text(HEAD + text)
        seconds, run, kilobytes = resource_of([program, "flows", "flood.toml"], folder)
        said = run.stderr.decode()
        told = len(re.findall(r"error\[E\d+\]", said))
        more = re.search(r"^flood.toml: and (\d+) more errors$", said, re.M)
        ask(run.returncode == 2 and told == 50 and more and int(more[1]) >= MANY - 60, f"{name}: {run.returncode}, {told} told,",
            more and more[0], said[-300:])
        lines = [int(n) for n in re.findall(r"^flood.toml:(\d+)", said, re.M)]
        ask(lines == sorted(lines), f"{name}: not in file order")
        ask(len(said) < 100_000, f"{name}: {len(said)} bytes of words")
        ask(seconds < 20, f"{name}: {seconds} s")
        ask(kilobytes - least < 200_000, f"{name}: {kilobytes - least} kB")


def floods_beside(program, folder):
    """The same of files that are read beside a scenario, and of words that are no faults."""
    (folder / "night.toml").write_text((ROOT / "scenarios/night_setback.toml").read_text())
    (folder / "wide.csv").write_text("time [min]," + ",".join(f"c{i} [degF]" for i in range(20_000)) + "\n" + "0," * 20_000 + "0\n")
    (folder / "long.csv").write_text("time [min],house [degF]\n" + "x,y\n" * MANY)
    (folder / "figures.toml").write_text(HEAD + '[study]\nscenario = "house.toml"\nfigures = [' + ",".join(['"none"'] * 20_000) + "]\n")
    (folder / "calls.toml").write_text(HEAD + '[[zone]]\nname = "a"\n' * MANY)
    for command in (("fit", "night.toml", "wide.csv"), ("fit", "night.toml", "long.csv"), ("sweep", "figures.toml"),
                    ("new", "made.toml", "--answers", "calls.toml")):
        seconds, run, _ = resource_of([program, *command], folder)
        said = run.stderr.decode()
        ask(run.returncode == 2 and 1 <= len(re.findall(r"error\[E\d+\]", said)) <= 50 and " more" in said and len(said) < 100_000, command,
            run.returncode, len(said), said[:300])
        ask(seconds < 20, command, seconds, "s")
    (folder / "loose.toml").write_text(HEAD + "".join(f'[[pipe]]\nname = "p{i}"\nfrom = "a{i}"\nto = "b{i}"\nlength = "1 ft"\n'
                                                      'size = "3/4 in copper M"\n' for i in range(200)))
    said = call(program, folder, "flows", "loose.toml").stderr.decode()
    ask(said.count("no joint has a head") == 50 and "and at 150 more" in said, "heads assumed:", said[-200:])


def resource_of(arguments, folder):
    """Seconds of CPU, the run, and its most memory in kB."""
    run = subprocess.run(["/usr/bin/python3", "-c", """
import resource, subprocess, sys
code = subprocess.run(sys.argv[1:]).returncode
used = resource.getrusage(resource.RUSAGE_CHILDREN)
print(f'\\n{used.ru_utime + used.ru_stime} {used.ru_maxrss}')
sys.exit(code if code >= 0 else 128 - code)""", *arguments], cwd=folder, capture_output=True, timeout=300)
    seconds, kilobytes = run.stdout.decode().splitlines()[-1].split()
    return float(seconds), run, int(kilobytes)


def depths(program, folder):
    deep = ".".join(["a"] * 50_000)
    for name, text, line in [("a key", f"{deep} = 1\n", 3), ("a heading", f"[{deep}]\n", 3), ("tables", f"[[{deep}]]\n", 3),
                             ("quoted parts", '"b#".\'c\'.' + deep + " = 1\n", 3), ("a key in braces", f"x = {{ {deep} = 1 }}\n", 3),
                             ("behind a text", 'x = """\n"quotes" and # and [\n"""\n' + deep + " = 1\n", 6),
                             ("lists", "x = " + "[" * 50_000 + "\n", 3), ("braces", "x = " + "{ a = " * 50_000 + "\n", 3),
                             ("keys in braces in braces", "x = " + "{ a.a.a.a.a.a.a.a.a.a = " * 200 + "1" + "}" * 200 + "\n", 3)]:
        (folder / "deep.toml").write_text(HEAD + text)
        for command in ("flows", "deep.toml"), ("sweep", "deep.toml"), ("new", "made.toml", "--answers", "deep.toml"):
            run = call(program, folder, *command)
            said = run.stderr.decode()
            ask(run.returncode == 2 and re.match(rf"deep.toml:{line}:\d+: error\[E110\]: .*100", said) and "expected" in said
                and "hint" in said, f"{name}, {command[0]}: {run.returncode}", said)
    run = call(program, folder, "tune", "house.toml", "--turn", deep)
    ask(run.returncode == 2 and b"is not an address" in run.stderr, "--turn:", run.returncode, run.stderr)
    # what is not deep is none: texts, remarks, numbers, 100 parts
    (folder / "flat.toml").write_text(HOUSE + "# " + deep + "\n[" + ".".join(["a"] * 99) + "]\n")
    run = call(program, folder, "flows", "flat.toml")
    ask(b"E110" not in run.stderr and b"E202" in run.stderr, "a remark counts as deep:", run.stderr)


def odd_bytes(program, folder):
    title = HOUSE.replace(re.search(r"^title = .*$", HOUSE, re.M)[0], 'title = "a\\u001b[2Jb\\u009b2Jc\\u007fd\\re"')
    (folder / "title.toml").write_text(title)
    for command in ("flows",), ("run",), ("check",), ("flows", "--json", "-"), ("draw",):
        run = call(program, folder, command[0], "title.toml", *command[1:])
        said = (run.stdout + run.stderr).decode().replace("\r\n", "\n")
        ask(run.returncode in (0, 1), command, run.returncode, run.stderr)
        ask(not re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]", said), command, "lets control characters pass:", ascii(said[:200]))
    for command in (("run", "--report", "page.html", "--csv", "tables"), ("check", "--report", "review.html"), ("draw", "--out", "house.svg")):
        run = call(program, folder, command[0], "title.toml", *command[1:])
        ask(run.returncode in (0, 1), command, run.returncode, run.stderr)
    for file in ("page.html", "review.html", "house.svg", *(folder / "tables").iterdir()):
        written = (folder / file).read_bytes().decode()
        bad = re.search(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]|\r(?!\n)", written)
        ask(not bad, file, "holds a control character:", ascii(written[bad.start() - 40:bad.end() + 40]) if bad else "")
    said = call(program, folder, "flows", "title.toml").stdout.decode()
    ask(said.startswith("a?[2Jb?2Jc?d?e\n"), "a title with control characters:", ascii(said[:60]))
    for bad in ESC + "[2J", CSI, "\x7f", "a\tb":
        written = "".join(f"\\u{ord(c):04x}" for c in bad)
        (folder / "name.toml").write_text(HOUSE.replace('name = "bath"', f'name = "{written}"'))
        run = call(program, folder, "flows", "name.toml")
        ask(run.returncode == 2 and b"error[E265]" in run.stderr and bad.encode() not in run.stderr, "a name", ascii(bad), run.returncode,
            run.stderr)
    for length, code in (100, 0), (101, 2):
        (folder / "name.toml").write_text(HOUSE.replace('"bath"', '"' + "é" * length + '"'))
        run = call(program, folder, "flows", "name.toml")
        ask(run.returncode == code and (b"error[E266]" in run.stderr) == (code == 2), f"a name of {length}:", run.returncode, run.stderr)
    for raw in b"h\xe9.toml", b"h\x1b[2J.toml":
        run = subprocess.run([program.encode(), b"flows", raw], cwd=folder, capture_output=True)
        ask(run.returncode == 2 and b"\x1b" not in run.stderr and b"error" in run.stderr, "a file name", raw, run.returncode, run.stderr)
        run = subprocess.run([program.encode(), b"flows", b"house.toml", b"--quiet", b"--json", raw], cwd=folder, capture_output=True)
        ask(run.returncode == (2 if b"\xe9" in raw else 0), "a result named", raw, run.returncode, run.stderr)
    weather = folder / "weather/invented_cold_coast.csv"
    weather.write_bytes(weather.read_bytes().replace(b"a", b"\xe9", 1))
    run = call(program, folder, "flows", "house.toml")
    ask(run.returncode == 2 and b"error[E302]" in run.stderr and b"UTF-8" in run.stderr, "weather in Latin-1:", run.returncode, run.stderr)


def main():
    program = os.environ.get("STEADYFIRE")
    if not program:
        sys.exit("set STEADYFIRE to the program")
    program = str(pathlib.Path(program).resolve())
    for check in floods, floods_beside, depths, odd_bytes:
        with tempfile.TemporaryDirectory() as folder:
            (pathlib.Path(folder) / "house.toml").write_text(HOUSE)
            shutil.copytree(ROOT / "scenarios/weather", pathlib.Path(folder) / "weather")
            check(program, pathlib.Path(folder))
    print("\n".join(failures) or "floods, depths and odd bytes are held")
    sys.exit(1 if failures else 0)


main()
