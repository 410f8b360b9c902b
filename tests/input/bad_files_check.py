#!/usr/bin/python3
"""Every bad file is refused with exactly the message beside it, and with exit code 2.

Runs `$STEADYFIRE flows NAME.toml` in tests/input/bad, `check SCENARIO --readings NAME.toml` in tests/input/readings_bad,
`sweep NAME.toml` in tests/input/studies_bad, `new made.toml --answers NAME.toml` in tests/input/answers_bad and `fit SCENARIO NAME.csv` in
tests/input/logs_bad, and compares what it says on stderr with NAME.expected. Every code of bad input in sim/core/errors.md must be shown
by one of the files, and several faults of a file are told in its order. With --update the messages are rewritten, for a review by eye.
"""

import os
import pathlib
import re
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
SCENARIO = str(HERE.parents[1] / "scenarios" / "four_zone_house.toml")
CALLS = {HERE / "bad": ["flows"], HERE / "readings_bad": ["check", SCENARIO, "--readings"], HERE / "studies_bad": ["sweep"],
         HERE / "logs_bad": ["fit", SCENARIO], HERE / "answers_bad": ["new", "made.toml", "--answers"]}
ERRORS = HERE.parents[1] / "sim" / "core" / "errors.md"
# Faults that no committed scenario can show, and where they are tested instead.
ELSEWHERE = {
    "E101": "no file to commit: findings_check.py",
    "E102": "5 MB: findings_check.py makes it",
    "E108": "a fault of the call: findings_check.py",
    "E109": "a fault of the call: outputs_check.py",
    "E121": "a fault of the call: web/server_check.py",
    "E122": "a fault of the call: web/server_check.py",
    "E240": "a fault of the call: findings_check.py",
    "E241": "a fault of the call: findings_check.py",
    "E242": "a fault of the call: findings_check.py",
    "E297": "a fault of the call: counter_check.py",
    "E363": "a fault of the store: study/sweep_long_check.py",
    "E364": "a fault of the store: study/sweep_long_check.py",
    "E365": "a fault of the store: study/sweep_long_check.py",
}


def main():
    program = os.environ.get("STEADYFIRE")
    if not program:
        sys.exit("set STEADYFIRE to the program")
    update = "--update" in sys.argv[1:]
    files = [file for folder in CALLS for file in sorted(folder.glob("*.csv" if folder.name == "logs_bad" else "*.toml"))]
    failures, shown = [], set()
    for file in files:
        run = subprocess.run([program, *CALLS[file.parent], file.name], cwd=file.parent, capture_output=True, text=True, timeout=60)
        shown.update(re.findall(r"error\[(E\d{3})\]", run.stderr))
        places = [(int(line), int(column)) for line, column in re.findall(rf"^\S+\{file.suffix}:(\d+):(\d+): error", run.stderr, re.M)]
        if places != sorted(places):
            failures.append(f"{file.name}: faults not in file order: {places}")
        expected = file.with_suffix(".expected")
        if run.returncode != 2:
            failures.append(f"{file.name}: exit code {run.returncode}, not 2")
        if update:
            expected.write_text(run.stderr)
        elif not expected.exists():
            failures.append(f"{file.name}: {expected.name} is missing")
        elif expected.read_text() != run.stderr:
            failures.append(f"{file.name}: expected\n{expected.read_text()}\nbut it says\n{run.stderr}")
    for stray in sorted({f for folder in CALLS for f in folder.glob("*.expected")} - {f.with_suffix(".expected") for f in files}):
        failures.append(f"{stray.name}: its file is missing")
    for code in re.findall(r"^\| (E[12]\d\d|E3[5689]\d) \|", ERRORS.read_text(), re.M):
        if code not in shown and code not in ELSEWHERE:
            failures.append(f"{code}: no bad file shows it")
    print("\n".join(failures) or f"{len(files)} bad files, {len(shown)} codes")
    sys.exit(1 if failures else 0)


main()
