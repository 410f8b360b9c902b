"""Answers at the counter: what a master would ask on the phone, and a first house of them that has no fault of its own doing.

The frame hands every job a house; those of `new` write their own beside it, made.toml. What a pipe carries at 4 ft/s is 2.449·v·d²
[gpm, ft/s, in]; the 4 ft/s are common practice for noise, no published source. Heat is 500·gpm·°F.
"""

ANSWERS = """format = 1
title = "A call"
[house]
floor_area = "2000 ft2"
construction = "average"
outdoor_design = "5 degF"
{house}
[[zone]]
name = "downstairs"
{first}
[[zone]]
name = "upstairs"
{second}
[fixtures]
showers = 2
{fixtures}
[cold_water]
coldest = "45 degF"
[gas_run]
length = "30 ft"
elbows = 4
{gas}
[vent_run]
length = "15 ft"
elbows = 2
"""


class Either(tuple):
    """One of some exit codes."""

    def __eq__(self, code):
        return code in tuple(self)

    def __ne__(self, code):
        return code not in tuple(self)


REVIEWED = Either((0, 1))  # what is serious in a first house is for the review's own jobs
UNASKED = 'format = 1\ntitle = "not asked for"\n'
NEW = "new made.toml --answers call.toml"
BASEBOARD = 'emitter = "fin-tube baseboard"'
# what nobody who answers can help: pipe, pump, valve and tees as the program chose them
OWN_DOING = ["pipe.fast", "pipe.laminar", "tees.mixing", "zone.short_of_flow", "zone.over_pumped", "room.too_cold", "circulator.off_curve",
             "gas.over_allowance", "gas.over_capacity", "vent.too_hot", "dhw.all_at_once"]


def call(house="", first=BASEBOARD, second=BASEBOARD, fixtures="", gas=""):
    return ANSWERS.format(house=house, first=first, second=second, fixtures=fixtures, gas=gas)


def job(name, master, sum_, answers, *asks):
    return {"name": "counter: " + name, "master": master, "sum": sum_, "house": UNASKED, "files": {"call.toml": answers},
            "asks": list(asks)}


def sound(command, **more):
    """A house of plain answers: nothing that its maker chose is found fault with."""
    return {"command": command, "lacks": OWN_DOING, **more}


JOBS = [
    job("two floors of baseboard", "Sixty kBtu/h on baseboard: nothing to it. What I chose myself must not be at fault.",
        "27 Btu/h·ft² · 2000 ft² = 54 kBtu/h (rule of thumb); 54/(500·20 °F) = 5.4 gpm in a 1 in main is 2 ft/s",
        call(), {"command": NEW}, sound("flows made.toml")),
    job("a large house", "Ninety kBtu/h and pumps by the zone: the main is 1-1/4 in, or it is heard.",
        "35 Btu/h·ft² is beyond average: 45 · 3500 ft² = 158 kBtu/h (rule of thumb) = 15.8 gpm; 1 in carries 10.9 gpm at 4 ft/s, "
        "1-1/4 in 16.3 gpm, 1-1/2 in 22.8 gpm",
        call().replace("2000 ft2", "3500 ft2").replace("average", "old and leaky"), {"command": NEW}, sound("flows made.toml")),
    job("a small bath", "A bath of 3 kBtu/h on its own circulator: a small setting, or the water only goes round.",
        "5% of 54 kBtu/h is 2.7 kBtu/h; at 20 °F that is 0.27 gpm, and twice that is noted as over-pumped",
        call(first='emitter = "panel radiator"\nshare = "5 %"'), {"command": NEW}, sound("flows made.toml")),
    job("zone valves", "One pump and two zone valves: the pump is chosen for both, and neither whistles.",
        "5.4 gpm in all; each zone takes half", call('zoning = "zone valves"'), {"command": NEW},
        sound("flows made.toml", never=[r"upstairs/circulator"]), {"command": "check made.toml --materials list.csv", "exit": REVIEWED}),
    job("straight in, and nobody said how it is zoned",
        "Straight in on a combi: its own pump runs for every call, so zone valves. Zone pumps behind it would be pushed open.",
        "two circulators in line: the resting one's flow check opens at some 0.3 ft (rule of thumb), the boiler's has many feet",
        call('arrangement = "direct"'), {"command": NEW}, sound("flows made.toml", lacks=OWN_DOING + ["circulator.ghost_flow"]),
        {"command": "run made.toml", "lacks": ["circulator.ghost_flow", "circulator.no_flow"]}),
    job("a radiator beside baseboard", "One water for both: at 170 °F the bath's radiator is a small one.",
        "EN 442 exponent 1.3: at 170 °F less half of 20 °F drop the excess is 90 °F, the rating's own; at 150 °F it is 70 °F, and the "
        "radiator 1.39 times as large would overheat the bath by its stored heat",
        call(first='emitter = "panel radiator"\nshare = "6 %"'), {"command": NEW},
        sound("flows made.toml"), {"command": "run made.toml", "lacks": ["room.too_warm", "room.too_cold"]}),
    job("slab beside baseboard", "A slab cannot have the baseboard's 170 °F: it gets a mixing valve, whoever forgot to say so.",
        "slab 100 °F, fin-tube 170 °F (usual design water, rule of thumb); a floor's own limit is 84 °F (EN 1264)",
        call(first='emitter = "radiant slab"'), {"command": NEW},
        sound("flows made.toml", lacks=OWN_DOING + ["slab.too_warm", "dhw.shared_floor", "mixing.starved"]),
        {"command": "run made.toml --json - --quiet", "never": [r'"slab.surface_too_warm"', r'"floor.too_warm"'],
         "says": [r"mixing"]}),
    job("slab beside baseboard, zone valves", "One pump for all would push 170 °F through the slab's mixing valve: a pump for each zone.",
        "a mixing valve moves no water, and holds none back", call('zoning = "zone valves"', first='emitter = "radiant slab"'),
        {"command": NEW}, sound("flows made.toml")),
    job("all slab", "Slabs alone need no mixing valve: the boiler makes 100 °F itself.", "one water temperature in the house",
        call(first='emitter = "radiant slab"', second='emitter = "radiant slab"'), {"command": NEW},
        sound("flows made.toml", never=[r"mixing valve"])),
    job("air handler", "An air handler is a coil and a blower: some 400 cfm a ton of heat, and air above 95 °F.",
        "27 kBtu/h/(1.08·35 °F) = 714 cfm leaves at 105 °F",
        call(first='emitter = "air handler"'), {"command": NEW}, sound("flows made.toml", lacks=OWN_DOING + ["air_handler.cool_air"])),
    job("propane at altitude", "Propane at 6000 ft: say the fuel, keep the altitude, and look the derate up in the manual.",
        "propane 2500 Btu/ft³ carries 2.4 times the heat of natural gas in one pipe (equation of NFPA 54)",
        call('altitude = "6000 ft"', gas='gas = "propane"'), {"command": NEW},
        sound("check made.toml", exit=REVIEWED, says=[r"propane", r"6000 ft|altitude"])),
    job("other burners on the line", "A 65 kBtu/h range on the same pipe: the pipe is judged with both firing.",
        "(100 + 65) kBtu/h/1037 Btu/ft³ = 159 cfh; 3/4 in steel carries 36 ft·… by the table's next longer row",
        call(gas='other_input = "65 kBtu/h"'), {"command": NEW},
        sound("check made.toml --all", exit=REVIEWED, says=[r"others"])),
    job("heights, glycol and pumps", "Upstairs is 18 ft up, and there is 30% glycol: both go into the job.",
        "18 ft · 0.433 psi/ft = 7.8 psi of fill for height alone, and 4 psi above it: about 12 psi",
        call('glycol = "30 %"\nzoning = "circulators"', second=BASEBOARD + '\nheight = "18 ft"'), {"command": NEW},
        sound("check made.toml --all", exit=REVIEWED, says=[r"18\.?0? ft", r"[Gg]lycol"])),
    job("the maker's hot-water figure", "The data sheet says 4.5 gpm at 70 °F: that is 157 kBtu/h into the water.",
        "500·4.5·70 = 157.5 kBtu/h; of 175 kBtu/h in it is 90%",
        call(fixtures='maker_input = "175 kBtu/h"\nmaker_flow = "4.5 gpm"\nmaker_rise = "70 degF"'), {"command": NEW},
        sound("check made.toml", exit=REVIEWED, never=[r"program fault"])),
    job("unknown stays unknown", "What nobody knew is written as unknown and read so again.", "no sum",
        call().replace('outdoor_design = "5 degF"', 'outdoor_design = "unknown"').replace('"45 degF"', '"unknown"'),
        {"command": NEW, "says": [r"outdoor design", r"cold water"]},
        {"command": "flows made.toml", "says": [r"outdoor design temperature not stated; 0 °F taken"],
         "finds": [("site.no_design_temperature", "site", "minor")]},
        {"command": "check made.toml", "exit": REVIEWED, "says": [r"outdoor design temperature not stated"]}),
    job("a gas size that is none", "Five-eighths steel is not sold: the caller is asked again, with the sizes there are.", "no sum",
        call(gas='size = "1 in black iron"'),
        {"command": NEW, "exit": 2, "says": [r"call\.toml:\d+:\d+: error\[E221\]", r"1 in black iron", r'"1 in steel 40"'],
         "never": [r"program fault"]}),
    job("a name that the piping has", "A zone called boiler is a slip: say another name.", "no sum",
        call().replace('"upstairs"', '"boiler"'),
        {"command": NEW, "exit": 2, "says": [r"call\.toml:\d+:\d+: error\[E215\]"], "never": [r"program fault"]}),
    job("the maker's flow without its rise", "A flow without its rise says nothing.", "no sum", call(fixtures='maker_flow = "4.5 gpm"'),
        {"command": NEW, "exit": 2, "says": [r"error\[E205\]", r"maker_rise"]}),
    job("keys of the answers", "Whoever writes the answers by hand finds their keys.", "no sum", call(),
        {"command": "reference", "says": [r"winter_fuel", r"other_input", r"maker_flow", r"new FILE --answers"]},
        {"command": "reference --answers", "says": [r"zoning", r"glycol"], "never": [r"near_boiler"]}),
]

ROOM = """format = 1
title = "A house"
{site}
[boiler]
heating_input = "80 kBtu/h"
minimum_input = "16 kBtu/h"
[near_boiler]
arrangement = "closely spaced tees"
[[zone]]
name = "bath"
design_load = "8 kBtu/h"
floor_area = "300 ft2"
emitter = {{ kind = "fin-tube baseboard", length = "20 ft" }}
supply_length = "{length}"
circulator = {{ duty = "small" }}
[[zone]]
name = "living"
design_load = "20 kBtu/h"
floor_area = "800 ft2"
emitter = {{ kind = "fin-tube baseboard", length = "50 ft" }}
circulator = {{ duty = "small" }}
"""
SITE = '[site]\noutdoor_design = "5 degF"'


def house(site=SITE, length="50 ft", *edits):
    text = ROOM.format(site=site, length=length)
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new)
    return text


def words(name, master, text, *asks):
    return {"name": "words: " + name, "master": master, "sum": "no sum", "house": text, "asks": list(asks)}


def hint(name, old, new, *patterns):
    return words(name, "Say it in the trade's words, and be told ours.", house(SITE, "50 ft", (old, new)),
                 {"command": "flows HOUSE", "exit": 2, "says": patterns})


JOBS += [
    words("no design temperature", "Without a design temperature no load means anything: ask for it.", house(site=""),
          {"command": "flows HOUSE", "finds": [("site.no_design_temperature", "site", "minor")], "says": [r"not stated; 0 °F taken"]},
          {"command": "run HOUSE", "finds": [("site.no_design_temperature", "site", "minor")]},
          {"command": "check HOUSE", "exit": REVIEWED, "finds": [("site.no_design_temperature", "site", "minor")]}),
    words("a stated design temperature", "It is stated: no word of it.", house(),
          {"command": "flows HOUSE", "lacks": ["site.no_design_temperature"]}),
    words("feet and inches", "50 ft 6 in is 50.5 ft to anyone with a tape.", house(length="50 ft 6 in"),
          {"command": "flows HOUSE", "never": [r"error"]}),
    words("a hundred years", "Nobody runs a hundred years; the range is told in years.", house() + '[run]\nduration = "100 yr"\n',
          {"command": "run HOUSE", "exit": 2, "says": [r"100 yr, above its range", r"to 10\.\d* yr"], "never": [r"did you mean"]}),
    words("one zone alone", "It works when it calls alone: ask for the bath alone.", house(),
          {"command": "flows HOUSE --calls bath", "says": [r"bath calling"], "never": [r"living calling"]},
          {"command": 'flows HOUSE --calls "bath, living"', "says": [r"bath, living calling"]}),
    hint("baseboard", 'kind = "fin-tube baseboard", length = "20 ft"', 'kind = "baseboard", length = "20 ft"',
         r"zone 'bath'", r"hint write 'fin-tube baseboard'"),
    hint("radiant", 'kind = "fin-tube baseboard", length = "20 ft"', 'kind = "radiant"', r"hint write 'radiant slab'"),
    hint("primary secondary", 'arrangement = "closely spaced tees"', 'arrangement = "primary/secondary"',
         r"hint write 'closely spaced tees'"),
    hint("hydro separator", 'arrangement = "closely spaced tees"', 'arrangement = "hydro separator"', r"hint (write|did you mean) 'hydraulic separator'"),
    hint("pump", 'supply_length = "50 ft"', 'supply_length = "50 ft"\npump = { duty = "small" }', r"zone 'bath'",
         r"hint write 'circulator'"),
    hint("black iron", 'supply_length = "50 ft"', 'size = "1 in black iron"', r"zone 'bath'", r'did you mean "1 in steel 40"'),
    hint("a pump as a table", "[near_boiler]", '[[pump]]\nname = "P"\n[near_boiler]', r"hint write 'circulator'"),
    hint("heat loss", 'design_load = "8 kBtu/h"', 'heat_loss = "8 kBtu/h"', r"zone 'bath'", r"hint write 'design_load'"),
]
