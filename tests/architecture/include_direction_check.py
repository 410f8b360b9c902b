"""Includes go one way: core <- component <- models; core <- component <- engine; record <- plots; tools composes."""

import pathlib
import re
import sys

# The longest prefix of a file's path decides; it may include what starts with one of these.
ALLOWED = {
    "sim/core/": ["sim/core/"],
    "sim/component/": ["sim/core/", "sim/component/"],
    "sim/record/": ["sim/core/", "sim/component/", "sim/record/"],
    "sim/": ["sim/"],
    "models/": ["sim/core/", "sim/component/", "models/"],
    "models/arrangements/": ["sim/core/", "sim/component/", "models/", "sim/network/builder.hpp"],
    # A house is what its scenario's sections become: it reads them and builds its pieces.
    "models/house/": ["sim/core/", "sim/component/", "models/", "sim/network/", "sim/scenario/"],
    "models/counter/": ["sim/core/", "sim/component/", "models/", "sim/scenario/"],  # answers are a file of their own
    # A review looks at everything that the engine can tell of a house.
    "models/review/": ["sim/", "models/"],
    "plots/": ["sim/core/", "sim/record/", "plots/"],
    "tools/": ["sim/", "models/", "plots/", "tools/"],
}
INCLUDE = re.compile(r'^\s*#\s*include\s*"([^"]+)"')


def faults_of(path, text):
    allowed = ALLOWED[max((p for p in ALLOWED if path.startswith(p)), key=len)]
    for number, line in enumerate(text.splitlines(), 1):
        if (found := INCLUDE.match(line)) and not any(found[1].startswith(a) for a in allowed):
            yield f"{path}:{number}: must not include {found[1]}; it may include {', '.join(allowed)}"


def main():
    # The rule itself, tried on what it must refuse and what it must let pass.
    assert list(faults_of("sim/network/a.cpp", '#include "models/pipe.hpp"\n'))
    assert list(faults_of("models/pipe.hpp", '#include "sim/network/builder.hpp"\n'))
    assert list(faults_of("plots/chart.cpp", '#include "sim/march/march.hpp"\n'))
    assert not list(faults_of("models/arrangements/a.cpp", '#include "sim/network/builder.hpp"\n'))

    root = pathlib.Path(__file__).resolve().parents[2]
    files = [f for top in ("sim", "models", "plots", "tools") for f in sorted((root / top).rglob("*.[ch]pp"))
             if "node_modules" not in f.parts]
    assert files, "no sources found"
    faults = [fault for f in files for fault in faults_of(f.relative_to(root).as_posix(), f.read_text("utf-8"))]
    print("\n".join(faults) or f"{len(files)} files include in the right direction")
    return bool(faults)


sys.exit(main())
