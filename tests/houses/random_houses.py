"""Valid houses by chance: the same seed gives the same text, whose every value is written in US or in SI units by chance.

  house(seed)         1 to 12 zones, any arrangement, headers, emitters, controls, weather, hot water, gas, vent, pressure
  house(seed, snow)   with snow, the last zone is a snow-melt slab, in weather from frost to thaw
"""

import random

FLOORS = ("radiant slab", "panel over subfloor", "plates under floor", "radiant ceiling", "radiant wall")
COILS = ("kick-space convector", "air handler", "unit heater")

# By quantity: how a value of the trade's unit is written in either system.
UNITS = {
    "power": (("{:.6g} kBtu/h", 1, 0), ("{:.6g} kW", 0.29307107, 0)),
    "temperature": (("{:.6g} degF", 1, 0), ("{:.6g} degC", 1 / 1.8, -32 / 1.8)),
    "difference": (("{:.6g} degF", 1, 0), ("{:.6g} K", 1 / 1.8, 0)),
    "length": (("{:.6g} ft", 1, 0), ("{:.6g} m", 0.3048, 0)),
    "inches": (("{:.6g} in", 1, 0), ("{:.6g} mm", 25.4, 0)),
    "area": (("{:.6g} ft2", 1, 0), ("{:.6g} m2", 0.09290304, 0)),
    "flow": (("{:.6g} gpm", 1, 0), ("{:.6g} L/min", 3.785411784, 0)),
    "air_flow": (("{:.6g} cfm", 1, 0), ("{:.6g} m3/h", 1.69901082, 0)),
    "volume": (("{:.6g} gal", 1, 0), ("{:.6g} L", 3.785411784, 0)),
    "pressure": (("{:.6g} psi", 1, 0), ("{:.6g} kPa", 6.894757, 0)),
    "gas_pressure": (("{:.6g} inH2O", 1, 0), ("{:.6g} mbar", 2.4908891, 0)),
    "r_value": (("{:.6g} ft2.degF.h/Btu", 1, 0), ("{:.6g} m2.K/W", 0.17611018, 0)),
    "conductance": (("{:.6g} Btu/h/degF", 1, 0), ("{:.6g} W/K", 0.52752793, 0)),
    "snowfall": (("{:.6g} in/h", 1, 0), ("{:.6g} mm/h", 25.4, 0)),
    "wind": (("{:.6g} mph", 1, 0), ("{:.6g} m/s", 0.44704, 0)),
    "share": (("{:.6g} %", 1, 0), ("{:.6g} %", 1, 0)),
    "minutes": (("{:.6g} min", 1, 0), ("{:.6g} s", 60, 0)),
}


class Raw(str):
    """Written without quotes."""


def written(value):
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {written(v)}" for key, v in value.items()) + " }" if value else "{}"
    if isinstance(value, list):
        return "[" + ", ".join(written(v) for v in value) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value) if isinstance(value, (int, float, Raw)) else f'"{value}"'


class House:
    def __init__(self, seed, snow):
        self.rng = random.Random(seed)
        self.snow = snow
        self.tables = []
        self.make(seed)

    def text(self):
        lines = ["format = 1"]
        for head, keys in self.tables:
            lines += ["", head] if head else []
            lines += [f"{key} = {written(value)}" for key, value in keys.items()]
        return "\n".join(lines) + "\n"

    # --- values ---------------------------------------------------------------------------------------------------------
    def value(self, quantity, x):
        form, factor, shift = self.rng.choice(UNITS[quantity])
        return form.format(x * factor + shift)

    def between(self, quantity, low, high):
        return self.value(quantity, self.rng.uniform(low, high))

    def maybe(self, chance):
        return self.rng.random() < chance

    def sometimes(self, chance, **keys):
        """Each key with this chance; its value is made by a call."""
        return {key: make() for key, make in keys.items() if self.maybe(chance)}

    # --- the whole ------------------------------------------------------------------------------------------------------
    def make(self, seed):
        pick = self.rng.choice
        self.tables.append(("", {"title": f"house {seed}"}))
        self.cold = self.rng.uniform(-10, 36)
        self.tables.append(("[site]", self.site()))
        self.is_glycol = self.snow or self.maybe(0.2)
        if self.is_glycol:
            self.tables.append(("[fluid]", {"kind": "propylene glycol", "mass_fraction": round(self.rng.uniform(0.15, 0.5), 3)}))
        self.arrangement = pick(["direct", "closely spaced tees", "hydraulic separator", "buffer tank", "plate exchanger"])
        self.headers = pick(["one point", "one point", "direct return", "reverse return", "manifold", "single pipe"])
        self.by_valves = self.maybe(0.4)
        count = pick([1, 1, 2, 2, 3, 3, 4, 5, 6, 7, 9, 12])
        if self.snow:
            count = min(count, 4)
        self.shared_reset = self.maybe(0.5)
        self.mixes = False
        self.heats_potable = False
        zones = [self.zone(n) for n in range(count)]
        if self.snow:
            zones[-1] = self.snow_zone()
        self.load = sum(load for load, _ in zones)
        self.near_boiler()
        if self.headers != "one point":
            self.tables.append(("[headers]", {"arrangement": self.headers, "size": pick(["1 in copper M", "1-1/4 in copper M"]),
                                              **self.sometimes(0.4, spacing=lambda: self.between("length", 3, 20))}))
        self.controls()
        self.tables += [("[[zone]]", keys) for _, keys in zones]
        self.between_zones([keys for _, keys in zones])
        self.hot_water()
        if self.maybe(0.3):
            self.trades()
        self.tables.append(("[run]", {"duration": "1 d", "start_water": self.between("temperature", 60, 120),
                                      "start_day": self.rng.randint(1, 365)}))

    def site(self):
        kind = self.rng.choice(["constant", "daily wave", "normals"])
        mean = self.cold + self.rng.uniform(5, 25)
        if kind == "constant":
            weather = {"kind": kind, "outdoors": self.value("temperature", mean)}
        elif kind == "daily wave":
            weather = {"kind": kind, "mean": self.value("temperature", mean), "swing": self.between("difference", 0, 30)}
        else:
            warmer = [0, 2, 9, 19, 29, 38, 43, 42, 34, 24, 14, 4]
            weather = {"kind": kind, "mean": [self.value("temperature", mean + d) for d in warmer],
                       "daily_range": [self.between("difference", 8, 25) for _ in warmer], "seed": self.rng.randint(0, 1000)}
        return {"outdoor_design": self.value("temperature", self.cold), "weather": weather}

    def zone(self, n):
        pick, between = self.rng.choice, self.between
        load = self.rng.uniform(1.5, 18)
        area = load * self.rng.uniform(35, 60)
        keys = {"name": f"zone {n + 1}", "design_load": self.value("power", load), "floor_area": self.value("area", area)}
        kind = pick([*FLOORS, "radiant slab", "panel radiator", "panel radiator", "column radiator", "towel warmer",
                     "fin-tube baseboard", "fin-tube baseboard", *COILS, "indirect tank"])
        output = self.value("power", load * self.rng.uniform(0.9, 2.5))
        emitter = {"kind": kind}
        if kind in FLOORS:
            emitter |= self.sometimes(0.4, spacing=lambda: between("inches", 7, 12))
        elif kind == "fin-tube baseboard":
            emitter["length"] = self.value("length", load / 0.5 * self.rng.uniform(0.9, 1.6))
        elif kind in COILS:
            emitter |= {"output": output, "rated_flow": self.value("flow", 0.5 + load / 8), "air_flow": self.value("air_flow", 60 + 35 * load)}
        elif kind == "indirect tank":
            emitter |= {"volume": between("volume", 20, 80), "draws": [between("flow", 0, 0.1) for _ in range(24)]}
            emitter |= {"setting": between("temperature", 115, 130)}
        else:
            emitter["output"] = output
        keys["emitter"] = emitter
        is_room = kind != "indirect tank"
        is_floor = kind in FLOORS
        if self.by_valves:
            keys["zone_valve"] = self.sometimes(0.3, cv=lambda: round(self.rng.uniform(2.5, 8), 2))
            keys |= self.sometimes(0.1, limiter=lambda: {})
        else:
            keys["circulator"] = pick([{}, {"duty": "small"}, {"duty": "medium"},
                                       {"duty": "medium", "regulation": "constant head", "setting_head": between("length", 4, 10)},
                                       {"regulation": "temperature difference"},
                                       {"duty": "medium", "regulation": "proportional head"}])
            if is_floor and self.headers != "single pipe" and self.maybe(0.6):
                self.mixes = True
                keys["mixing"] = pick([{"kind": "motorised mixing valve"}, {"kind": "thermostatic mixing valve"},
                                       {"kind": "injection circulator"}])
        if is_room:
            supply = self.rng.uniform(95, 120) if is_floor else self.rng.uniform(130, 180)
            if self.maybe(0.5) and keys.get("mixing", {}).get("kind") != "thermostatic mixing valve":
                keys["reset"] = {"cold_supply": self.value("temperature", supply), "mild_outdoors": between("temperature", 60, 70),
                                 "mild_supply": between("temperature", 75, 90),
                                 **self.sometimes(0.3, warm_weather_shut_down=lambda: between("temperature", 55, 70))}
            elif self.maybe(0.5):
                keys["supply_temperature"] = self.value("temperature", supply)
            keys |= self.sometimes(0.6, thermostat=lambda: self.thermostat(kind))
            keys |= self.sometimes(0.2, room=lambda: {"construction": pick(["light", "medium", "heavy"])})
            if "radiator" in kind and self.maybe(0.3):
                keys["radiator_valve"] = {}
        keys |= self.sometimes(0.3, size=lambda: pick(["1/2 in PEX", "3/4 in PEX", "1 in copper M"]),
                               supply_length=lambda: between("length", 8, 80), height=lambda: between("length", -8, 25),
                               strainer=lambda: {}, flow_check=lambda: {}, design_drop=lambda: between("difference", 8, 30),
                               pipes_inside=lambda: between("share", 0, 100))
        return load, keys

    def thermostat(self, emitter):
        kind = self.rng.choice(["thermostat", "differential thermostat"] + ["proportioning thermostat"] * (emitter in FLOORS))
        keys = {"kind": kind, "setting": self.between("temperature", 62, 73)}
        if kind == "proportioning thermostat":
            keys |= self.sometimes(0.4 * (emitter in FLOORS[:3]), floor_most=lambda: self.between("temperature", 80, 90))
        else:
            keys |= self.sometimes(0.4, differential=lambda: self.between("difference", 0.4, 1.4))
        if self.maybe(0.3):
            keys |= {"setback": self.between("temperature", 55, 61), "setback_from": "21:30", "setback_until": "05:45"}
        return keys

    def snow_zone(self):
        area = self.rng.uniform(80, 600)
        load = area * self.rng.uniform(0.06, 0.14)
        falls = self.rng.choice(["one", "hours", "none"])
        emitter = {"kind": "snow-melt slab", "area": self.value("area", area)}
        if falls == "one":
            emitter["snowfall"] = [self.between("snowfall", 0.005, 0.15)]
        elif falls == "hours":
            emitter["snowfall"] = [self.value("snowfall", self.rng.choice([0, 0, 0.01, 0.03, 0.1])) for _ in range(24)]
        if falls != "one" or self.maybe(0.5):
            emitter["idle"] = self.between("temperature", 28, 33)
        emitter |= self.sometimes(0.3, surface=lambda: self.between("temperature", 34, 42), wind=lambda: self.between("wind", 0, 20),
                                  humidity=lambda: self.between("share", 40, 100), cloud=lambda: self.between("share", 0, 100),
                                  segments=lambda: self.rng.randint(1, 8), layers=lambda: self.rng.randint(3, 10))
        keys = {"name": "drive", "design_load": self.value("power", load), "size": "1 in copper M", "emitter": emitter}
        keys["zone_valve" if self.by_valves else "circulator"] = {} if self.by_valves else {"duty": "medium"}
        if not self.by_valves and self.headers != "single pipe" and self.maybe(0.5):
            self.mixes = True
            keys["mixing"] = {"kind": "motorised mixing valve"}
            keys["reset"] = {"cold_supply": self.between("temperature", 100, 130), "mild_supply": self.between("temperature", 80, 95)}
        return load, keys

    def near_boiler(self):
        pick = self.rng.choice
        size = self.rng.uniform(0.6, 2.2)
        full = max(20, self.load * size)
        least = full / self.rng.uniform(3, 10)

        def boiler():
            return {"heating_input": self.value("power", full), "minimum_input": self.value("power", max(1.5, least)),
                    "rated_flow": self.value("flow", max(4, full / 10)),
                    **self.sometimes(0.3, off_differential=lambda: self.between("difference", 5, 18),
                                     fuel=lambda: pick(["natural gas", "propane"]),
                                     minimum_off=lambda: self.between("minutes", 0.5, 5))}
        self.boiler = boiler()
        self.tables.append(("[boiler]", self.boiler))
        self.has_lag = self.arrangement != "direct" and self.maybe(0.15)
        if self.has_lag:
            self.tables.append(("[lag_boiler]", boiler()))
        keys = {"arrangement": self.arrangement, "size": pick(["1 in copper M", "1-1/4 in copper M", "1-1/2 in copper M"])}
        if self.arrangement != "direct":
            keys["circulator"] = {"duty": pick(["medium", "high head"])}
        if self.arrangement == "plate exchanger":
            keys["exchanger"] = {"rated_conductance": self.value("conductance", full * 1000 / 15),
                                 "rated_flow": self.value("flow", max(4, full / 10)), "rated_head_loss": self.between("length", 3, 10)}
            keys |= self.sometimes(0.3, zone_glycol=lambda: round(self.rng.uniform(0.2, 0.4), 2))
        if self.by_valves and self.arrangement == "direct":
            keys["circulator"] = {"duty": pick(["small", "medium"])}
        elif self.by_valves:
            keys["system_circulator"] = {"duty": pick(["small", "medium", "high head"])}
        if self.by_valves and self.maybe(0.4):
            keys["bypass"] = {}
        if self.arrangement == "buffer tank":
            keys["tank_volume"] = self.between("volume", 20, 120)
            keys["tank_pipes"] = pick(["four", "three", "two"])
            if self.maybe(0.4):
                keys["tank_control"] = self.sometimes(0.5, call_below=lambda: self.between("difference", 8, 20))
        elif self.arrangement != "direct":
            keys |= self.sometimes(0.4, control_sensor=lambda: "system supply")
        keys |= self.sometimes(0.3, air_separator=lambda: {}, strainer=lambda: {}, supply_length=lambda: self.between("length", 2, 15))
        self.tables.append(("[near_boiler]", keys))

    def controls(self):
        if self.shared_reset:
            reset = {"cold_supply": self.between("temperature", 110, 180), "mild_supply": self.between("temperature", 75, 105)}
            self.tables.append(("[controls]", {"reset": reset}))

    def between_zones(self, zones):
        rooms = [z["name"] for z in zones if z["emitter"]["kind"] not in ("indirect tank", "snow-melt slab")]
        for one, other in zip(rooms, rooms[1:]):
            if self.maybe(0.3):
                self.tables.append(("[[between]]", {"zones": [one, other], "area": self.between("area", 40, 300),
                                                    **self.sometimes(0.5, r_value=lambda: self.between("r_value", 1, 10))}))

    def hot_water(self):
        if self.has_lag or self.is_glycol or not self.maybe(0.4):
            return
        keys = {"operation": self.rng.choice(["priority", "shared"]), "set_point": self.between("temperature", 115, 135)}
        keys["cold_inlet"] = self.rng.choice([{"kind": "steady"}, {"kind": "by season", "mean": self.between("temperature", 45, 60),
                                                                   "swing": self.between("difference", 2, 12)}])
        if self.maybe(0.25):
            keys["recirculation"] = {"by": self.rng.choice(["time", "temperature"])}
        elif self.maybe(0.25):
            keys["storage"] = {"volume": self.between("volume", 2, 20)}
        keys["draws"] = self.rng.choice([{"kind": "family", "people": self.rng.randint(1, 6)}, {"kind": "tapping profile", "profile": "M"},
                                         {"kind": "draw pattern", "use": "medium"}])
        self.tables.append(("[hot_water]", keys))
        for n, name in enumerate(["shower", "kitchen sink", "basin"][: self.rng.randint(1, 3)]):
            self.tables.append(("[[tap]]", {"name": name, "run_length": self.between("length", 5, 50),
                                            **({"at": ["7:00", "18:30"], "lasts": self.between("minutes", 1, 8)} if n == 0 else {})}))

    def trades(self):
        pick = self.rng.choice
        self.tables.append(("[[expansion_tank]]", {"name": "cushion", "joint": "boiler outlet", "fill_pressure": self.between("pressure", 10, 20),
                                                   "volume": self.between("volume", 2, 12)}))
        self.tables.append(("[safety]", {"relief_setting": self.value("pressure", 30), "low_water_cut_off": pick(["yes", "no", "unknown"])}))
        self.tables.append(("[gas]", {"supply_pressure": self.between("gas_pressure", 6, 12)}))
        self.tables.append(("[[gas_pipe]]", {"name": "main", "from": "meter", "to": "boiler room", "size": pick(["3/4 in steel 40",
                                             "1 in steel 40"]), "length": self.between("length", 10, 60), "elbows": 4}))
        for boiler in ["boiler", "lag boiler"][: 1 + self.has_lag]:
            self.tables.append(("[[gas_appliance]]", {"name": boiler, "at": "boiler room"}))
        self.tables.append(("[vent]", {"system": "two pipes", "material": pick(["PVC", "CPVC", "polypropylene", "stainless steel"]),
                                       "diameter": self.value("inches", pick([2, 3])),
                                       "exhaust": {"length": self.between("length", 5, 50), "elbows": 3, "longest": self.value("length", 100)},
                                       "intake": {"length": self.between("length", 5, 50), "elbows": 3}}))


def house(seed, snow=False):
    return House(seed, snow).text()


if __name__ == "__main__":
    import sys
    print(house(int(sys.argv[1]), len(sys.argv) > 2), end="")
