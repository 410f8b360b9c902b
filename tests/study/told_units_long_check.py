#!/usr/bin/python3
"""The same as `told_units_check.py`, of whole scenarios and studies."""

import pathlib
import subprocess
import sys

sys.exit(subprocess.run([sys.executable, pathlib.Path(__file__).with_name("told_units_check.py"), "--whole"]).returncode)
