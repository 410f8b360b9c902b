"""Reads what `steadyfire run --plan` writes (sim/study/plan.schema.json) and gives its equations to scipy.

Between two events x' = A·x + Σ factor·formula(x). Formulas are steps; from these, values and slopes are made here
as Python functions, once for numbers (few laws of a form) and once for arrays (many).
"""
import json
import math

import numpy as np
from scipy.integrate import BDF, odeint
from scipy.sparse import csc_matrix, csr_matrix

FEW = 8  # laws of one form that are quicker one by one than as arrays
STEPS = {  # value, and its slope from those of its operands (a, b, c; da, db, dc; r the result)
    "add": ("{a} + {b}", "{da} + {db}"),
    "subtract": ("{a} - {b}", "{da} - {db}"),
    "multiply": ("{a} * {b}", "{da} * {b} + {a} * {db}"),
    "divide": ("{a} / {b}", "({da} - {r} * {db}) / {b}"),
    "negate": ("-{a}", "-{da}"),
    "square_root": ("sqrt({a})", "0.5 * {da} / {r}"),
    "exponential": ("exp({a})", "{r} * {da}"),
    "logarithm": ("log({a})", "{da} / {a}"),
    "power": ("{a} ** {b}", "{b} * {a} ** ({b} - 1) * {da}"),
    "absolute": ("abs({a})", "where({a} < 0, -{da}, {da})"),
    "lesser": ("where({b} < {a}, {b}, {a})", "where({b} < {a}, {db}, {da})"),
    "greater": ("where({a} < {b}, {b}, {a})", "where({a} < {b}, {db}, {da})"),
    "at_least": ("where({a} >= {b}, 1.0, 0.0)", None),
    "choose": ("where({a} == 1, {b}, {c})", "where({a} == 1, {db}, {dc})"),
}


def compiled(formula, library):
    """Two functions of inputs x and constants c: the value, and the list of its slopes by each input."""
    steps = formula["steps"]
    inputs = sum(s[0] == "input" for s in steps)
    values, slopes = [], []
    moves = [[None] * inputs for _ in steps]  # by step and input: the name of the slope, None for none
    for k, (name, *operands) in enumerate(steps):
        if name == "input":
            values.append(f"v{k} = x[{operands[0]}]")
            moves[k][operands[0]] = "1.0"
            continue
        if name == "constant":
            values.append(f"v{k} = c[{operands[0]}]")
            continue
        value, slope = STEPS[name]
        names = {letter: f"v{o}" for letter, o in zip("abc", operands)}
        values.append(f"v{k} = {value.format(**names)}")
        if name == "power" and any(moves[operands[1]]):
            raise SystemExit("a power whose exponent moves is not known here")
        for i in range(inputs):
            if slope and any(moves[o][i] for o in operands):
                d = {"d" + letter: moves[o][i] or "0.0" for letter, o in zip("abc", operands)}
                slopes.append((k, f"d{k}_{i} = {slope.format(r=f'v{k}', **names, **d)}"))
                moves[k][i] = f"d{k}_{i}"
    at = formula["value"]
    lines = []
    for k, line in enumerate(values):
        lines += [line] + [s for of, s in slopes if of == k]
    result = ", ".join(m or "0.0 * v0" for m in moves[at])
    for name, body, told in ("value", values, f"v{at}"), ("slope", lines, f"[{result}]"):
        text = f"def {name}(x, c):\n    " + "\n    ".join([*body, f"return {told}"])
        exec(text, library)  # the steps named above and nothing else of the file become code
    return library["value"], library["slope"]


NUMBERS = {"sqrt": math.sqrt, "exp": math.exp, "log": math.log, "where": lambda condition, a, b: a if condition else b}
ARRAYS = {"sqrt": np.sqrt, "exp": np.exp, "log": np.log, "where": np.where}


class Equations:
    """x' and ∂x'/∂x between two events."""

    def __init__(self, plan, stated):
        self.n, self.pattern = plan.places, plan.patterns[stated["pattern"]]
        self.outdoors, self.outdoors_rate = plan.outdoors, stated["outdoors_K_s"]
        self.straight = np.array(stated["values"])
        self.A = np.zeros((self.n, self.n))
        self.A[self.pattern["row"], self.pattern["column"]] = self.straight

        forms = {}
        for law in stated["laws"]:
            forms.setdefault(law["formula"], []).append(law)
        few = [(form, law) for form, laws in forms.items() if len(laws) <= FEW for law in laws]
        many = [(form, laws) for form, laws in forms.items() if len(laws) > FEW]
        self.single = [(*plan.by_number[form], law["at"], law["constants"]) for form, law in few]
        self.many = [(*plan.by_array[form], np.array([law["at"] for law in laws]).T, np.array([law["constants"] for law in laws]).T)
                     for form, laws in many]

        # rates = [A, factors] · [x; what the laws give, in this order]
        order = [law for _, law in few] + [law for _, laws in many for law in laws]
        shares = [(place, self.n + k, factor) for k, law in enumerate(order) for place, factor in law["into"]]
        row, column, factor = zip(*shares) if shares else ((), (), ())
        self.all = csr_matrix((np.concatenate([self.straight, factor]),
                               (np.concatenate([self.pattern["row"], row]).astype(int), np.concatenate([self.pattern["column"], column]).astype(int))),
                              shape=(self.n, self.n + len(order)))

        # One entry for each law, place it asks and place it changes: which slope, by what factor, where.
        asked = [(law, at) for law in order for at in law["at"]]
        entries = [(place, at, factor, k) for k, (law, at) in enumerate(asked) for place, factor in law["into"]]
        rows, columns, factors, slopes = (np.array(column) for column in zip(*entries)) if entries else (np.zeros(0, int),) * 4
        self.factors, self.slopes, self.flat = factors, slopes, rows * self.n + columns
        self.slots = self.pattern["slot"][rows, columns]
        assert (self.slots >= 0).all(), "a law touches a place outside the pattern"

    def rates(self, t, x):
        laws = [value(x[at].tolist(), c) for value, _, at, c in self.single]
        r = self.all @ np.concatenate([x, laws, *(value(x[at], c) for value, _, at, c in self.many)])
        r[self.outdoors] = self.outdoors_rate
        return r

    def bends(self, x):
        """The laws' parts of ∂x'/∂x, one for each entry."""
        s = [b for _, slope, at, c in self.single for b in slope(x[at].tolist(), c)]
        s = np.concatenate([s, *(np.array(slope(x[at], c)).T.ravel() for _, slope, at, c in self.many)])
        return self.factors * s[self.slopes]

    def dense(self, t, x):
        return self.A + np.bincount(self.flat, self.bends(x), self.n * self.n).reshape(self.n, self.n)

    def sparse(self, t, x):
        data = self.straight + np.bincount(self.slots, self.bends(x), len(self.straight))
        p = self.pattern
        return csc_matrix((data[p["by_column"]], p["indices"], p["indptr"]), shape=(self.n, self.n))


class ExportedPlan:
    def __init__(self, path):
        with open(path) as f:
            stated = json.load(f)
        assert stated["format"] == 1, "written by a later Steadyfire"
        self.names = [p["name"] for p in stated["places"]]
        self.tolerance = np.array([p["tolerance"] for p in stated["places"]])
        self.places, self.outdoors = len(self.names), self.names.index("outdoors")
        self.rooms, self.boiler_outlet = stated["rooms"], stated["boiler_outlet"]
        self.by_number = [compiled(f, dict(NUMBERS)) for f in stated["formulas"]]
        self.by_array = [compiled(f, dict(ARRAYS)) for f in stated["formulas"]]
        self.patterns = [self.laid_out(p) for p in stated["patterns"]]
        self.intervals, equations = [], None
        for i in stated["intervals"]:
            if "equations" in i:
                equations = i["equations"]
            self.intervals.append({**i, "end": np.array(i["end"]), "equations": equations})

    def laid_out(self, pattern):
        start, column = np.array(pattern["row_start"]), np.array(pattern["column"])
        row = np.repeat(np.arange(self.places), np.diff(start))
        slot = np.full((self.places, self.places), -1)
        slot[row, column] = np.arange(len(column))
        by_column = np.lexsort((row, column))
        indptr = np.concatenate([[0], np.cumsum(np.bincount(column, minlength=self.places))])
        return {"row": row, "column": column, "slot": slot, "by_column": by_column, "indices": row[by_column], "indptr": indptr}

    def integrate(self, method, tolerance, until=math.inf):
        """Yields each interval with the state that scipy comes to at its end. `tolerance` [K] is of one step; what
        the run holds to a share of its own tolerance is held to the same share here, accounts to none."""
        allowed = np.where(self.tolerance > 0, tolerance * self.tolerance, 1e30)
        x, last = np.full(self.places, np.nan), None
        for interval in self.intervals:
            if interval["start_s"] >= until:
                return
            if interval["equations"] is not last:
                last, equations = interval["equations"], Equations(self, interval["equations"])
            for place, value in interval["set"]:
                x[place] = value
            x = method(equations, x, interval["start_s"], interval["end_s"], allowed)
            yield interval, x


LEAST_RELATIVE = 1e-12  # what scipy's methods take; 3e-10 K of a temperature


def lsoda(equations, x, start, end, allowed):
    """LSODA (ODEPACK) with the analytic Jacobian, dense, as it takes no sparse one."""
    out, told = odeint(equations.rates, x, [start, end], Dfun=equations.dense, tfirst=True, rtol=LEAST_RELATIVE, atol=allowed,
                       tcrit=[end], mxstep=100000, full_output=True)
    assert told["message"] == "Integration successful.", told["message"]
    return out[-1]


def bdf(equations, x, start, end, allowed):
    """scipy's BDF with the analytic sparse Jacobian."""
    solver = BDF(equations.rates, start, x, end, rtol=LEAST_RELATIVE, atol=allowed, jac=equations.sparse)
    while solver.status == "running":
        message = solver.step()
        assert solver.status != "failed", message
    return solver.y
