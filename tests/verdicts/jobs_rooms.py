"""Rooms: too cold, too warm, and whose fault it is."""
from houses import house, zone

BOILER = 'heating_input = "80 kBtu/h"\nminimum_input = "12 kBtu/h"'


def curve(cold, mild=100):
    return f'reset = {{ cold_supply = "{cold} degF", mild_outdoors = "65 degF", mild_supply = "{mild} degF" }}'


SHORT_FIN = zone("living", 20, 'kind = "fin-tube baseboard", length = "22 ft"', 700, 'zone_valve = { cv = 3.5 }')
FIN = zone("living", 16, 'kind = "fin-tube baseboard", length = "40 ft"', 700, 'zone_valve = { cv = 3.5 }')
SLAB = 'kind = "radiant slab", spacing = "12 in", thickness = "4 in", covering = "0.1 ft2.degF.h/Btu"'
GAINS = 'room.gains = [' + ", ".join(f'"{9000 if 11 <= h < 17 else 0} Btu/h"' for h in range(24)) + ']'

JOBS = [
    dict(
        name="an emitter that is too small for its room",
        master="22 ft of fin-tube give 12 at the hottest water that anybody runs, and the room loses 20. No curve mends that: more fin-tube.",
        sum="550 Btu/(h·ft) at 180 °F average, rule of thumb: 22 ft x 550 = 12 kBtu/h of 20",
        house=house(SHORT_FIN, BOILER, outdoors="8 degF", controls=curve(180)),
        asks=[dict(command="flows HOUSE", finds=[("room.too_cold", "living", "serious")], says=[r"emitter is too small"]),
              dict(command="run HOUSE", finds=[("room.too_cold", "living", "serious")], says=[r"emitter is too small", r"on day \d at \d\d:\d\d"],
                   never=[r"No findings"]),
              dict(command="check HOUSE", finds=[("room.too_cold", "living", "serious")], exit=1)]),
    dict(
        name="a curve that is a little too low",
        master="The fin-tube is there, the water isn't hot enough: at design it gives nine tenths. Lift the cold point some ten degrees.",
        sum="heat goes with the water's excess over the room to the power 1.4 or so: 10 % more heat, 7 % more of 80 °F excess, 6 to 12 °F",
        house=house(zone("living", 16, 'kind = "fin-tube baseboard", length = "46 ft"', 700, 'zone_valve = { cv = 3.5 }'), BOILER,
                    outdoors="8 degF", controls=curve(142)),
        asks=[dict(command="flows HOUSE", finds=[("room.too_cold", "living", None)], says=[r"lift the reset curve.* by about (\d|1\d|2\d) °F"],
                   never=[r"emitter is too small"]),
              dict(command="run HOUSE", finds=[("room.too_cold", "living", None)], says=[r"lift the reset curve"])]),
    dict(
        name="a zone with all its water and heat to spare is not complained of",
        master="That zone is fine.",
        sum="40 ft at 170 °F: some 19 kBtu/h for a load of 16",
        house=house(FIN, BOILER, outdoors="20 degF", controls=curve(175)),
        asks=[dict(command="flows HOUSE", lacks=["room.too_cold", "zone.short_of_flow", "zone.calls_without_end"]),
              dict(command="run HOUSE", lacks=["room.too_cold", "room.too_warm", "zone.calls_without_end"])]),
    dict(
        name="sun on a slab that is already warm",
        master="The floor was charged for the morning, then the sun comes and nothing can take the heat back. A cooler floor beforehand: "
               "lower curve. And shade.",
        sum="9 kBtu/h of sun for 6 h = 54 kBtu into a room that loses some 10 kBtu/h then",
        house=house(zone("workshop", 26, SLAB, 1500, 'circulator = { duty = "medium" }', GAINS, 'supply_temperature = "110 degF"'),
                    'heating_input = "60 kBtu/h"\nminimum_input = "8 kBtu/h"', outdoors="42 degF", swing="22 degF", days=3),
        asks=[dict(command="run HOUSE", finds=[("room.too_warm", "workshop", None)], says=[r"sun and people give .* while the floor is still warm"],
                   never=[r"No findings"])]),
    dict(
        name="sun on a light house with radiators: no heating control takes it away",
        master="The radiators are cold, the sun does it. Blinds or a window.",
        sum="9 kBtu/h of gains at 60 °F outdoors against a loss of some 2.5 kBtu/h",
        house=house(zone("living", 16, 'kind = "panel radiator", output = "24 kBtu/h", cv = 2.5', 700, 'zone_valve = { cv = 3.5 }', GAINS), BOILER,
                    outdoors="58 degF", swing="10 degF", days=2, controls=curve(150, 90)),
        asks=[dict(command="run HOUSE", finds=[("room.too_warm", "living", None)], says=[r"shading or ventilation"])]),
    dict(
        name="two thirds of the flow and nearly all of the heat",
        master="Gets two thirds of the water and well over nine tenths of the heat: the drop is wider, that's all. Leave it or open the valve a bit.",
        sum="heat of fin-tube hardly hangs on its flow: at 64 % of the flow the drop grows from 20 to 30 °F, the mean water falls 5 of 100 °F",
        scenario="four_zone_house.toml",
        edit=[('elbows = 20', 'elbows = 6'), ('supply_length = "150 ft"', 'supply_length = "60 ft"')],
        asks=[dict(command="flows HOUSE", lacks=[("zone.short_of_flow", "studio", "serious")])]),
    dict(
        name="short of flow beside the others, right by itself",
        master="Alone it has its water; when all call the others take it. So it is the common piping or the circulator, not that zone's pipe.",
        sum="head of the common way grows with the square of all flows together",
        house=house("".join(zone(n, 20, 'kind = "fin-tube baseboard", length = "60 ft"', 800, 'zone_valve = { cv = 3.5 }') for n in "abcdef"),
                    BOILER, controls=curve(180),
                    near='arrangement = "direct"\nsize = "3/4 in copper M"\ncirculator = { duty = "small" }'),
        asks=[dict(command="flows HOUSE", says=[r"It works when it calls alone"])]),
    dict(
        name="deep setback of a slab",
        master="You set a slab back ten degrees overnight and it takes all morning to come back. Don't set a slab back.",
        sum="4 in of concrete: 0.33 ft x 30 Btu/(ft3·°F) = 10 Btu/(ft2·°F); 1500 ft2 x 10 x 8 °F = 120 kBtu beside the load; 20 kBtu/h to spare: 6 h",
        house=house(zone("workshop", 26, SLAB, 1500, 'circulator = { duty = "medium" }', 'supply_temperature = "110 degF"',
                         'thermostat = { setting = "70 degF", setback = "60 degF" }'),
                    'heating_input = "60 kBtu/h"\nminimum_input = "8 kBtu/h"', outdoors="20 degF", swing="8 degF", days=4),
        asks=[dict(command="run HOUSE", finds=[("room.slow_recovery", "workshop", None)], says=[r"recovery|not back at"],
                   lacks=[("room.too_cold", "workshop", "serious")])]),
    dict(
        name="a slab that takes the radiators' water unmixed",
        master="That slab gets 160 degree water: a mixing valve first, before anybody touches the curve.",
        sum="slab water above 120 °F: floor over 85 °F; radiators need 160 °F",
        house=house(zone("workshop", 18, SLAB, 900, 'zone_valve = { cv = 3.5 }', 'supply_temperature = "105 degF"')
                    + zone("rooms", 18, 'kind = "fin-tube baseboard", length = "44 ft"', 700, 'zone_valve = { cv = 3.5 }',
                           'supply_temperature = "165 degF"'),
                    BOILER, outdoors="15 degF", days=2),
        asks=[dict(command="run HOUSE", finds=[("slab.floor_too_warm", None, None)], says=[r"give this zone a mixing valve"])]),
    dict(
        name="three times the flow that a zone needs",
        master="It does no harm to the room. It costs power and the return comes back warmer: turn the circulator down.",
        sum="5 kBtu/h at a 20 °F drop needs 0.5 gpm; a small circulator in 3/4 in gives several gpm",
        house=house(zone("bath", 5, 'kind = "panel radiator", output = "8 kBtu/h", cv = 4', 90, 'circulator = { duty = "medium" }')
                    + zone("living", 16, 'kind = "fin-tube baseboard", length = "50 ft"', 700, 'circulator = { duty = "small" }'),
                    BOILER, near='arrangement = "closely spaced tees"', controls=curve(170)),
        asks=[dict(command="flows HOUSE", finds=[("zone.over_pumped", "bath", "note")], says=[r"circulator takes \d+ W"])]),
    dict(
        name="a house held back by hot water",
        master="It is not the boiler's size: an hour of showers holds the heating off each morning. A bigger hot-water side or a tank.",
        sum="three showers of 25 min each, one after the other, at priority: 75 min without heat at 0 °F",
        house=house(zone("living", 30, 'kind = "fin-tube baseboard", length = "70 ft"', 900, 'zone_valve = { cv = 3.5 }', 'room.construction = "light"'),
                    'heating_input = "60 kBtu/h"\nminimum_input = "12 kBtu/h"', outdoors="6 degF", swing="4 degF", controls=curve(185),
                    more='[hot_water]\n\n[[tap]]\nname = "shower"\nflow = "2 gpm"\nat = ["6:00"]\nlasts = "150 min"\n'),
        asks=[dict(command="run HOUSE", says=[r"hot water"])]),
    dict(
        name="a room that is cold because the tees mix",
        master="There is nothing wrong with that fin-tube. The zones draw far more than the boiler's loop moves, so they take their own "
               "return again: 170 leaves the boiler and some 155 gets there. A bigger boiler pump, or slow the zones.",
        sum="28 kBtu/h / (500 x 3 gpm) = 19 °F across the boiler, 2 °F across zones of 27 gpm: they get 170 - 17 = 153 °F; fin-tube at "
            "83 °F over the room instead of 100 gives 0.83^1.31 = 78 %",
        house=house("".join(zone(name, 16, 'kind = "fin-tube baseboard", length = "34 ft"', 700,
                                 'circulator = { duty = "high head" }\nsize = "1 in copper M"') for name in ("north", "south")),
                    'heating_input = "80 kBtu/h"\nminimum_input = "12 kBtu/h"\nrated_flow = "3 gpm"\nrated_head_loss = "12 ft"',
                    near='arrangement = "closely spaced tees"\ncirculator = { duty = "small" }', controls=curve(170)),
        asks=[dict(command="flows HOUSE", finds=[("room.too_cold", "north", None), ("tees.mixing", None, None)],
                   says=[r"170 °F leaves the boiler, but return water mixes in on the way", r"more flow through the boiler or less through the zones"],
                   never=[r"the emitter is too small"])]),
]
