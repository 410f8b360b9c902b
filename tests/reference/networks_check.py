#!/usr/bin/python3
"""Networks with published or closed-form answers, through the program: scenario in, JSON out."""
import json
import os
import subprocess
import tempfile

import scipy.optimize

program = os.environ["STEADYFIRE"]


def flows(text):
    """Edges and joints of the one state of a bare network."""
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "network.toml")
        with open(path, "w") as f:
            f.write('format = 1\ntitle = "check"\n' + text)
        run = subprocess.run([program, "flows", path, "--json", "-"], capture_output=True, text=True)
        assert run.returncode == 0, run.stderr
    state = json.loads(run.stdout)["states"][0]
    return state["edges"], {k: v["head_m"] for k, v in state["joints"].items()}


failures = 0


def check(what, got, wanted, tolerance):
    global failures
    error = abs(got - wanted) / abs(wanted)
    ok = error <= tolerance
    failures += not ok
    print(f"{'ok  ' if ok else 'FAIL'} {what}: {got:.6g}, published {wanted:.6g}, off {error:.1e} of {tolerance:.0e} allowed")


def resistance(name, a, b, r, exponent=2.0):
    return f'[[resistance]]\nname = "{name}"\nfrom = "{a}"\nto = "{b}"\ncoefficient = {r}\nexponent = {exponent}\n'


def pipe(name, a, b, length, diameter, roughness, k=0.0):
    return (f'[[pipe]]\nname = "{name}"\nfrom = "{a}"\nto = "{b}"\nlength = "{length} m"\ndiameter = "{diameter} m"\n'
            f'roughness = "{roughness} m"\nloss_coefficient = {k}\n')


def joint(name, **given):
    return f'[[joint]]\nname = "{name}"\n' + "".join(f'{k} = "{v}"\n' for k, v in given.items())


def circulator(coefficients, a="s", b="d"):
    return (f'[[circulator]]\nname = "P"\nfrom = "{a}"\nto = "{b}"\n'
            f'curve = {{ flow = "m3/h", head = "m", coefficients = {coefficients} }}\n')


def fluid(density, kinematic):
    return f'[fluid]\nkind = "custom"\ndensity = "{density} kg/m3"\nviscosity = "{density * kinematic} Pa.s"\n'


# Two loops of fixed resistances. The flows, by hand to five digits, are found here by scipy's root of the loop equations.
def two_loops(q):
    ca, cd, ad, ab, db = q
    return [ca + cd - .5, ca - ad - ab, cd + ad - db, 200 * ca**2 + 2500 * ad * abs(ad) - 500 * cd**2, 800 * ab**2 - 300 * db**2 - 2500 * ad * abs(ad)]


exact = dict(zip(["CA", "CD", "AD", "AB", "DB"], scipy.optimize.fsolve(two_loops, [.275, .225, .064, .21, .29], xtol=1e-14)))
edges, heads = flows(joint("C", inflow="0.5 m3/s") + joint("B", inflow="-0.5 m3/s") + resistance("CA", "C", "A", 200.0) + resistance("CD", "C", "D", 500.0)
                     + resistance("AD", "A", "D", 2500.0) + resistance("AB", "A", "B", 800.0) + resistance("DB", "D", "B", 300.0))
for name, q in {"CA": .27467, "CD": .22533, "AD": .06418, "AB": .21049, "DB": .28951}.items():
    check("two loops, scipy's flow " + name, exact[name], q, 1e-4)
    check("two loops, flow " + name, edges[name]["flow_m3_s"], exact[name], 1e-6)
for name, h in {"A": 200 * exact["CA"]**2, "D": 500 * exact["CD"]**2, "B": 200 * exact["CA"]**2 + 800 * exact["AB"]**2}.items():
    check("two loops, head below C at " + name, heads["C"] - heads[name], h, 1e-6)

# Flows of millilitres a second through large resistances: nothing of the solver's own may show.
for r in [1e6, 1e10, 1e14]:
    edges, _ = flows(joint("a", head="1 m") + joint("b", head="0 m") + resistance("one", "a", "b", r) + resistance("two", "a", "b", 4 * r))
    for name, q in {"one": (1 / r) ** .5, "two": (1 / (4 * r)) ** .5}.items():
        check(f"1 m over {r:.0e} m/(m3/s)2, flow {name}", edges[name]["flow_m3_s"], q, 1e-6)

# Cengel & Cimbala, Fluid Mechanics, ex. 8-7: two parallel pipes lift water from 5 to 13 m; the motor-pump
# takes 8 kW at 70 %. The program has no pump of given power, so its head at the published flow is given
# as a fixed one: 19.06 m. Printed answers from memory: .0300, .00415, .0259 m3/s.
edges, _ = flows(fluid(998.0, 1.002e-3 / 998) + joint("low", head="5 m") + joint("high", head="13 m")
                 + '[[circulator]]\nname = "P"\nfrom = "low"\nto = "d"\ncurve = { flow = "m3/s", head = "m", coefficients = [19.059] }\n'
                 + pipe("one", "d", "high", 36, .04, 4.5e-5) + pipe("two", "d", "high", 36, .08, 4.5e-5))
check("two parallel pipes, total", edges["P"]["flow_m3_s"], .0300, 5e-3)
check("two parallel pipes, small", edges["one"]["flow_m3_s"], .00415, 5e-3)
check("two parallel pipes, large", edges["two"]["flow_m3_s"], .0259, 5e-3)
check("two parallel pipes, speed in the large one", edges["two"]["velocity_m_s"], 5.15, 5e-3)
check("two parallel pipes, head loss", edges["one"]["head_loss_m"], 11.1, 5e-3)

# Cengel & Cimbala, ex. 8-9: shower and toilet on one 1.5 cm copper pipe at 200 kPa gauge (quoted in public repositories).
supply = 200e3 / (998 * 9.80665)
house = (fluid(998.0, 1.004e-6) + joint("street", head=f"{supply} m") + joint("shower", head="2 m") + pipe("common", "street", "t", 5, .015, 1.5e-6)
         + pipe("to shower", "t", "shower", 6, .015, 1.5e-6, 24.7))
edges, _ = flows(house)
check("shower alone, L/s", 1e3 * edges["to shower"]["flow_m3_s"], .53, 1e-2)
edges, _ = flows(house + joint("toilet", head="1 m") + pipe("to toilet", "t", "toilet", 1, .015, 1.5e-6, 26.9))
for name, q in {"common": .90, "to shower": .42, "to toilet": .48}.items():
    check("shower and toilet, L/s, " + name, 1e3 * edges[name]["flow_m3_s"], q, 1e-2)

# White, Fluid Mechanics, three pipes in series and in parallel, 20.3 m of loss. Printed answers from memory.
three = [(100, .08, .003), (150, .06, .002), (80, .04, .005)]
water = fluid(1000.0, 1.02e-6) + joint("a", head="20.3 m") + joint("d", head="0 m")
ends = ["a", "b", "c", "d"]
edges, _ = flows(water + "".join(pipe(f"p{i}", ends[i], ends[i + 1], l, d, d * e) for i, (l, d, e) in enumerate(three)))
check("three pipes in series, m3/h", 3600 * edges["p0"]["flow_m3_s"], 10.22, 5e-3)
edges, _ = flows(water + "".join(pipe(f"p{i}", "a", "d", l, d, d * e) for i, (l, d, e) in enumerate(three)))
for i, q in enumerate([62.5, 25.9, 11.4]):
    check(f"three pipes in parallel, m3/h, pipe {i + 1}", 3600 * edges[f"p{i}"]["flow_m3_s"], q, 5e-3)

# Closed form: circulator, common pipe, three zones; Q = sqrt(H0/(a + rc + 1/S²)), S = Σ r^(-1/2), in m3/h.
hour = 3600 ** 2


def three_zones(zones):
    edges, _ = flows(circulator([6.0, 0.0, -0.5]) + resistance("common", "d", "h", .2 * hour) + "".join(resistance(f"z{i}", "h", "s", r * hour) for i, r in enumerate(zones)))
    return edges


for zones, by_hand in ([4.0, 6.0, 9.0], 2.10919), ([4.0, 6.0], 1.77135):
    edges = three_zones(zones)
    S = sum(r ** -.5 for r in zones)
    total = (6.0 / (.5 + .2 + 1 / S**2)) ** .5
    check(f"{len(zones)} zones, total by hand", total, by_hand, 1e-5)
    check(f"{len(zones)} zones, total m3/h", 3600 * edges["P"]["flow_m3_s"], total, 1e-6)
    check(f"{len(zones)} zones, head", -edges["P"]["head_loss_m"], 6 - .5 * total**2, 1e-6)
    for i, r in enumerate(zones):
        check(f"{len(zones)} zones, zone {i + 1}", 3600 * edges[f"z{i}"]["flow_m3_s"], total * r ** -.5 / S, 1e-6)


# A real circuit by Colebrook, water of 60 °C; solved independently with scipy and a public friction library.
def real(branches):
    text = '[fluid]\nkind = "water"\ntemperature = "60 degC"\n' + circulator([5.0, 0.0, -0.6])
    text += '[[pipe]]\nname = "main"\nfrom = "d"\nto = "h"\nlength = "20 m"\nsize = "1 in copper M"\nroughness = "1.5 um"\nloss_coefficient = 6.0\n'
    for i, (length, k) in enumerate(branches):
        text += f'[[pipe]]\nname = "b{i}"\nfrom = "h"\nto = "s"\nlength = "{length} m"\nsize = "3/4 in copper M"\nroughness = "1.5 um"\nloss_coefficient = {k}\n'
    return flows(text)[0]


edges = real([(30, 12.0), (45, 14.0), (60, 16.0)])
check("real circuit, total m3/h", 3600 * edges["P"]["flow_m3_s"], 2.1161, 5e-3)
check("real circuit, head", -edges["P"]["head_loss_m"], 2.3134, 5e-3)
for i, q in enumerate([.8321, .6877, .5962]):
    check(f"real circuit, branch {i + 1}", 3600 * edges[f"b{i}"]["flow_m3_s"], q, 5e-3)
edges = real([(30, 12.0), (45, 14.0)])
check("real circuit, third closed, total", 3600 * edges["P"]["flow_m3_s"], 1.9324, 5e-3)
for i, q in enumerate([1.0570, .8754]):
    check(f"real circuit, third closed, branch {i + 1}", 3600 * edges[f"b{i}"]["flow_m3_s"], q, 5e-3)

raise SystemExit(f"{failures} checks failed" if failures else 0)
