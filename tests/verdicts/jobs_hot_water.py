"""Domestic hot water: draws that fail, the maker's figure, altitude, rooms that wait, and what would help.

Sums by the trade's heat = 500·gpm·°F (physics.md, "DHW": within 0.3 % of real water). A burner's efficiency into hot water of 85 to 97 %
is a usual range (rule of thumb): a condensing exchanger fed by cold plates.
"""

ZONE = """
[[zone]]
name = "rooms"
design_load = "24 kBtu/h"
floor_area = "1100 ft2"
emitter = { kind = "panel radiator", output = "34 kBtu/h" }
supply_temperature = "150 degF"
circulator = { duty = "small" }
"""
RUN = '\n[run]\nduration = "1 d"\n'


def tap(name, flow, at, lasts=None, volume=None, more=""):
    amount = f'lasts = "{lasts}"' if lasts else f'volume = "{volume}"'
    times = ", ".join(f'"{t}"' for t in at)
    return f'\n[[tap]]\nname = "{name}"\nflow = "{flow}"\nat = [{times}]\n{amount}\n{more}\n'


def house(taps, boiler='dhw_input = "150 kBtu/h"', hot="", cold="42 degF", zone=ZONE, more="", outdoors="30 degF"):
    return f"""format = 1
title = "A combi boiler"
[site]
outdoor_design = "5 degF"
weather = {{ kind = "constant", outdoors = "{outdoors}" }}
[boiler]
heating_input = "80 kBtu/h"
minimum_input = "16 kBtu/h"
{boiler}
[near_boiler]
arrangement = "closely spaced tees"
[hot_water]
set_point = "120 degF"
cold_inlet = {{ kind = "steady", temperature = "{cold}" }}
{hot}
{taps}{zone}{more}{RUN}"""


ONE_SHOWER = tap("shower", "2 gpm", ["6:30"], lasts="8 min")
TWO_SHOWERS = tap("upstairs", "2 gpm", ["6:30"], lasts="8 min") + tap("downstairs", "2 gpm", ["6:31"], lasts="8 min")
FAILS = "dhw.draws_fail"

JOBS = [
    {
        "name": "one shower on a large combi",
        "master": "One shower of 2 gpm is nothing to a combi of 150 kBtu/h: all well.",
        "sum": "500·2·(105 − 42) = 63 kBtu/h of some 135",
        "house": house(ONE_SHOWER),
        "asks": [
            {"command": "run HOUSE", "lacks": [FAILS, "dhw.all_at_once"], "figures": [("hot_water.all.on_target", 1, 1)],
             "never": [r"draws? fail"]},
            {"command": "check HOUSE", "lacks": [FAILS]},
        ],
    },
    {
        "name": "two showers on a small combi",
        "master": "Two showers at once ask for half more than this boiler gives: both run lukewarm. That is serious. Shower heads of less "
                  "flow, a second heater or a larger input help; a lower set point does not.",
        "sum": "2·500·2·63 = 126 kBtu/h wanted; 90·0.85 … 90·0.97 = 77 … 87 given: 42 + 63·(77 … 87)/126 = 80 … 86 °F at the taps",
        "house": house(TWO_SHOWERS, boiler='dhw_input = "90 kBtu/h"', hot='flow_limit = "6 gpm"'),
        "asks": [
            {"command": "run HOUSE", "finds": [(FAILS, "upstairs", "serious"), (FAILS, "downstairs", "serious")],
             "says": [r"2 of 2 draws fail", r"needs? 12[5-9]\.\d kBtu/h", r"the burner gives (7[5-9]|8\d)\.\d kBtu/h"],
             "figures": [("hot_water.failed.draws", 2, 2)]},
            {"command": "check HOUSE", "exit": 1, "finds": [(FAILS, None, "serious")],
             "says": [r"shower heads|taps? of", r"second heater", r"hot water input of 1[3-5]\d"],
             "never": [r"Fix: [^.]*lower set ?point"]},
        ],
    },
    {
        "name": "what would help is simulated, and what does not is not told",
        "master": "The check tries each change: larger input and a second heater serve all draws; a lower set point changes nothing.",
        "sum": "as above: heat is short, not temperature of the water made",
        "house": house(TWO_SHOWERS, boiler='dhw_input = "90 kBtu/h"', hot='flow_limit = "6 gpm"'),
        "asks": [
            {"command": "check HOUSE --all", "exit": 1,
             "says": [r"What would help, each simulated", r"a second heater of \d+\.0 kBtu/h, 0 of 2 draws fail", r"draws that fail"],
             "never": [r"What would help[^.]*setpoint"]},
            {"command": "run HOUSE", "says": [r"calculated"]},
        ],
    },
    {
        "name": "a basin below the flow switch",
        "master": "At 0.4 gpm the burner never starts: that basin has cold water for ever, whatever the boiler's size. Serious. Open it "
                  "further, or a boiler that starts at less.",
        "sum": "0.4 < 0.5 gpm, the flow that starts it",
        "scenario": "combi_family.toml",
        "asks": [
            {"command": "run HOUSE", "finds": [(FAILS, "basin", "serious")], "lacks": [(FAILS, "shower")],
             "says": [r"basin: 6 of 6 draws fail", r"never starts? the burner", r"0\.40? gpm", r"0\.50? gpm"]},
            {"command": "check HOUSE", "exit": 1, "finds": [(FAILS, "basin", "serious")],
             "says": [r"basin[^.]*0\.6"], "never": [r"larger hot water input"]},
        ],
    },
    {
        "name": "a size whose draws fail is never taken",
        "master": "The 80 heats the house with fewer starts, but two showers run cold on it: take the one that serves them.",
        "sum": "two showers 126 kBtu/h: 80·0.97 = 78 does not, 180·0.85 = 153 does",
        "house": house(TWO_SHOWERS, boiler='dhw_input = "80 kBtu/h"', hot='flow_limit = "6 gpm"', more="""
[[candidate]]
name = "small throughout"
heating_input = "60 kBtu/h"
minimum_input = "6 kBtu/h"
dhw_input = "80 kBtu/h"
price = 2500
[[candidate]]
name = "hot water 180"
heating_input = "80 kBtu/h"
minimum_input = "18 kBtu/h"
dhw_input = "180 kBtu/h"
price = 3500
"""),
        "asks": [{"command": "check HOUSE", "exit": 1, "says": [r"Choose 'hot water 180'"],
                  "never": [r"Choose 'small throughout'", r"Choose 'as stated'"]}],
    },
    {
        "name": "no size on the list serves the taps",
        "master": "Neither serves two showers: I take none of them before the showers are settled.",
        "sum": "126 kBtu/h against 78 and 97 at most",
        "house": house(TWO_SHOWERS, boiler='dhw_input = "80 kBtu/h"', hot='flow_limit = "6 gpm"', more="""
[[candidate]]
name = "hot water 100"
heating_input = "80 kBtu/h"
minimum_input = "8 kBtu/h"
dhw_input = "100 kBtu/h"
"""),
        "asks": [{"command": "check HOUSE", "exit": 1, "says": [r"No size serves all draws"], "never": [r"Choose '"]}],
    },
    {
        "name": "shared operation is judged beside heating",
        "master": "Shared, on the coldest day: heating takes its part and the two showers do not fit beside it, though they fit alone.",
        "sum": "showers 126; burner 150·0.85 … 0.97 = 127 … 145; less 36 of heating leaves 91 … 109: 42 + 63·(91 … 109)/126 = 88 … 97 °F",
        "house": house(TWO_SHOWERS, hot='operation = "shared"\nflow_limit = "6 gpm"', outdoors="5 degF",
                       zone=ZONE.replace('"24 kBtu/h"', '"36 kBtu/h"').replace('"34 kBtu/h"', '"50 kBtu/h"')),
        "asks": [
            {"command": "check HOUSE", "exit": 1, "finds": [("dhw.all_at_once", None, None), (FAILS, None, "serious")],
             "says": [r"beside 36\.0 kBtu/h of heating", r"beside heating the burner has"]},
        ],
    },
    {
        "name": "the maker's efficiency is what counts",
        "master": "The sheet says 95 % into hot water: 142.5 kBtu/h, in the run as in the answer.",
        "sum": "0.95·150",
        "house": house(ONE_SHOWER, boiler='dhw_input = "150 kBtu/h"\ndhw_efficiency = "95 %"'),
        "asks": [{"command": "run HOUSE", "figures": [("hot_water.deliverable.output_W", 142.4 * 293.07, 142.6 * 293.07),
                                                      ("hot_water.deliverable.efficiency", 0.9499, 0.9501)],
                  "says": [r"142\.5 kBtu/h"]}],
    },
    {
        "name": "the brochure's flow belongs to its rise",
        "master": "5.1 gpm is the brochure's figure at 74 °F. With 40 °F water and 120 °F out the rise is 80 °F: 4.7 gpm, no more.",
        "sum": "5.1·74/80 = 4.72 gpm",
        "house": house(ONE_SHOWER, boiler='dhw_input = "199 kBtu/h"\ndhw_rated_flow = "5.1 gpm"\ndhw_rated_rise = "74 degF"',
                       cold="40 degF", hot='flow_limit = "8 gpm"\nexchanger = { rated_conductance = '
                       '"9000 Btu/(h.degF)", rated_flow = "5 gpm", rated_head_loss = "6 ft" }'),
        "asks": [{"command": "run HOUSE", "says": [r"5\.1 gpm belongs to a 74 °F rise.{0,60}here the rise is 80 °F: 4\.7 gpm"],
                  "figures": [("hot_water.deliverable.output_W", 187.5 * 293.07, 189.5 * 293.07)]}],
    },
    {
        "name": "without the maker's figure the usual rise of brochures stands beside",
        "master": "Brochures print the flow at a 70 °F rise; from 42 to 120 °F it is 78.",
        "sum": "flow·rise is the same heat: at 78 °F 70/78 = 0.897 of it",
        "house": house(ONE_SHOWER),
        "asks": [{"command": "run HOUSE", "says": [r"gpm belongs to a 70 °F rise.{0,120}here the rise is 78 °F: \d\.\d gpm"]}],
    },
    {
        "name": "efficiency and flow of the maker that contradict the input",
        "master": "6.5 gpm at 77 °F would take 250 kBtu/h of a 199 burner: one of the figures is misread.",
        "sum": "500·6.5·77 = 250 > 199",
        "house": house(ONE_SHOWER, boiler='dhw_input = "199 kBtu/h"\ndhw_rated_flow = "6.5 gpm"\ndhw_rated_rise = "77 degF"'),
        "asks": [{"command": "run HOUSE", "exit": 2, "says": [r"dhw_rated_flow.*126%"]}],
    },
    {
        "name": "least steady flow by season, and the flow that never starts the burner",
        "master": "Minimum fire 20 kBtu/h: in winter it holds steady from 0.5 gpm of 120 °F water, in summer only from 0.7. Below 0.5 gpm "
                  "nothing starts.",
        "sum": "20·0.93 … 1.0/(500·(120 − 40)) = 0.46 … 0.50 gpm; over 120 − 64: 0.66 … 0.71",
        "house": house(ONE_SHOWER, boiler='dhw_input = "150 kBtu/h"\ndhw_minimum_input = "20 kBtu/h"',
                       hot='start_flow = "0.5 gpm"\nstop_flow = "0.4 gpm"').replace(
            '{ kind = "steady", temperature = "42 degF" }', '{ kind = "by season", mean = "52 degF", swing = "12 degF" }'),
        "asks": [{"command": "run HOUSE",
                  "says": [r"A tap below 0\.50 gpm never starts the burner", r"steady from"],
                  "figures": [("hot_water.deliverable.rows.0.least_steady_m3_s", 0.45 * 6.309e-5, 0.51 * 6.309e-5 * 80 / 65),
                              ("hot_water.deliverable.rows.2.least_steady_m3_s", 0.65 * 6.309e-5 * 56 / 41, 0.72 * 6.309e-5 * 56 / 41)]}],
    },
    {
        "name": "hot water of one derated boiler at altitude",
        "master": "At 7,500 ft the 80 burns 62.4: in the run, for hot water and in the vent part alike, and two showers do not fit.",
        "sum": "(7.5 − 2)·4 % = 22 %: 80·0.78 = 62.4; two showers 126 kBtu/h",
        "house": house(TWO_SHOWERS, boiler="", hot='flow_limit = "6 gpm"', more="""
[vent]
system = "two pipes"
material = "polypropylene"
diameter = "3 in"
altitude = "7500 ft"
derate_per_1000_ft = "4 %"
exhaust = { length = "22 ft", elbows = 3, terminations = 1, longest = "100 ft", shortest = "8 ft" }
intake = { length = "20 ft", elbows = 4, terminations = 1, longest = "100 ft", shortest = "0 ft" }
[[candidate]]
name = "another 80"
heating_input = "80 kBtu/h"
minimum_input = "8 kBtu/h"
"""),
        "asks": [
            {"command": "run HOUSE", "figures": [("burner.input_W.most", 62.3 * 293.07, 62.5 * 293.07),
                                                 ("hot_water.deliverable.output_W", 0.85 * 62.4 * 293.07, 0.97 * 62.4 * 293.07)],
             "finds": [(FAILS, None, "serious")], "never": [r"2 taps like"]},
            {"command": "check HOUSE --all", "exit": 1, "says": [r"62\.4 kBtu/h", r"another 80 +62\.4"], "never": [r"another 80 +80\.0"]},
        ],
    },
    {
        "name": "a room falls while hot water has priority",
        "master": "A draw of 100 minutes on the coldest morning: the radiators wait an hour, and that is why it cools.",
        "sum": "longest_wait 60 min; a room that loses 24 kBtu/h falls some °F an hour by its air and surfaces",
        "house": house(tap("shower", "2 gpm", ["6:00"], lasts="100 min"), outdoors="5 degF"),
        "asks": [{"command": "run HOUSE", "says": [r"rooms:? fell \d\.\d °F, from .{0,60} while heating waited \d+\.\d min for hot"],
                  "figures": [("hot_water.dips.0.waited_s", 1800, 7200)]}],
    },
    {
        "name": "a slab beside shared hot water",
        "master": "The slab gets the plates' water. A mixing valve protects it; priority does not, it gets what is left in the boiler "
                  "after each draw.",
        "sum": "125 °F and 10 °F more at the plates, against a floor of 105 °F water",
        "scenario": "shared_slab.toml",
        "asks": [{"command": "run HOUSE", "finds": [("dhw.shared_floor", None, "serious")], "says": [r"Fix: add a mixing valve"],
                  "never": [r"or give hot water priority"]}],
    },
    {
        "name": "an upper flow is assumed where none is stated",
        "master": "Every combi holds its flow to about what it heats by 70 °F; without its figure I assume that and say so.",
        "sum": "0.95·150/(500·70) = 4.07 gpm",
        "house": house(ONE_SHOWER),
        "asks": [{"command": "run HOUSE", "figures": [("hot_water.deliverable.upper_flow_m3_s", 4.0 * 6.309e-5, 4.15 * 6.309e-5)]}],
    },
    {
        "name": "a limiter set too low for the taps",
        "master": "A limiter at 2 gpm: two showers get their warmth, and two thirds of their flow. Open the limiter; the burner can.",
        "sum": "2·(120 − 42)/(2·2·(105 − 42)) = 62 % of the flow",
        "house": house(TWO_SHOWERS, hot='flow_limit = "2 gpm"'),
        "asks": [{"command": "check HOUSE", "exit": 1, "finds": [(FAILS, None, "serious")], "says": [r"flow limiter.{0,80}2\.0 gpm"],
                  "never": [r"larger hot water input"]}],
    },
    {
        "name": "a quart at the basin",
        "master": "A quart is run before the pipes are warm: that is the pipe's doing, and no fault of the boiler.",
        "sum": "25 ft of 1/2 in and 10 ft of 3/4 in copper hold 0.6 gal; 0.25 gal are drawn",
        "house": house(tap("basin", "1 gpm", ["7:00", "12:00"], volume="0.25 gal")),
        "asks": [{"command": "run HOUSE", "lacks": [(FAILS, None, "serious")], "finds": [("dhw.ended_before_hot", "basin", "note")]}],
    },
    {
        "name": "a tap hotter than the set point",
        "master": "The dishwasher's tap needs 130 °F and the boiler makes 120: raise the set point.",
        "sum": "120 < 130",
        "house": house(tap("laundry", "2 gpm", ["9:00"], lasts="6 min", more='temperature = "130 degF"')),
        "asks": [{"command": "check HOUSE", "exit": 1, "finds": [(FAILS, "laundry", "serious")],
                  "says": [r"setpoint of 1[23]\d °F"]}],
    },
]
