#!/usr/bin/python3
"""`sweep` under MPI: the same store with any number of ranks, whatever becomes of one of them; errors told once, and no hang.

Several ranks on one machine stand for many machines: what goes between them is the same.
"""

import os
import pathlib
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ["STEADYFIRE"]
# The machine of a test has one address, no batch system and, in a container, only root.
ENVIRONMENT = os.environ | {"OMPI_ALLOW_RUN_AS_ROOT": "1", "OMPI_ALLOW_RUN_AS_ROOT_CONFIRM": "1", "OMPI_MCA_plm_rsh_agent": "/bin/false",
                            "OMPI_MCA_btl_vader_single_copy_mechanism": "none", "OMPI_MCA_rmaps_base_oversubscribe": "1"}
failures = []

STUDY = f"""format = 1
title = "Shared out"
[study]
scenario = "{ROOT}/scenarios/oversized_burner.toml"
duration = "LENGTH"
figures = ["starts", "fuel", "bath.mean_room"]
[[parameter]]
name = "minimum fire"
at = "boiler.minimum_input"
from = "8 kBtu/h"
to = "170 kBtu/h"
steps = 10
[[parameter]]
name = "loads"
at = "zone.design_load"
values = ["50 %", "80 %", "120 %", "149 %"]
as = "factor"
"""


def ask(holds, what):
    if not holds:
        failures.append(what)


def command(ranks, *arguments, recover=False):
    return ["mpirun", *(["--enable-recovery"] if recover else []), "-n", str(ranks), PROGRAM, "sweep", *arguments]


def run(folder, ranks, *arguments):
    return subprocess.run(command(ranks, *arguments), cwd=folder, env=ENVIRONMENT, capture_output=True, text=True, timeout=300)


def rows(store):
    """What must not hang on who did it and when."""
    with sqlite3.connect(f"file:{store}?mode=ro", uri=True) as base:
        return base.execute("SELECT number, x1, x2, y1, y2, y3, fault FROM points ORDER BY number").fetchall()


def ranks_of(store):
    with sqlite3.connect(f"file:{store}?mode=ro", uri=True) as base:
        return {rank for (rank,) in base.execute("SELECT DISTINCT rank FROM points")}


def workers(parent):
    """The ranks that mpirun started, by their number."""
    found = {}
    for entry in pathlib.Path("/proc").glob("[0-9]*"):
        try:
            if int((entry / "stat").read_text().rsplit(")", 1)[1].split()[1]) != parent:
                continue
            for variable in (entry / "environ").read_bytes().split(b"\0"):
                if variable.startswith(b"OMPI_COMM_WORLD_RANK="):
                    found[int(variable.split(b"=")[1])] = int(entry.name)
        except (OSError, ProcessLookupError):
            continue
    return found


def kill_one(folder, store, ranks, which, *arguments, recover):
    """Kills a rank once some points are kept. The exit code."""
    began = subprocess.Popen(command(ranks, *arguments, "--store", store, recover=recover), cwd=folder, env=ENVIRONMENT,
                             stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    until = time.time() + 120
    while time.time() < until and began.poll() is None:
        try:
            if len(rows(folder / store)) >= 3 and which in workers(began.pid):
                os.kill(workers(began.pid)[which], signal.SIGKILL)
                break
        except sqlite3.OperationalError:
            pass
        time.sleep(0.02)
    else:
        failures.append(f"rank {which} could not be killed in time")
    try:
        began.communicate(timeout=200)
    except subprocess.TimeoutExpired:
        began.kill()
        failures.append(f"rank {which} was killed, and the rest never ended")
    return began.returncode


def main():
    folder = pathlib.Path(tempfile.mkdtemp(prefix="steadyfire-ranks-"))
    (folder / "quick.toml").write_text(STUDY.replace("LENGTH", "0.01 d"))
    (folder / "slow.toml").write_text(STUDY.replace("LENGTH", "0.5 d"))

    for study in ("quick", "slow"):
        alone = subprocess.run([PROGRAM, "sweep", f"{study}.toml", "--store", f"{study}.store"], cwd=folder, capture_output=True, text=True)
        ask(alone.returncode == 0, f"without MPI: {alone.stderr}")
    truth, slow_truth = rows(folder / "quick.store"), rows(folder / "slow.store")
    ask(len(truth) == 40 and any(r[6] for r in truth) and not all(r[6] for r in truth), "some points fail, and not all")

    for ranks in (1, 2, 4):
        store = f"with {ranks}.store"
        ended = run(folder, ranks, "quick.toml", "--store", store)
        ask(ended.returncode == 0, f"{ranks} ranks: {ended.returncode} {ended.stderr}")
        ask(rows(folder / store) == truth, f"{ranks} ranks find what one thread finds")
        ask(ended.stdout.count("40 points") == 1, f"{ranks} ranks tell it once:\n{ended.stdout}")
        again = run(folder, ranks, "quick.toml", "--store", store)
        ask(again.returncode == 0 and rows(folder / store) == truth, "a finished study is told again, by ranks too")

    ended = run(folder, 3, "slow.toml", "--store", "shared.store")
    ask(rows(folder / "shared.store") == slow_truth, f"long points, shared: {ended.stderr}")
    ask(ranks_of(folder / "shared.store") == {0, 1, 2}, "each rank has its part")

    # One rank is lost. Where MPI lets the others live, they do its part; where not, the next call does.
    kill_one(folder, "one lost.store", 3, 2, "slow.toml", "--patience", "1", recover=True)
    ask(rows(folder / "one lost.store") == slow_truth, "a lost rank's points are run by the others, each once")
    code = kill_one(folder, "all lost.store", 3, 1, "slow.toml", recover=False)
    ask(code != 0, "without recovery mpirun ends all")
    kept = len(rows(folder / "all lost.store"))
    ended = run(folder, 2, "slow.toml", "--store", "all lost.store")
    ask(ended.returncode == 0 and 3 <= kept and rows(folder / "all lost.store") == slow_truth, f"the same call goes on: {ended.stderr}")
    kill_one(folder, "no keeper.store", 3, 0, "slow.toml", recover=False)
    ended = run(folder, 2, "slow.toml", "--store", "no keeper.store")
    ask(ended.returncode == 0 and rows(folder / "no keeper.store") == slow_truth, f"rank 0 lost, and gone on: {ended.stderr}")

    # Errors: told once, the same exit code, no hang.
    (folder / "bad.toml").write_text(STUDY.replace("LENGTH", "1 gpm"))
    ended = run(folder, 3, "bad.toml")
    ask(ended.returncode == 2 and ended.stderr.count("error[E207]") == 1, f"a bad study: {ended.returncode} {ended.stderr}")
    ended = run(folder, 3, "quick.toml", "--store", "slow.store")
    ask(ended.returncode == 2 and ended.stderr.count("error[E363]") == 1, f"another study's store: {ended.returncode} {ended.stderr}")
    ended = run(folder, 3, "quick.toml", "--store", "no such folder/x.store")
    ask(ended.returncode in (2, 4) and ended.stderr.count("no such folder") >= 1, f"a store that cannot be: {ended.returncode} {ended.stderr}")

    shutil.rmtree(folder)
    print("\n".join(failures) or "ranks share a study, and survive each other")
    return bool(failures)


sys.exit(main())
