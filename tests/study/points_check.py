#!/usr/bin/python3
"""Points, spreads, claims and influences of `sweep` against scipy and numpy: Sobol and a Latin hypercube point by point, the latter's
discrepancy too."""

import json
import os
import pathlib
import sqlite3
import subprocess
import sys
import tempfile

import numpy
from scipy import stats
from scipy.stats import qmc

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ["STEADYFIRE"]
KBTU_H = 1055.05585262 / 3.6
failures = []


def ask(holds, what):
    if not holds:
        failures.append(what)


def study(points, count, parameters, seed=1, duration="0.001 d", figures='"fuel"', more=""):
    head = f"""format = 1
title = "Points"
[study]
scenario = "{ROOT}/scenarios/oversized_burner.toml"
duration = "{duration}"
points = "{points}"
count = {count}
seed = {seed}
figures = [{figures}]
"""
    return head + "".join(f'[[parameter]]\nname = "{at}"\nat = "{at}"\n{body}\n' for at, body in parameters.items()) + more


RANGES = {"boiler.minimum_input": (8, 30), "zone.bath.design_load": (2, 9), "zone.living.design_load": (9, 22),
          "zone.studio.design_load": (9, 25), "zone.bedrooms.design_load": (5, 19)}
BODIES = {at: f'from = "{low} kBtu/h"\nto = "{high} kBtu/h"' for at, (low, high) in RANGES.items()}


class Swept:
    def __init__(self, folder, name, text):
        (folder / f"{name}.toml").write_text(text)
        run = subprocess.run([PROGRAM, "sweep", f"{name}.toml", "--json", "-"], cwd=folder, capture_output=True, text=True)
        ask(run.returncode == 0, f"{name}: {run.returncode}, {run.stderr}")
        self.record = json.loads(run.stdout) if run.returncode == 0 else None
        with sqlite3.connect(folder / f"{name}.store") as db:
            inputs = db.execute("SELECT count(*) FROM columns WHERE role = 'turned'").fetchone()[0]
            columns = ", ".join(f"x{i + 1}" for i in range(inputs))
            self.x = numpy.array(db.execute(f"SELECT {columns} FROM points ORDER BY number").fetchall())
            figures = db.execute("SELECT count(*) FROM columns WHERE role = 'figure'").fetchone()[0]
            columns = ", ".join(f"y{i + 1}" for i in range(figures))
            self.y = numpy.array(db.execute(f"SELECT {columns} FROM points ORDER BY number").fetchall()).T

    def in_cube(self):
        low, high = (numpy.array([ends[i] for ends in RANGES.values()]) * KBTU_H for i in (0, 1))
        return (self.x - low) / (high - low)


def sobol(folder):
    mine = Swept(folder, "sobol", study("Sobol", 256, BODIES)).in_cube()
    theirs = qmc.Sobol(len(RANGES), scramble=False).random(512)[1:257]  # without the first point, which is 0
    ask(numpy.abs(mine - theirs).max() < 1e-9, f"Sobol: off by {numpy.abs(mine - theirs).max()}; {mine[:4]}, {theirs[:4]}")
    # The first points in three dimensions by hand from Joe and Kuo's direction numbers 1; 1 3; 1 3
    ask(numpy.allclose(mine[:3, :3], [[0.5, 0.5, 0.5], [0.75, 0.25, 0.25], [0.25, 0.75, 0.75]]), f"Sobol begins with {mine[:3, :3]}")


def drawn(seed, count):
    """What tools/study/latin_hypercube.hpp says, by numpy's own twister: so the same points come on any machine."""
    draw = numpy.random.RandomState(seed).random_sample
    for _ in RANGES:
        strata = list(range(count))
        for left in range(count, 1, -1):
            at = int(draw() * left)
            strata[left - 1], strata[at] = strata[at], strata[left - 1]
        yield [(stratum + draw()) / count for stratum in strata]


def latin(folder):
    count = 100
    one = Swept(folder, "latin", study("Latin hypercube", count, BODIES)).in_cube()
    strata = numpy.sort(numpy.floor(one * count).astype(int), axis=0)
    ask((strata == numpy.arange(count)[:, None]).all(), "a stratum of the Latin hypercube has not one point")
    expected = numpy.array(list(drawn(1, count))).T
    ask(numpy.abs(one - expected).max() < 1e-9, f"seed 1 draws other points than numpy's twister: {one[:2]}, {expected[:2]}")
    again = Swept(folder, "again", study("Latin hypercube", count, BODIES)).in_cube()
    ask((one == again).all(), "the same seed draws other points")
    other = Swept(folder, "other", study("Latin hypercube", count, BODIES, seed=2)).in_cube()
    ask((one != other).all(), "another seed draws the same points")
    theirs = [qmc.discrepancy(qmc.LatinHypercube(len(RANGES), seed=s).random(count)) for s in range(200)]
    for cube in one, other:
        mine = qmc.discrepancy(cube)
        ask(min(theirs) * 0.9 < mine < max(theirs) * 1.1, f"discrepancy {mine}, of scipy's {min(theirs)} to {max(theirs)}")


def spreads(folder):
    count = 400
    names = ["boiler.minimum_input", "zone.bath.design_load", "zone.living.design_load", "zone.elbows"]
    swept = Swept(folder, "spreads", study("Latin hypercube", count, {
        names[0]: 'spread = { kind = "normal", mean = "6 kBtu/h", deviation = "5 kBtu/h" }',  # the key's own range begins at 1
        names[1]: 'spread = { kind = "triangular", from = "2 kBtu/h", likely = "3 kBtu/h", to = "9 kBtu/h" }',
        names[2]: 'as = "factor"\nspread = { kind = "normal", mean = "100 %", deviation = "10 %" }',
        names[3]: 'from = 3\nto = 8'}))
    normal = stats.truncnorm((1 - 6) / 5, (5000 - 6) / 5, 6 * KBTU_H, 5 * KBTU_H)
    triangular = stats.triang(1 / 7, 2 * KBTU_H, 7 * KBTU_H)
    # In each stratum of u there is one point, so that the u of the sorted values is known to one count.
    for k, spread in (0, normal), (1, triangular), (2, stats.norm(1, 0.1)):
        u = numpy.sort(spread.cdf(swept.x[:, k]))
        ask((numpy.floor(u * count - 1e-7) <= numpy.arange(count)).all() and (numpy.ceil(u * count + 1e-7) > numpy.arange(count)).all(),
            f"{names[k]} is not spread as scipy says: {numpy.abs(u - (numpy.arange(count) + 0.5) / count).max() * count} strata off")
    ask(swept.x[:, 0].min() >= KBTU_H, "a value below the key's own range")
    told = [w for w in swept.record["words"] if "cut off" in w]
    ask(len(told) == 1 and f"{100 * stats.norm.cdf(-1):.2g}%" in told[0], f"what is cut off: {told}")
    values, counts = numpy.unique(swept.x[:, 3], return_counts=True)
    ask(list(values) == [3, 4, 5, 6, 7, 8] and counts.min() >= count // 6 - 1 and counts.max() <= count // 6 + 2,
        f"whole numbers: {values}, {counts}")


def claims_and_influences(folder):
    count = 60
    claim = '[[claim]]\nfigure = "fuel"\nat_most = "{} therm"\n'
    swept = Swept(folder, "hour", study("Latin hypercube", count, BODIES, duration="3 h", figures='"fuel", "starts"',
                                        more=claim.format(0.3) + claim.format(1000)))
    fuel, starts = swept.y
    ranks = numpy.apply_along_axis(stats.rankdata, 0, swept.x)
    scaled = (ranks - ranks.mean(0)) / ranks.std(0)
    ask(len(numpy.unique(fuel)) > count // 2, "the fuel of the hours hardly varies: this check sees nothing")
    ask(3 < len(numpy.unique(starts)) < count // 3, f"too few ties, or nothing else: {numpy.unique(starts)}")
    for figure, values in ("fuel", fuel), ("starts", starts):
        y = stats.rankdata(values)
        coefficients = numpy.linalg.lstsq(scaled, (y - y.mean()) / y.std(), rcond=None)[0]
        for k, at in enumerate(RANGES):
            mine = next(i for i in swept.record["influences"] if i["input"] == at and i["figure"] == figure)
            rho = stats.spearmanr(swept.x[:, k], values)[0]
            ask(abs(mine["rank_correlation"] - rho) < 1e-9, f"{figure}, {at}: Spearman {mine['rank_correlation']}, scipy {rho}")
            ask(abs(mine["share"] - max(0, coefficients[k] * rho)) < 1e-9,
                f"{figure}, {at}: share {mine['share']}, numpy {coefficients[k] * rho}")
    for mine in swept.record["claims"]:
        ends = stats.binomtest(mine["held"], mine["of"]).proportion_ci(0.95, "exact")
        ask(abs(mine["least_share"] - ends.low) < 1e-9 and abs(mine["most_share"] - ends.high) < 1e-9, f"{mine}, scipy {ends}")
    therm = 105505585.262
    ask(swept.record["claims"][0]["held"] == int((fuel <= 0.3 * therm).sum()), "claims are counted wrong")


with tempfile.TemporaryDirectory() as name:
    for check in sobol, latin, spreads, claims_and_influences:
        check(pathlib.Path(name))
print("\n".join(failures) or "points, spreads, claims and influences are scipy's")
sys.exit(1 if failures else 0)
