"""Why the burner cycles: which reason a master of the trade would name, and which never."""
from houses import house, zone

BATH = zone("bath", 4, 'kind = "panel radiator", output = "5 kBtu/h", cv = 0.8', 90, 'zone_valve = { cv = 2 }')
LIVING = zone("living", 16, 'kind = "fin-tube baseboard", length = "50 ft"', 700, 'zone_valve = { cv = 3.5 }')
CURVE = 'reset = { cold_supply = "160 degF", mild_outdoors = "65 degF", mild_supply = "100 degF" }'
NO_FALSE_PRAISE = [r"can burn without stopping", r"does not make the burner cycle", r"Cycling is fine", r"[Cc]hange nothing"]

JOBS = [
    dict(
        name="a small radiator alone on a large minimum fire",
        master="Minimum fire puts in nearly 35 and the bath takes 4. One pass through the boiler is hotter than the whole differential: "
               "it trips before the loop is warm. Get the minimum fire down or the flow up; the water in the loop doesn't come into it.",
        sum="38 kBtu/h x 0.9 = 34 kBtu/h; at 1.5 to 3 gpm the rise is 34 000/(500 x gpm) = 23 to 46 °F, more than the 18 °F differential",
        house=house(BATH, 'heating_input = "150 kBtu/h"\nminimum_input = "38 kBtu/h"',
                    near='arrangement = "direct"\ncirculator = { duty = "small" }', controls=CURVE),
        asks=[dict(command="run HOUSE", finds=[("burner.one_pass", None, "serious"), ("burner.short_burns", None, "serious")],
                   says=[r"[Mm]inimum fire", r"one pass", r"does not apply"], never=NO_FALSE_PRAISE + [r"Full fire fits"])]),
    dict(
        name="minimum fire below what the smallest zone takes",
        master="This one turns down below the smallest zone. It runs on as long as the zone calls. Leave it alone.",
        sum="8 kBtu/h x 0.9 = 7 kBtu/h against 50 ft of fin-tube at 130 °F, some 15 kBtu/h",
        house=house(LIVING, 'heating_input = "40 kBtu/h"\nminimum_input = "8 kBtu/h"', outdoors="15 degF", controls=CURVE),
        asks=[dict(command="run HOUSE", lacks=["burner.one_pass", "burner.short_burns", "burner.many_starts"],
                   says=[r"[Mm]inimum fire output is 7"], never=[r"too high", r"oversized"])]),
    dict(
        name="what the bath takes is its radiator at this water, not the heat that warms the water",
        master="At 120 °F water that 5 kBtu/h radiator gives 1.3, and that is what counts. Whatever the meter shows when it starts is water "
               "being warmed.",
        sum="5 kBtu/h at 180 °F water (110 °F over the room); at 115 to 125 °F, 45 to 55 over: 5 x (50/110)^1.3 = 1.8 kBtu/h",
        house=house(BATH + LIVING, 'heating_input = "80 kBtu/h"\nminimum_input = "16 kBtu/h"', outdoors="45 degF", controls=CURVE,
                    near='arrangement = "direct"\ncirculator = { duty = "small" }'),
        asks=[dict(command="run HOUSE", says=[r"the bath zone takes (1\.[3-9]|2\.[0-3]) kBtu/h"], never=NO_FALSE_PRAISE[:2])]),
    dict(
        name="a slab beside hot fin-tube: the target drops when the rooms are satisfied",
        master="The fin-tube wants 160, the slab 95. Each time the rooms are satisfied the boiler stands 60 degrees above what it should "
               "make, and off it goes. That is no short cycle of the burner: give the slab its water from a buffer, or widen nothing.",
        sum="170 °F at 5 °F outdoors for the fin-tube, 100 °F for the slab: the target falls by some 60 °F, far over the off differential of 9 °F",
        scenario="slab_beside_fin_tube.toml",
        asks=[dict(command="run HOUSE", says=[r"target dropped when a call ended \(rooms\)"], never=[r"ended by the thermostats, not by the water"])]),
    dict(
        name="target so near the high limit that the limit ends the burns",
        master="You ask for 180 and the control would stop at 189, but the limit opens at 185. The limit is no operating control: lower the "
               "target, or the off differential.",
        sum="target 180 °F + off differential 9 °F = 189 °F, above the high limit of 185 °F",
        house=house(LIVING, 'heating_input = "80 kBtu/h"\nminimum_input = "30 kBtu/h"\nhigh_limit = "185 degF"', outdoors="10 degF",
                    controls='reset = { cold_supply = "180 degF", mild_outdoors = "66 degF", mild_supply = "180 degF" }'),
        asks=[dict(command="run HOUSE", finds=[("burner.high_limit", None, "serious")], says=[r"high limit"],
                   figures=[("burner.burns_ended.high_limit", 1, 1000)])]),
    dict(
        name="a buffer tank whose thermometer ends the burns",
        master="Those burns end when the tank is hot, as they should. The thermostats have nothing to do with it.",
        sum="the tank control charges to target + differential; zones draw from the tank",
        scenario="buffer_two_pipes.toml",
        asks=[dict(command="run HOUSE", never=[r"ended by the thermostats", r"[Ff]ewer thermostat cycles"], says=[r"buffer|tank"])]),
    dict(
        name="summer: only taps make the burner start",
        master="No heating. Each start is somebody at a tap, each burn ends when the tap closes. Nothing to mend.",
        sum="taps draw some minutes each; warm-weather shutdown holds the heating off",
        scenario="combi_family.toml",
        edit=[('mean = "20 degF", swing = "16 degF"', 'mean = "78 degF", swing = "10 degF"'),
              ('mild_supply = "90 degF"', 'mild_supply = "90 degF", warm_weather_shut_down = "66 degF"')],
        asks=[dict(command="run HOUSE", says=[r"tap"], never=[r"thermostats", r"[Ff]ewer thermostat cycles"],
                   lacks=["burner.short_burns"])]),
    dict(
        name="burns cut short by a thermostat that cycles six times an hour",
        master="The burner would go on; the thermostat stops it. Set it to three an hour.",
        sum="six an hour at half load: call 5 min, rest 5 min; the burn is no longer than the call",
        house=house(zone("living", 16, 'kind = "fin-tube baseboard", length = "50 ft"', 700, 'zone_valve = { cv = 3.5 }',
                         'thermostat = { cycles_per_hour = "6 per hour" }'),
                    'heating_input = "40 kBtu/h"\nminimum_input = "10 kBtu/h"', outdoors="35 degF", controls=CURVE),
        asks=[dict(command="run HOUSE", says=[r"thermostat", r"[Ff]ewer thermostat cycles"], never=[r"short of water|buffer tank before"])]),
    dict(
        name="both answers where a degree at the sensor decides",
        master="That one is on the edge: a sensor that reads a degree high, and it trips all day. Count on the worse.",
        sum="at minimum fire the water settles just below the off temperature; 1 °F decides whether a ten-hour burn breaks up",
        scenario="four_zone_house.toml",
        asks=[dict(command="run HOUSE", finds=[("burner.knife_edge", None, None)], says=[r"knife edge", r"\(\d+ to \d+\) starts"])]),
    dict(
        name="closely spaced tees hold the boiler's flow: the bath alone is a matter of water, not of one pass",
        master="The boiler's own circulator gives 8 gpm whatever the zones do. Nine degrees a pass, no trip in one pass. The 34 against 4 "
               "heats the loop up and down: minimum fire is too high for that zone. A buffer tank or a smaller minimum fire.",
        sum="34 kBtu/h/(500 x 8 gpm) = 8.5 °F a pass, under half of the 18 °F differential",
        scenario="oversized_burner.toml",
        edit=[('circulator = { duty = "medium" }', 'circulator = { duty = "high head" }')],
        asks=[dict(command="run HOUSE", says=[r"Minimum fire is too high"], lacks=["burner.one_pass"], never=NO_FALSE_PRAISE)]),
    dict(
        name="tees that only the smallest zone needs",
        master="The pump could do it straight through. But the bath's half gallon a minute would come back 40 degrees hotter at minimum fire: the "
               "burner is off before the loop is warm. The tees stay, they give the boiler its own flow.",
        sum="5 kBtu/h at 20 °F is 0.5 gpm; 10 kBtu/h / (500 x 0.5 gpm) = 40 °F a pass against 9 °F, half of the 18 °F differential",
        house=house(zone("bath", 5, 'kind = "panel radiator", output = "7 kBtu/h", cv = 1', 200, 'zone_valve = { cv = 3.5 }')
                    + zone("living", 25, 'kind = "fin-tube baseboard", length = "65 ft"', 900, 'zone_valve = { cv = 3.5 }'),
                    'heating_input = "80 kBtu/h"\nminimum_input = "10 kBtu/h"',
                    near='arrangement = "closely spaced tees"\ncirculator = { duty = "high head" }\nsystem_circulator = { duty = "small" }'),
        asks=[dict(command="flows HOUSE", lacks=["tees.not_needed"],
                   says=[r"'bath' alone takes 0\.5 gpm: straight through the boiler, one pass at minimum fire would warm it by (3[5-9]|4[0-2]) °F"])]),
    dict(
        name="tees that nobody needs",
        master="One zone of 2.5 gpm and a minimum of 8: straight through, save the pump.",
        sum="8 kBtu/h / (500 x 2.5 gpm) = 6.4 °F a pass, under half of 18 °F; 3 ft for the zone of the 20 ft that the pump has left",
        house=house(zone("living", 25, 'kind = "fin-tube baseboard", length = "65 ft"', 900, 'zone_valve = { cv = 3.5 }'),
                    'heating_input = "80 kBtu/h"\nminimum_input = "8 kBtu/h"',
                    near='arrangement = "closely spaced tees"\ncirculator = { duty = "high head" }\nsystem_circulator = { duty = "small" }'),
        asks=[dict(command="flows HOUSE", finds=[("tees.not_needed", None, "note")])]),
    dict(
        name="a diverting valve that turns is no closed circuit",
        master="The ways are shut for the six seconds that the valve turns. No pump minds six seconds.",
        sum="6 s against a minute; a closed circuit hurts a wet rotor in minutes (rule of thumb)",
        house=house(LIVING.replace('circulator = { duty = "small" }', 'zone_valve = { cv = 3.5 }'),
                    'heating_input = "80 kBtu/h"\nminimum_input = "10 kBtu/h"\ndhw_input = "150 kBtu/h"',
                    near='arrangement = "direct"\ncirculator = { duty = "medium" }',
                    more='[hot_water]\n[[tap]]\nname = "shower"\nflow = "2 gpm"\nat = ["07:00"]\nlasts = ["8 min"]\n'),
        asks=[dict(command="run HOUSE", lacks=["circulator.no_flow"])]),
    dict(
        name="a circulator that runs on against shut zone valves",
        master="It runs on for ten minutes and every valve is shut: it cooks its own water. A bypass, or no overrun.",
        sum="overrun 10 min after each call; the valves shut with the call",
        house=house(LIVING.replace('circulator = { duty = "small" }', 'zone_valve = { cv = 3.5 }'),
                    'heating_input = "80 kBtu/h"\nminimum_input = "10 kBtu/h"',
                    near='arrangement = "direct"\ncirculator = { duty = "medium", overrun = "10 min" }'),
        asks=[dict(command="run HOUSE", finds=[("circulator.no_flow", None, "serious")])]),
]
