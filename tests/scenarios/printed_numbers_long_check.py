#!/usr/bin/python3
"""The numbers of the documents that take minutes: studies, tuning, advice, a fit. See printed_numbers_check.py."""

import sys

from printed_numbers_check import main

sys.exit(main(is_long=True))
