#!/usr/bin/python3
"""Valves, circulators and mains with closed-form or independently solved answers, through the program."""
import json
import math
import os
import subprocess
import tempfile

from scipy.optimize import brentq, fsolve

program = os.environ["STEADYFIRE"]
g = 9.80665
hour = 3600 ** 2
failures = 0


def check(what, got, wanted, tolerance):
    global failures
    error = abs(got - wanted) / abs(wanted)
    ok = error <= tolerance
    failures += not ok
    print(f"{'ok  ' if ok else 'FAIL'} {what}: {got:.6g}, wanted {wanted:.6g}, off {error:.1e} of {tolerance:.0e} allowed")


def is_true(what, ok):
    global failures
    failures += not ok
    print(f"{'ok  ' if ok else 'FAIL'} {what}")


def study(text, *arguments):
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "network.toml")
        with open(path, "w") as f:
            f.write('format = 1\ntitle = "check"\n' + text)
        run = subprocess.run([program, "flows", path, "--json", "-", *arguments], capture_output=True, text=True)
        assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


def flows(text, *arguments):
    """Edges of the one state."""
    return study(text, *arguments)["states"][0]["edges"]


def findings(text, *arguments):
    return {f["id"]: f for f in study(text, *arguments)["findings"]}


def piece(kind, name, a, b, **keys):
    lines = [f"[[{kind}]]", f'name = "{name}"', f'from = "{a}"', f'to = "{b}"']
    return "\n".join(lines + [f"{k} = {v}" for k, v in keys.items()]) + "\n"


def resistance(name, a, b, r):
    return piece("resistance", name, a, b, coefficient=float(r) * hour)


def circulator(more=""):
    return ('[[circulator]]\nname = "P"\nfrom = "s"\nto = "d"\n'
            f'curve = {{ flow = "m3/h", head = "m", coefficients = [6.0, 0.0, -0.5] }}\n{more}\n')


def per_hour(edge):
    return 3600 * edge["flow_m3_s"]


RHO = 983.25  # water of 140 degF, IAPWS-IF97 by an independent library at 60 °C
SG = RHO / 999


def kv_head(q, kv):
    """IEC 60534-2-1: m of head at q m³/h."""
    return SG * (q / kv) ** 2 * 1e5 / (RHO * g)


# --- circulators: H = 6 − 0.5 Q² against r = 4, in m and m³/h ----------------------------------
r = 4.0
edges = flows(circulator("in_series = 2") + resistance("r", "d", "s", r))
check("two in series", per_hour(edges["P"]), math.sqrt(2 * 6 / (2 * .5 + r)), 1e-4)
edges = flows(circulator("in_parallel = 2") + resistance("r", "d", "s", r))
check("two side by side", per_hour(edges["P"]), math.sqrt(6 / (.5 / 4 + r)), 1e-4)
edges = flows(circulator("in_series = 2\nin_parallel = 3") + resistance("r", "d", "s", r))
check("three side by side of two in series", per_hour(edges["P"]), math.sqrt(12 / (1 / 9 + r)), 1e-4)
# Affinity, closed form: 2800 to 2100 rpm is 0.75 of the flow against a resistance without static head.
speeds = 'speeds = ["50 %", "75 %", "100 %"]\n'
edges = flows(circulator(speeds + "chosen_speed = 2") + resistance("r", "d", "s", r))
check("middle of three speeds", per_hour(edges["P"]), .75 * math.sqrt(6 / (.5 + r)), 1e-4)
edges = flows(circulator(speeds) + resistance("r", "d", "s", r))
check("the last of three speeds", per_hour(edges["P"]), math.sqrt(6 / (.5 + r)), 1e-4)

# --- bypass: its law of lift solved by bisection ------------------------------------------------
setting, band, kv = 3.0, 1.0, 2.0


def bypass_flow(head):
    lift = min(max((head - setting) / band, 0), 1)
    return lift * kv * math.sqrt(head * RHO * g / 1e5 / SG)


for zone, what in ((40.0, "partly open"), (400.0, "fully open"), (2.0, "shut")):
    head = brentq(lambda h: 6 - .5 * (math.sqrt(h / zone) + bypass_flow(h)) ** 2 - h, 1e-6, 6, xtol=1e-12)
    edges = flows(circulator() + resistance("z", "d", "s", zone)
                  + piece("bypass_valve", "V", "d", "s", setting=f'"{setting} m"', band=f'"{band} m"', kv=kv))
    check(f"bypass {what}, zone", per_hour(edges["z"]), math.sqrt(head / zone), 1e-3)  # a resistance is straight below 1 mL/s
    if bypass_flow(head) > 0:
        check(f"bypass {what}", per_hour(edges["V"]), bypass_flow(head), 2e-4)
    else:
        is_true(f"bypass {what}: nothing flows", edges["V"]["flow_m3_s"] == 0)

# --- limiter: below, within and above its range, between two given heads ---------------------------
least, most, q1 = 0.15e5, 2.0e5, 0.5


def limiter(head):
    return flows('[[joint]]\nname = "a"\nhead = "%g m"\n[[joint]]\nname = "b"\nhead = "0 m"\n' % head
                 + piece("flow_limiter", "L", "a", "b", flow=f'"{q1} m3/h"', least_difference='"15 kPa"', most_difference='"200 kPa"'))["L"]


for pascal, wanted, tolerance in ((.05e5, q1 * math.sqrt(.05 / .15), 6e-3), (.3e5, q1, 5.1e-3), (1.0e5, q1, 5.1e-3), (1.9e5, q1, 5.1e-3),
                                  (3e5, q1 * math.sqrt(1.5), 6e-3)):
    check(f"limiter at {pascal / 1e3:g} kPa", per_hour(limiter(pascal / (RHO * g))), wanted, tolerance)

# --- strainer: half of its screen filled takes four times the head at the same flow ------------------
for clogged in (0, 50, 80):
    k = kv_head(1, 6.0 * (1 - clogged / 100))
    edges = flows(circulator() + resistance("r", "d", "h", r) + piece("strainer", "S", "h", "s", kv=6.0, clogged=f'"{clogged} %"'))
    check(f"strainer filled to {clogged} %", per_hour(edges["S"]), math.sqrt(6 / (.5 + r + k)), 2e-4)

# --- separators: speed in the vessel, Q/(π/4·D²), and its finding above 0.5 ft/s ----------------------
net = circulator() + resistance("r", "d", "h", r) + piece("air_separator", "A", "h", "s", cv=20.0, diameter='"DIAMETER in"')
edge = flows(net.replace("DIAMETER", "3"))["A"]
check("speed in a vessel", edge["velocity_m_s"], edge["flow_m3_s"] / (math.pi / 4 * .0762 ** 2), 1e-6)
is_true("a wide vessel is quiet", "separator.fast" not in findings(net.replace("DIAMETER", "3")))
is_true("a narrow vessel is told", "separator.fast" in findings(net.replace("DIAMETER", "1")))

# --- flow check: nothing below its opening head, the rest above -----------------------------------------
for head, opening in ((.2, .3), (1.0, .3)):
    edge = flows(f'[[joint]]\nname = "a"\nhead = "{head} m"\n[[joint]]\nname = "b"\nhead = "0 m"\n'
                 + piece("check_valve", "C", "a", "b", kv=8.0, opening_head=f'"{opening} m"'))["C"]
    if head < opening:
        is_true("a flow check holds below its opening head", edge["flow_m3_s"] == 0)
    else:
        check("a flow check above its opening head", per_hour(edge), 8 * math.sqrt((head - opening) * RHO * g / 1e5 / SG), 1e-4)

# --- diverting valve: one way or the other ----------------------------------------------------------------
for turned, ways in (("true", ("x", "y")), ("false", ("y", "x"))):
    edges = flows(circulator() + f'[[diverting_valve]]\nname = "D"\ninlet = "d"\ncalled_way = "a"\nother_way = "b"\nkv = 5.0\nturned = {turned}\n'
                  + resistance("x", "a", "s", 4) + resistance("y", "b", "s", 9))
    way, other = ways
    k = {"x": 4, "y": 9}[way] + kv_head(1, 5.0)
    check(f"diverting valve turned: {turned}", per_hour(edges[way]), math.sqrt(6 / (.5 + k)), 2e-4)
    is_true("and nothing on the other way", edges[other]["flow_m3_s"] == 0)

# --- diverter tee: K of the main against a zone beside it, r·q² = K·v²/2g ------------------------------------
bore, K = .0268, 6.0
tee = K / (2 * g * (math.pi / 4 * bore ** 2) ** 2) / hour  # m per (m³/h)²
zone = 2.0
edges = flows(circulator() + resistance("main", "d", "h", 1.0) + resistance("zone", "h", "s", zone)
              + piece("diverter_tee", "T", "h", "s", loss_coefficient=K, diameter=f'"{bore} m"'))
both = 1 / (1 / math.sqrt(tee) + 1 / math.sqrt(zone)) ** 2
total = math.sqrt(6 / (.5 + 1 + both))
check("diverter tee, main", per_hour(edges["P"]), total, 1e-4)
check("diverter tee, zone", per_hour(edges["zone"]), total * math.sqrt(both / zone), 1e-4)


# --- mains: ladders of alike zones, solved by themselves ----------------------------------------------------
def ladder(n, zone, rung, reverse):
    """Flows of n zones of r = zone at 3 m between the headers, mains of r = rung a section. Independent: a shooting solution by scipy."""
    def rest(q):
        supply = [sum(q[i:]) for i in range(1, n)]                                                  # into take-off i
        back = [sum(q[:i]) for i in range(1, n)] if reverse else supply
        drop = [rung * f * abs(f) for f in supply]
        lift = [rung * f * abs(f) for f in back]
        run_back = (n - 1) * rung * sum(q) ** 2 if reverse else 0
        ways = [sum(drop[:i]) + zone * q[i] * abs(q[i]) + (sum(lift[i:]) if reverse else sum(lift[:i])) + run_back for i in range(n)]
        return [w - 3 for w in ways]
    q = fsolve(rest, [math.sqrt(3 / zone / n)] * n, xtol=1e-12)
    assert max(abs(x) for x in rest(q)) < 1e-9
    return q


n, zone, rung = 5, 40.0, .2
for reverse in (False, True):
    text = '[[joint]]\nname = "s0"\nhead = "3 m"\n[[joint]]\nname = "out"\nhead = "0 m"\n'
    end = (lambda i: "out" if i == 0 else f"r{i}") if not reverse else (lambda i: f"r{i}")
    for i in range(n):
        text += resistance(f"z{i}", f"s{i}", end(i), zone)
        if i:
            text += resistance(f"to{i}", f"s{i - 1}", f"s{i}", rung)
            text += resistance(f"from{i}", end(i), end(i - 1), rung) if not reverse else resistance(f"from{i}", end(i - 1), end(i), rung)
    if reverse:
        text += resistance("back", end(n - 1), "out", (n - 1) * rung)
    edges = flows(text)
    for i, q in enumerate(ladder(n, zone, rung, reverse)):
        check(f"{'reverse' if reverse else 'direct'} return, zone {i + 1}", per_hour(edges[f"z{i}"]), q, 1e-4)  # 1 mL/s again

# --- the same mains as an arrangement ---------------------------------------------------------------------
HOUSE = """[site]
outdoor_design = "10 degF"
[boiler]
heating_input = "60 kBtu/h"
minimum_input = "12 kBtu/h"
{boiler}
[near_boiler]
{near}
"""
SYSTEM = 'arrangement = "closely spaced tees"\nsize = "1 in copper M"\nsystem_circulator = { regulation = "constant head", setting_head = "6 ft" }\n'
ZONE = """[[zone]]
name = "{}"
design_load = "8 kBtu/h"
emitter = {{ kind = "panel radiator", output = "10 kBtu/h", cv = 1.2 }}
zone_valve = {{ cv = 3.5 }}
size = "1/2 in copper M"
supply_length = "12 ft"
{}
"""
ROOMS = ["a", "b", "c", "d", "e"]


def inn(headers, more=""):
    text = HOUSE.format(boiler="", near=SYSTEM) + "[headers]\n" + headers + "\n" + "".join(ZONE.format(z, more) for z in ROOMS)
    return flows(text, "--calls", ",".join(ROOMS))


def rooms(edges):
    return [edges[z + "/emitter"]["flow_m3_s"] for z in ROOMS]


MAINS = 'arrangement = "{}"\nsize = "3/4 in copper M"\nspacing = "18 ft"'
direct, reverse = inn(MAINS.format("direct return")), inn(MAINS.format("reverse return"))
q = rooms(direct)
is_true("direct return: each room gets less than the one before: " + ", ".join(f"{x * 15850.3:.2f}" for x in q), all(a > b for a, b in zip(q, q[1:])))
# Round a loop through two neighbours their zones differ by what the mains between them lose: in a direct return by both
# sections, in a reverse return by their difference.
for edges, sign, what in ((direct, 1, "direct"), (reverse, -1, "reverse")):
    q = rooms(edges)
    for i, (a, b) in enumerate(zip(ROOMS, ROOMS[1:])):
        loss = lambda z: sum(e["head_loss_m"] for k, e in edges.items() if k.startswith(z + "/"))
        mains = edges["headers/to " + b]["head_loss_m"] + sign * edges["headers/from " + (b if sign > 0 else a)]["head_loss_m"]
        is_true(f"{what} return, between {a} and {b}: zones differ by {loss(a) - loss(b):.6f} m, mains by {mains:.6f} m", abs(loss(a) - loss(b) - mains) < 1e-5)
q = rooms(reverse)
check("reverse return: the last room as the first", q[-1], q[0], 1e-2)  # mirrored ways, but warmer water in the first
# How far apart they may be follows from the mains' losses: the room in the middle has less head by Δ of the first one's h,
# and flow goes with head to the power of 1/2 (valves) to 4/7 (Blasius).
zone_head = sum(e["head_loss_m"] for k, e in reverse.items() if k.startswith("a/"))
less = sum(reverse["headers/to " + b]["head_loss_m"] - reverse["headers/from " + a]["head_loss_m"] for a, b in (("a", "b"), ("b", "c")))
low, high = (1 - less / zone_head) ** (4 / 7), (1 - less / zone_head) ** .5
is_true(f"reverse return: the middle room has {q[2] / q[0]:.3f} of the first, between {low:.3f} and {high:.3f}", low < q[2] / q[0] < high)
spread = lambda q: min(q) / max(q)
is_true(f"reverse return spreads less ({spread(q):.3f}) than direct return ({spread(rooms(direct)):.3f})", spread(q) > spread(rooms(direct)) + .05)
q = rooms(inn('arrangement = "manifold"\nbalancing_cv = 1.5'))
is_true("alike rooms of a manifold get the same", spread(q) > 1 - 1e-6)
one = inn(MAINS.format("single pipe"))
for z in ROOMS:
    check(f"single pipe: the tee of {z} loses what its zone does", one["headers/past " + z]["head_loss_m"],
          sum(e["head_loss_m"] for k, e in one.items() if k.startswith(z + "/")), 1e-4)
    check(f"single pipe: main past {z} and its zone make up the whole", one["headers/past " + z]["flow_m3_s"] + one[z + "/emitter"]["flow_m3_s"],
          one["headers/back"]["flow_m3_s"], 5e-3)  # volumes: the zone's water is denser

# A table of the same name changes a piece of the mains: a longer section loses in proportion.
text = HOUSE.format(boiler="", near=SYSTEM) + "[headers]\n" + MAINS.format("direct return") + "\n" + "".join(ZONE.format(z, "") for z in ROOMS)
longer = flows(text + '[[pipe]]\nname = "headers/to b"\nlength = "36 ft"\n', "--calls", ",".join(ROOMS))
gradient = lambda edges: edges["headers/to b"]["head_loss_m"] / edges["headers/to b"]["flow_m3_s"] ** 1.75  # Blasius
check("a section made twice as long loses twice as much", gradient(longer), 2 * gradient(direct), 2e-2)

# A limiter in every room of the direct return holds each at its setting.
q = rooms(inn(MAINS.format("direct return").replace("3/4", "1"), 'limiter = { flow = "0.4 gpm", least_difference = "0.5 psi", most_difference = "20 psi" }'))
for x in q:
    check("direct return with limiters, gpm", x * 15850.3, .4, 5.5e-3)

# --- the circulator inside a boiler: head left after the boiler's own loss is not counted twice ----------------
# Own curve 6 − 0.5 Q², boiler 2 m at 2 m³/h, that is 0.5 Q²: left are 6 − 1.0 Q².
curve = 'curve = {{ flow = "m3/h", head = "m", coefficients = [6.0, 0.0, {}] }}'
two = "".join(ZONE.format(z, "") for z in ("a", "b"))
outside = flows(HOUSE.format(boiler='rated_flow = "2 m3/h"\nrated_head_loss = "2 m"', near='arrangement = "direct"\ncirculator = { %s }' % curve.format(-.5)) + two,
                "--calls", "a,b")
inside = flows(HOUSE.format(boiler="", near='arrangement = "direct"\nappliance_circulator = { %s }' % curve.format(-1.0)) + two, "--calls", "a,b")
check("appliance circulator: same flow as circulator and boiler apart", inside["boiler"]["flow_m3_s"], outside["boiler"]["flow_m3_s"], 1e-4)
is_true("and the boiler loses nothing more", abs(inside["boiler"]["head_loss_m"]) < 1e-4)

# --- are tees needed? -------------------------------------------------------------------------------------------
# A circulator that holds just the head which the finding says is needed, alone in series with the boiler, moves
# the wanted flow through the one zone; with 20 % less it does not. The zone wants 8 kBtu/h over 20 degF.
zone = ZONE.format("a", "")
tees = study(HOUSE.format(boiler='rated_head_loss = "0 ft"', near=SYSTEM) + zone)
told = next(f for f in tees["findings"] + tees.get("passed", []) if f["id"] in ("tees.needed", "tees.not_needed"))
need, flow = told["figures"]["head_needed_m"], told["figures"]["flow_m3_s"]
check("the wanted flow", flow, 8000 * 1055.056 / 3600 / (RHO * 4182.5 * 20 / 1.8), 2e-3)
alone = flows(HOUSE.format(boiler='rated_head_loss = "0 ft"',
                           near='arrangement = "direct"\nsize = "1 in copper M"\ncirculator = { regulation = "constant head", setting_head = "%.6f m" }' % need)
              + zone, "--calls", "a")
check("the head needed moves the wanted flow", alone["a/emitter"]["flow_m3_s"], flow, 1e-2)

raise SystemExit(f"{failures} checks failed" if failures else 0)
