#!/usr/bin/python3
"""Every finding that the program can tell stands in sim/core/findings.md, and nothing else does."""

import pathlib
import re
import sys

TOP = pathlib.Path(__file__).resolve().parents[2]
ID = r"[a-z_]+\.(?!csv\b)[a-z_]+"

listed = set(re.findall(rf"^\| ({ID}) \|", (TOP / "sim/core/findings.md").read_text(), re.M))
used = set()
for folder in ("sim", "models", "tools"):
    for file in sorted((TOP / folder).rglob("*.[ch]pp")):
        for first in re.findall(rf'\{{([^{{}};,]*"{ID}"[^{{}};,]*),', file.read_text()):  # of a finding, the first field
            used |= set(re.findall(rf'"({ID})"', first))
        used |= set(re.findall(rf'\b(?:find|judge)\w*\("({ID})"', file.read_text()))  # by a reviewer's own short call
faults = [f"{i} has no entry in sim/core/findings.md" for i in sorted(used - listed)]
faults += [f"{i} stands in sim/core/findings.md, and nothing tells it" for i in sorted(listed - used)]
print("\n".join(faults) or f"{len(listed)} findings are listed")
sys.exit(1 if faults or not used else 0)
