"""Which piping arrangement, and which distribution: what a caller asks first, as a master would answer it.

Flow of a load: gpm = Btu/h ÷ (490 × drop), at 140 to 160 °F (physics.md, section 1: 491.8 at 140 °F, 489.5 at 160 °F). Head loss of a
boiler: with the square of the flow. Buffer by its formula, V = t·(P_min − load)/(490·ΔT) (physics.md, section 13). Generic circulators as
`reference` lists them: small 16 ft at no flow, medium 21 ft, high head 32 ft, each with a few feet at the end of its curve.
"""

SITE = """format = 1
title = "A job"

[site]
outdoor_design = "5 degF"
weather = { kind = "daily wave", mean = "%s", swing = "14 degF" }
"""


def house(mean, boiler, near, zones, more=""):
    return SITE % mean + f"\n[boiler]\n{boiler}\n\n[near_boiler]\n{near}\n{more}" + """
[controls]
reset = { cold_supply = "165 degF", mild_outdoors = "65 degF", mild_supply = "100 degF" }
""" + "".join(f"\n[[zone]]\n{z}\n" for z in zones) + '\n[run]\nduration = "1 d"\n'


def zone(name, kbtu, feet, area, more='circulator = { duty = "small" }'):
    """Fin-tube that gives some 0.6 kBtu/h a foot at 165 °F: a quarter more than the load needs."""
    return (f'name = "{name}"\ndesign_load = "{kbtu} kBtu/h"\nfloor_area = "{area} ft2"\n'
            f'emitter = {{ kind = "fin-tube baseboard", length = "{feet} ft" }}\n{more}')


ONE_ZONE = house("20 degF", 'heating_input = "40 kBtu/h"\nminimum_input = "8 kBtu/h"\nrated_flow = "8 gpm"\nrated_head_loss = "2 ft"',
                 'arrangement = "closely spaced tees"', [zone("house", 24, 66, 900)])

SIX_ZONES = house("20 degF", 'heating_input = "120 kBtu/h"\nminimum_input = "12 kBtu/h"\nrated_flow = "4 gpm"\nrated_head_loss = "14 ft"',
                  'arrangement = "direct"\nsize = "1-1/4 in copper M"',
                  [zone(n, 12, 34, 450) for n in ("kitchen", "living", "dining", "office", "east", "west")])

TINY_ZONE = house("38 degF", 'heating_input = "180 kBtu/h"\nminimum_input = "60 kBtu/h"', 'arrangement = "direct"\nsize = "1-1/4 in copper M"',
                  [zone("living", 30, 84, 1100), zone("bath", 3, 9, 60, 'circulator = { duty = "small" }\nthermostat = { setting = "74 degF" }')])

FIVE_SMALL = house("20 degF", 'heating_input = "50 kBtu/h"\nminimum_input = "7 kBtu/h"\nrated_flow = "8 gpm"\nrated_head_loss = "3 ft"',
                   'arrangement = "closely spaced tees"',
                   [zone(n, 7, 20, 250) for n in ("kitchen", "living", "office", "east", "west")])

TWO_ZONES_VALVES = house("20 degF", 'heating_input = "50 kBtu/h"\nminimum_input = "8 kBtu/h"\nrated_head_loss = "3 ft"',
                         'arrangement = "direct"\ncirculator = { duty = "medium", regulation = "constant head", setting_head = "10 ft" }',
                         [zone(n, 14, 40, 500, "zone_valve = { cv = 5 }") for n in ("up", "down")])

JOBS = [
    dict(name="arrangements: one zone and a boiler of low head loss go straight in",
         master="One loop, one circulator, straight through the boiler. Tees and a second circulator bring nothing here.",
         sum="24 kBtu/h over 20 °F: 2.4 gpm; boiler 2 ft × (2.4/8)² = 0.2 ft of a small circulator's 15 ft. Minimum fire 8 × 0.88 = 7 kBtu/h, "
             "below the zone's 24: no tank.",
         house=ONE_ZONE,
         asks=[dict(command="arrangements HOUSE",
                    says=[r"Simplest arrangement that works: direct", r"Tees, a separator or a buffer tank are not needed",
                          r"at the 2\.\d gpm that all zones need the boiler takes 0\.2 ft"],
                    never=[r"is needed:", r"No arrangement"])]),
    dict(name="arrangements: six circulators cannot push through a boiler of high head loss",
         master="Six zone circulators cannot push all their water through that boiler. One strong circulator with zone valves can, with a wider "
                "drop that nobody feels; tees with a boiler circulator of its own are the other way.",
         sum="6 × 12 kBtu/h over 20 °F: 7.3 gpm; boiler 14 ft × (7.3/4)² = 47 ft; the largest circulator here has 29 ft at 7 gpm, and brings "
             "some 5.5 gpm: three quarters of the flow, 95% of the heat.",
         house=SIX_ZONES,
         asks=[dict(command="arrangements HOUSE",
                    says=[r"The house as it is now \(direct with a circulator per zone\) does not work: \w+ gets [01]\.\d gpm of 1\.2 gpm needed",
                          r"at the 7\.\d gpm that all zones need the boiler takes 4\d\.\d ft"],
                    never=[r"Simplest arrangement that works: direct with a circulator per zone", r"buffer tank is needed"])]),
    dict(name="arrangements: a tiny zone and a large minimum fire need a buffer tank",
         master="Minimum fire is twice what the living room takes, and the bath takes a twentieth. Tees don't help that; water does: a buffer tank.",
         sum="Minimum fire 60 × 0.88 = 53 kBtu/h, bath 3 kBtu/h; 10 min × 50 000/60 ÷ (8.17 × 18 °F) = 57 gal. Without a tank the living loop, "
             "mains and boiler hold some 8 gal: (53 − 15) kBtu/h heats them through 18 °F in 2 min.",
         house=TINY_ZONE,
         asks=[dict(command="arrangements HOUSE",
                    says=[r"Simplest arrangement that works: buffer tank", r"A buffer tank is needed: minimum fire output 5\d\.\d kBtu/h, bath "
                          r"alone needs 3\.0 kBtu/h on the design day \(the buffer formula gives 5\d gal\)", r"Without it: direct: median burn [123]\."],
                    never=[r"are not needed"])]),
    dict(name="arrangements: five small zones take less electricity with zone valves",
         master="Five circulators that each run at full speed for a gallon a minute: take zone valves and one circulator at constant head.",
         sum="A small circulator at 4 gpm and 14 ft: 4 × 14/3960 hp ÷ 25 % = 42 W; five of them, calling some 60 % of a day: 3.0 kWh. One at 5 gpm "
             "and 2 ft: 8 W, 0.2 kWh. The boiler's own takes up to 1.5 kWh beside either (rule of thumb: 30 to 60 W).",
         house=FIVE_SMALL,
         asks=[dict(command="arrangements HOUSE",
                    says=[r"Zone valves with one circulator take less electricity: \d\.\d+ kWh, against \d\.\d+ kWh with a circulator "
                          r"per zone"], figures=[("rows.1.electricity_J", 0, 7.2e6), ("rows.2.electricity_J", 9e6, 1.8e7)],
                    never=[r"A circulator per zone takes less"])]),
    dict(name="arrangements: a house that is piped straight in and works is left as it is",
         master="Leave it: it is the simplest there is, and it works.",
         sum="2 × 14 kBtu/h over 20 °F: 2.9 gpm; boiler 3 ft × (2.9/8)² = 0.4 ft; minimum fire 7 kBtu/h, below each zone's 14.",
         house=TWO_ZONES_VALVES,
         asks=[dict(command="arrangements HOUSE",
                    says=[r"Simplest arrangement that works: direct, as the house is now", r"are not needed"],
                    never=[r"does not work: (?:up|down)"])]),
    dict(name="arrangements: two boilers cannot be piped straight in",
         master="Two boilers need a loop of their own: tees, separator or tank.",
         sum="A second boiler in one loop with the first has no flow of its own to regulate; `reference`: a lag boiler needs its own loop.",
         scenario="two_boilers.toml", edit=[],
         asks=[dict(command="arrangements HOUSE",
                    says=[r"direct +either +not built: a second boiler needs its own loop"])]),
    dict(name="arrangements: floors on a manifold keep their actuators",
         master="The manifold's outlets have actuators; nobody puts a circulator on each.",
         sum="A manifold shares one circulator by its actuators: there is no second distribution to compare.",
         scenario="manifold_floors.toml", edit=[],
         asks=[dict(command="arrangements HOUSE",
                    says=[r"circulators +not built: the manifold has an actuator for each zone"])]),
    dict(name="arrangements: a zone on mixed water keeps its circulator beside zone valves",
         master="A mixing valve needs a circulator behind it. The other zones may have valves.",
         sum="A zone valve ahead of a mixing valve stops its mixing: mixed water is moved by its own circulator.",
         scenario="slab_beside_fin_tube.toml", edit=[],
         asks=[dict(command="arrangements HOUSE", says=[r"zone valves"], never=[r"E261", r"needs a circulator: mixed"])]),
    dict(name="arrangements: plates stay where zones have water of their own",
         master="There is glycol behind the plates: the plates stay.",
         sum="Without plates boiler and zones share their water.",
         scenario="workshop_behind_plates.toml", edit=[],
         asks=[dict(command="arrangements HOUSE", says=[r"any other +either +not built: boiler and zones have water of their own"])]),
]
