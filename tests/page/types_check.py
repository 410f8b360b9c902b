"""The TypeScript of the page and of the reports holds by strict types, with the libraries that the build fetched."""

import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("STEADYFIRE", ROOT / "build/release/steadyfire"))
LIBRARIES = {"tools/web/page": PROGRAM.parent / "npm-page/node_modules", "plots": PROGRAM.parent / "npm/node_modules"}
CHECKER = LIBRARIES["tools/web/page"] / ".bin/tsc"

with tempfile.TemporaryDirectory() as folder:  # a checkout has no libraries beside its sources
    faults = ""
    for source in LIBRARIES:
        shutil.copytree(ROOT / source, pathlib.Path(folder, source), ignore=shutil.ignore_patterns("node_modules", "*.png"))
    for source, libraries in LIBRARIES.items():
        (pathlib.Path(folder, source) / "node_modules").symlink_to(libraries)
    for source in LIBRARIES:
        told = subprocess.run([CHECKER, "--noEmit", "-p", pathlib.Path(folder, source)], capture_output=True, text=True)
        faults += told.stdout + told.stderr + (f"{source}: tsc ended with {told.returncode}" if told.returncode else "")
    print(faults or "types hold")
    sys.exit(bool(faults))
