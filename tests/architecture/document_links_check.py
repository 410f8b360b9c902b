#!/usr/bin/python3
"""Every relative link in a document leads somewhere, and so does every path of this repository that a document names in backticks."""

import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
LINK = re.compile(r"\]\((?!\w+:|#)([^)#\s]+)")
PATH = re.compile(r"`((?:\.ci|models|plots|scenarios|sim|tests|tools)/[^`\s…]*)`")  # ends in "…" where names are left out
MADE = ("tests/node_modules", "tests/FOLDER")  # by a build, or a word for any


def faults_of(file, text):
    for target in LINK.findall(text):
        if not (file.parent / target).exists():
            yield f"{file.relative_to(ROOT)}: the link to {target} leads nowhere"
    for path in PATH.findall(text):
        tops = (ROOT, file.parent)  # tools/README.md may say `study/advise` and `tools/study/advise`
        if not path.startswith(MADE) and not any(any(top.glob(path.rstrip("/"))) for top in tops):
            yield f"{file.relative_to(ROOT)}: there is no {path}"


def main():
    assert list(faults_of(ROOT / "README.md", "[a](no/where.md) ![b](plots/pictures/none.png) `sim/nothing.hpp`"))[2:], "wrong ones pass"
    assert not list(faults_of(ROOT / "README.md", "[a](README.md) [b](https://example.org) `sim/record/*.schema.json`")), "right ones fail"
    files = [f for f in sorted(ROOT.rglob("*.md")) if not {"node_modules", "build"} & set(f.relative_to(ROOT).parts)]
    assert len(files) > 5, "too few documents found"
    faults = [fault for f in files for fault in faults_of(f, f.read_text())]
    print("\n".join(faults) or f"{len(files)} documents lead somewhere")
    return bool(faults)


sys.exit(main())
