"""What is asked of every source by style: how a line may look, and that a header stays small.

Alignment within a line is left to its author's eye; .clang-format is a start for new files.
"""

import pathlib
import re
import sys

COLUMNS, HEADER_LINES = 140, 300
TOPS = ("sim", "models", "plots", "tools", "tests", ".ci")
CODE = {".hpp", ".cpp"}
TEXT = CODE | {".py", ".sh", ".cmake", ".toml", ".js", ".css", ""}


def faults_of(path, text):
    lines = text.split("\n")
    if lines[-1]:
        yield f"{path}:{len(lines)}: the last line has no end"
    if text.endswith("\n\n"):
        yield f"{path}:{len(lines)}: blank lines at the end"
    for number, line in enumerate(lines, 1):
        if "\t" in line or "\r" in line:
            yield f"{path}:{number}: a tab or carriage return"
        if line != line.rstrip():
            yield f"{path}:{number}: blanks at the end of the line"
        if path.suffix in CODE and len(line) > COLUMNS:
            yield f"{path}:{number}: {len(line)} columns, {COLUMNS} at most"
    if path.suffix in CODE and not re.fullmatch(r"[a-z0-9_]+", path.stem):
        yield f"{path}: the name is not snake_case"
    if path.suffix == ".hpp":
        if lines[0] != "#pragma once":
            yield f"{path}:1: a header starts with #pragma once"
        if len(lines) - 1 >= HEADER_LINES:
            yield f"{path}: {len(lines) - 1} lines; a header of {HEADER_LINES} asks to be split"


def main():
    bad = "#include <a>\nint\tx; \n" + "y" * 141
    assert len(list(faults_of(pathlib.PurePath("BadName.hpp"), bad))) == 6, "the rules refuse what they should"

    root = pathlib.Path(__file__).resolve().parents[2]
    files = [f.relative_to(root) for top in TOPS for f in sorted((root / top).rglob("*"))
             if f.is_file() and f.suffix in TEXT and not {"node_modules", "__pycache__"} & set(f.parts)
             and "tests/input" not in f.relative_to(root).as_posix()]  # bad input is bad on purpose
    assert len(files) > 10, "too few sources found"
    faults = [fault for f in files for fault in faults_of(f, (root / f).read_text("utf-8"))]
    print("\n".join(faults) or f"{len(files)} files are in form")
    return bool(faults)


sys.exit(main())
