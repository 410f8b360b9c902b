#!/usr/bin/python3
"""The program may be handed out under Apache-2.0: whatever it is made with is permissive, weak copyleft or public domain.

Looked at are the shared libraries that it loads (when it starts, and when Graphviz lays out its schematic), the archives on its link line, the
packages whose headers were compiled in, and the npm libraries inside its pages. A package's license is read from its Debian copyright file;
where that file also covers what is not in the library, or is written for people alone, JUDGED says what counts and by which words.
THIRD_PARTY.md must name each with its license, and hold the texts that have to travel along; pages must carry those of their scripts.
"""

import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import urllib.request

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("STEADYFIRE", ROOT / "build/release/steadyfire"))
BUILD = PROGRAM.parent

# By the names that Debian and npm use. The kinds are ours; nothing else is judged here.
LICENSES = {
    "public domain": ["public-domain", "CC0-1.0", "Unlicense"],
    "permissive": ["Expat", "MIT", "MIT-style", "Expat with embedded exception", "BSD-2-Clause", "BSD-3-Clause", "Apache-2.0", "BSL-1.0",
                   "Zlib", "ISC", "FTL", "libpng", "UCAR"],
    "weak copyleft": ["LGPL-2+", "LGPL-2.1+", "LGPL-3+", "MPL-1.1", "MPL-2", "EPL-1.0", "GPL-3+ with GCC runtime exception",
                      "GPL-2 with syscall note"],
    "GPL": ["GPL-1+", "GPL-2", "GPL-2+", "GPL-3+", "AGPL-3+"],
}
KINDS = [*LICENSES, "unknown"]  # from free to forbidden
CALLED = {"Expat": "MIT", "Expat with embedded exception": "MIT", "MPL-2": "MPL-2.0", "public-domain": "public domain"}

# Packages whose copyright file needs judgement: the license, and the words that say so (in that file, or in the one named).
MIT_WORDS = r"Permission\s+is\s+hereby\s+granted,\s+free\s+of\s+charge"
OLD_MIT_WORDS = r"Permission to use, copy, modify, distribute, and sell this software"
BSD_WORDS = r"Redistribution and use in source and binary forms, with or without\s+modification, are permitted"
JUDGED = {
    # SuiteSparse is many libraries. KLU and BTF are under its common LGPL, as read; CHOLMOD's GPL modules, SPQR and UMFPACK are not linked.
    r"libamd2": ("BSD-3-Clause", r"Files: AMD/\*\n.*\nLicense: BSD-3-clause"),
    r"libcolamd2": ("BSD-3-Clause", r"Files: COLAMD/\*\n.*\nLicense: BSD-3-clause"),
    r"libsuitesparseconfig5": ("public-domain", r"No licensing restrictions apply to this file or to the SuiteSparse_config"),
    r"libcholmod3": ("GPL-2+", r"Files: CHOLMOD/Supernodal/\*.*\n(?:.+\n)*?License: GPL-2\+"),
    r"libsundials-.*": ("BSD-3-Clause", r"License: BSD-3-clause-LLNS-additional-notice"),
    r"libc6(-dev)?": ("LGPL-2.1+", r"GNU Lesser General Public\s+License as published by the Free Software Foundation; either\s+version 2.1"),
    r"libgcc-s1|libgcc-12-dev|libstdc\+\+6|libstdc\+\+-12-dev|lib(a|ub|t)san\d":
        ("GPL-3+ with GCC runtime exception", r"with version 3.1 of the GCC\s+Runtime Library Exception"),
    r"linux-libc-dev": ("GPL-2 with syscall note", r"GPL-2.0 WITH Linux-syscall-note", "/usr/include/linux/types.h"),
    # The copyright file speaks of libtool, which is GPL.
    r"libltdl7": ("LGPL-2+", r"GNU Libltdl is free software(?:.*\n){1,3}License as published (?:.*\n)version 2", "/usr/include/ltdl.h"),
    r"libopenmpi3|libopenmpi-dev|libhwloc15": ("BSD-3-Clause", BSD_WORDS),
    r"libudunits2-.*": ("UCAR", r"granted the right, without\s+any fee or cost, to use, copy, modify, alter, enhance and distribute"),
    # What Graphviz's text plug-in loads.
    r"libcairo2": ("LGPL-2.1+ or MPL-1.1", r"\(LGPL\) version 2.1 or the Mozilla Public\s+License \(MPL\) version 1.1"),
    r"libglib2.0-0": ("LGPL-2.1+", r"License: LGPL-2\+ and LGPL-2.1\+ and FSFULLR and CC0-1.0"),
    r"libblkid1": ("LGPL-2.1+", r"Files: libblkid/\*.*\n(?:.+\n)*?License: LGPL-2.1\+"),
    r"libmount1": ("LGPL-2.1+", r"Files: libmount/\*.*\n(?:.+\n)*?License: LGPL-2.1\+"),
    r"libpcre2-8-0": ("BSD-3-Clause", r"License: BSD-3-clause-Cambridge with BINARY LIBRARY-LIKE PACKAGES exception"),
    r"libselinux1": ("public-domain", r"This library \(libselinux\) is public domain software"),
    r"libfontconfig1|libxau6|libxdmcp6|libxrender1": ("MIT-style", OLD_MIT_WORDS),
    r"libpixman-1-0|libx11-6|libxcb.*|libxext6": ("MIT", MIT_WORDS),
}

faults = []


def ask(holds, what):
    if not holds:
        faults.append(what)


def judged(expression):
    """(how THIRD_PARTY.md calls it, kind) of "A", of "A and B", where both bind, and of "A or B", where the freer may be chosen."""
    for word, choose in (" and ", max), (" or ", min):
        if word in expression:
            parts = [judged(part) for part in expression.split(word)]
            return word.join(dict.fromkeys(called for called, _ in parts)), choose((kind for _, kind in parts), key=KINDS.index)
    for kind, names in LICENSES.items():
        for name in names:
            if name.lower() == expression.lower():
                return CALLED.get(name, name), kind
    return expression, "unknown"


def license_of(package, copyright_file):
    """What a Debian package's library is under, by the text of its copyright file."""
    for names, (license, words, *elsewhere) in JUDGED.items():
        if re.fullmatch(names, package):
            text = pathlib.Path(elsewhere[0]).read_text() if elsewhere else copyright_file
            return license if re.search(words, text) else f"{license}, but the words that say so are gone"
    for paragraph in re.split(r"\n[ \t]*\n", copyright_file):
        fields = dict(re.findall(r"^(Files|License):((?:.*\n?)(?:[ \t]+.*\n?)*)", paragraph, re.M))
        if "*" in fields.get("Files", "").split() and "License" in fields:
            return fields["License"].strip().partition("\n")[0]
    return "not read from its copyright file"


def fault_of(package, license):
    kind = judged(license)[1]
    return f"{package} is under {license}: {kind}" if kind in ("GPL", "unknown") else ""


def owners(files):
    """Debian's package of each file; "" of what no package brought."""
    names = {}  # as dpkg may know it: itself, what it leads to, and either with and without /usr
    for file in files:
        for path in {file, os.path.realpath(file)}:
            names |= {name: file for name in (path, path.removeprefix("/usr"), "/usr" + path)}
    found = dict.fromkeys(files, "")
    for listed in pathlib.Path("/var/lib/dpkg/info").glob("*.list"):
        for line in listed.read_text().splitlines():
            if line in names:
                found[names[line]] = listed.stem.partition(":")[0]
    return found


def loaded(arguments, folder):
    """The shared libraries that a call of the program initializes, plug-ins too."""
    run = subprocess.run([PROGRAM, *arguments], cwd=folder, capture_output=True, text=True, env={**os.environ, "LD_DEBUG": "files"})
    ask(run.returncode == 0, f"{arguments}: {run.returncode}, {run.stderr[-400:]}")
    return set(re.findall(r"calling init: (/\S+)", run.stderr))


def linked():
    told = subprocess.run(["ldd", PROGRAM], capture_output=True, text=True, check=True).stdout
    ask("not found" not in told, told)
    return set(re.findall(r"(/\S+) \(0x", told))


def archives():
    line = re.search(r"^build steadyfire: (?:.*\n)(?: .*\n)*?  LINK_LIBRARIES = (.*)", (BUILD / "build.ninja").read_text(), re.M)[1]
    return {word for word in line.split() if word.startswith("/") and word.endswith(".a")}


def headers():
    told = subprocess.run(["ninja", "-C", BUILD, "-t", "deps"], capture_output=True, text=True, check=True).stdout
    found, is_ours = set(), False
    for line in told.splitlines():
        if not line.startswith(" "):
            is_ours = line.startswith("CMakeFiles/steadyfire")
        elif is_ours and line.strip().startswith("/usr/"):
            found.add(line.strip())
    return found


def page_of_serve(path):
    server = subprocess.Popen([PROGRAM, "serve", ROOT / "scenarios", "--port", "0"], stdout=subprocess.PIPE, text=True)
    try:
        address = re.search(r"http://[^/\s]+/", server.stdout.readline())[0]
        with urllib.request.urlopen(address + path) as answer:
            return answer.read().decode()
    finally:
        server.terminate()
        server.wait()


def check_rules():
    """The rules, tried on what they must refuse and what they must let pass."""
    head = "Format: x\n\nFiles: *\nCopyright: 2020 A\nLicense: {}\n\nFiles: debian/*\nLicense: GPL-2+\n\nLicense: GPL-2+\n text\n"
    for license, fault in {"GPL-2+": "GPL", "GPL-3+": "GPL", "AGPL-3+": "GPL", "MIT and GPL-2+": "GPL", "Handmade": "unknown", "Expat": "",
                           "LGPL-2.1+": "", "GPL-3+ or LGPL-3+": "", "public-domain": ""}.items():
        told = fault_of("libmadeup1", license_of("libmadeup1", head.format(license)))
        assert told.endswith(fault) and bool(told) == bool(fault), (license, told)
    assert "not read" in fault_of("libmadeup1", license_of("libmadeup1", "You may use it."))
    told = fault_of("libcholmod3", license_of("libcholmod3", "Files: CHOLMOD/Supernodal/*\nCopyright: D\nLicense: GPL-2+\n"))
    assert told.endswith(": GPL"), told
    assert "are gone" in fault_of("libamd2", license_of("libamd2", "Files: AMD/*\nCopyright: D\nLicense: GPL-2+\n"))


def check_bundler(folder):
    """What bundles scripts keeps a library's license, leaves out what is not used, and refuses a library without one."""
    modules = folder / "node_modules"
    for name, license in ("kept", "Kept by law"), ("unused", "Not there"), ("bare", ""):
        (modules / name).mkdir(parents=True)
        (modules / name / "package.json").write_text(json.dumps({"name": name, "version": "1.2.3", "main": "index.js"}))
        (modules / name / "index.js").write_text(f"export const {name} = () => '{name} works';\n")
        if license:
            (modules / name / "LICENSE").write_text(license)
    (modules / "esbuild").symlink_to(BUILD / "npm/node_modules/esbuild")
    (folder / "package.json").write_text("{}")

    def bundled(script):
        (folder / "entry.ts").write_text(script)
        run = subprocess.run(["node", ROOT / "tools/scripts/bundle.mjs", folder, folder / "entry.ts", "out.js"], capture_output=True, text=True)
        return run, (folder / "out.js").read_text() if run.returncode == 0 else ""

    run, out = bundled("import { kept } from 'kept'; import { unused } from 'unused'; console.log(kept());")
    ask(out.startswith("/*! In this file:\n\nkept 1.2.3\n\nKept by law\n*/\n") and "kept works" in out, f"a license is lost: {out}{run.stderr}")
    ask("Not there" not in out, f"the license of what is not in the script: {out}")
    ask(bundled("import { bare } from 'bare'; console.log(bare());")[0].returncode != 0, "a library without a license is bundled")


def check_pages(folder, third_party):
    """Each page carries the whole license of each library that is in its scripts; gives all of these."""
    study = (f'format = 1\ntitle = "Two fires"\n[study]\nscenario = "{ROOT}/scenarios/oversized_burner.toml"\nduration = "0.001 d"\nfigures = ["fuel"]\n'
             '[[parameter]]\nname = "fire"\nat = "boiler.minimum_input"\nvalues = ["8 kBtu/h", "9 kBtu/h"]\n')
    (folder / "study.toml").write_text(study)
    run = subprocess.run([PROGRAM, "sweep", "study.toml", "--report", "study.html"], cwd=folder, capture_output=True, text=True)
    ask(run.returncode == 0, f"sweep: {run.returncode}, {run.stderr}")
    all_found = set()
    for page, text, modules, least in (
            ("the report of a run", (folder / "run.html").read_text(), "npm", {"uplot"}),
            ("the report of a study", (folder / "study.html").read_text(), "npm", {"@observablehq/plot", "d3-scale", "d3-shape", "d3-array"}),
            ("the page's script", page_of_serve("page.js"), "npm-page", {"preact", "uplot"}),
            ("the page's style sheet", page_of_serve("page.css"), "npm-page", {"uplot"})):
        comment = re.search(r"/\*! In this file:\n.*?\*/", text, re.S)
        found = set(re.findall(r"(@?[a-z0-9/-]+) \d+\.\d+\.\d+(?=[,\n])", comment[0])) if comment else set()
        ask(least <= found, f"{page} names only the licenses of {found}")
        for name in found:
            library = BUILD / modules / "node_modules" / name
            license = next(library.glob("LICEN*")).read_text().replace("\r", "").strip()
            ask(license in comment[0], f"{page} lacks the license of {name}")
            ask(license in third_party, f"THIRD_PARTY.md lacks the license of {name}")
            if fault := fault_of(f"npm's {name}", json.loads((library / "package.json").read_text())["license"]):
                faults.append(f"{page}: {fault}")
        all_found |= found
    return all_found


def check_third_party(text, packages, libraries):
    """Each stands in a row of a table with its license, and no package stands there that is not used."""
    rows = [line for line in text.splitlines() if line.startswith("|")]
    for name, license in packages.items():
        ask(any(f"`{name}`" in row and f"| {judged(license)[0]} |" in row for row in rows),
            f"THIRD_PARTY.md has no row with `{name}` under {judged(license)[0]}")
    for name in libraries:
        ask(any(f"`{name}`" in row for row in rows), f"THIRD_PARTY.md has no row with `{name}`")
    named = {name for row in rows for name in re.findall(r"`([^`]+)`", row)}
    for name in sorted(named - set(packages) - libraries):
        faults.append(f"THIRD_PARTY.md names `{name}`, which is not used")
    for file in sorted((ROOT / "tools/licenses").iterdir()):
        common = pathlib.Path("/usr/share/common-licenses", re.sub(r"^([AL]?GPL-3)\.0$", r"\1", file.stem))
        ask(file.read_text() == common.read_text(), f"{file.name} differs from {common}")
        ask(f"tools/licenses/{file.name}" in text, f"THIRD_PARTY.md does not name {file.name}")


def main():
    check_rules()
    third_party = (ROOT / "THIRD_PARTY.md").read_text()
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        drawing = loaded(["run", str(ROOT / "scenarios/oversized_burner.toml"), "--report", "run.html"], folder)
        ways = {"loaded by a plug-in": drawing, "loaded": linked(), "archive": archives(), "headers": headers()}
        libraries = check_pages(folder, third_party)
        check_bundler(folder)
    ask(all(len(files) > 0 for files in ways.values()), f"too little found: {[(way, len(files)) for way, files in ways.items()]}")
    used = {}  # by package: in which ways
    for way, files in ways.items():
        for file, package in owners({f for f in files if not f.startswith(str(BUILD))}).items():
            ask(package, f"no package brought {file}")
            used.setdefault(package, set()).add(way)
    packages = {}
    for package, how in sorted(used.items()):
        if package:
            license = license_of(package, pathlib.Path("/usr/share/doc", package, "copyright").read_text(errors="replace"))
            packages[package] = license
            called, kind = judged(license)
            print(f"{package:28} {kind:14} {called}   ({', '.join(sorted(how - {'loaded by a plug-in'} or how))})")
            if fault := fault_of(package, license):
                faults.append(fault)
    check_third_party(third_party, {p: l for p, l in packages.items() if not re.fullmatch(r"lib(a|ub|t)san\d", p)}, libraries)
    print("\n".join(faults) or f"{len(packages)} Debian packages and {len(libraries)} npm libraries, none of them GPL")
    return bool(faults)


sys.exit(main())
