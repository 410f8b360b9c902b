"""Includes go one way: every folder includes only what the table of DEVELOPERS.md lets it include."""

import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
INCLUDE = re.compile(r'^\s*#\s*include\s*"([^"]+)"')
UPPER = ["models/arrangements", "models/house"]  # made of the kinds, which therefore include neither


def table_of(text):
    """{folder: (allowed folders or files, those of them that are not)} by the rows of the table; subfolders follow their folder."""
    table = {}
    for line in text.split("may include, besides itself |", 1)[1].split("\n\n", 1)[0].splitlines():
        cells = [c.strip() for c in line.strip("| ").split(" | ")]
        if len(cells) != 3 or cells[0].startswith("-"):
            continue
        names = re.findall(r"(not )?`([^`]+)`", cells[2])
        for folder in re.findall(r"`([^`]+)`", cells[0]):
            table[folder] = ([n for no, n in names if not no] + [folder], [n for no, n in names if no])
    table["models"][1].extend(UPPER)
    return table


def is_in(path, names):
    return any(path == n or path.startswith(n + "/") for n in names)


def faults_of(table, path, text):
    rows = [f for f in table if is_in(path, [f])]
    if not rows:
        yield f"{path}: its folder has no row in the table of DEVELOPERS.md"
        return
    allowed, refused = table[max(rows, key=len)]
    for number, line in enumerate(text.splitlines(), 1):
        if not (found := INCLUDE.match(line)):
            continue
        is_named = found[1] in allowed  # a single file passes where its folder is refused
        if not is_named and (not is_in(found[1], allowed) or is_in(found[1], refused)):
            yield f"{path}:{number}: must not include {found[1]}; it may include {', '.join(allowed)}"


def main():
    table = table_of((ROOT / "DEVELOPERS.md").read_text("utf-8"))

    # The rule itself, tried on what it must refuse and what it must let pass.
    def refuses(path, included):
        return bool(list(faults_of(table, path, f'#include "{included}"\n')))
    for path, included in (("sim/network/a.cpp", "models/pipe.hpp"), ("sim/network/a.cpp", "sim/heat/balance.hpp"),
                           ("sim/scenario/a.cpp", "sim/network/plan.hpp"), ("sim/record/a.cpp", "sim/march/march.hpp"),
                           ("models/pipe.hpp", "sim/network/builder.hpp"), ("models/gas/a.hpp", "models/house/house.hpp"),
                           ("models/arrangements/a.cpp", "models/house/house.hpp"), ("models/house/a.cpp", "tools/review/reviewer.hpp"),
                           ("plots/chart.cpp", "sim/march/march.hpp"), ("tools/review/a.cpp", "tools/job/house_run.hpp"),
                           ("tools/job/a.cpp", "tools/cli/command.hpp"), ("tools/study/a.cpp", "tools/web/server.hpp"),
                           ("sim/other/a.cpp", "sim/core/words.hpp")):
        assert refuses(path, included), f"{path} may include {included}"
    for path, included in (("models/arrangements/a.cpp", "sim/network/builder.hpp"), ("models/emitters/a.hpp", "models/gas/b.hpp"),
                           ("models/arrangements/a.hpp", "models/house/piping_sections.hpp"), ("tools/job/a.cpp", "tools/review/b.hpp"),
                           ("tools/study/advise/a.cpp", "tools/study/case.hpp"), ("sim/march/a.cpp", "sim/heat/balance.hpp")):
        assert not refuses(path, included), f"{path} must not include {included}"

    files = [f for top in ("sim", "models", "plots", "tools", "tests") for f in sorted((ROOT / top).rglob("*.[ch]pp"))
             if "node_modules" not in f.parts]
    assert files, "no sources found"
    faults = []
    for f in files:
        path = f.relative_to(ROOT).as_posix()
        local = path.startswith("tests/")  # tests also name what stands beside them
        faults += [x for x in faults_of(table, path, f.read_text("utf-8")) if not (local and "/" not in x.split("include ")[1].split(";")[0])]
    print("\n".join(faults) or f"{len(files)} files include in the right direction")
    return bool(faults)


sys.exit(main())
