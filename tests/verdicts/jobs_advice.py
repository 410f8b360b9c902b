"""What to do about it: the least work first, nothing that a limit forbids, and an honest word where nothing helps."""
from houses import house, zone

BOILER = 'heating_input = "80 kBtu/h"\nminimum_input = "12 kBtu/h"'


def curve(cold, mild=100):
    return f'reset = {{ cold_supply = "{cold} degF", mild_outdoors = "65 degF", mild_supply = "{mild} degF" }}'


JOBS = [
    dict(
        name="a zone a little short of heat on a shared curve",
        master="Lift the curve four degrees and be done. All zones get it, say so. Nobody opens a wall for one degree.",
        sum="19.0 of 20.0 kBtu/h: 5 % of the water's excess over the room, some 80 °F, is 4 °F",
        scenario="four_zone_house.toml",
        asks=[dict(command="advise HOUSE", says=[r"Recommended \(a setting\)", r"raise the cold point of the shared reset curve from 160 °F to 16[2-8] °F",
                                                 r"all zones on this curve get hotter water, on account of studio", r"average return \d+ °F → \d+ °F"],
                   never=[r"Recommended \((larger pipe|more emitter|a new boiler)\)"])]),
    dict(
        name="hotter water that the high limit forbids",
        master="You are at the limit already: 178 and nine of differential is 187, it opens at 188. More fin-tube, not more degrees.",
        sum="high limit 188 °F less off differential 9 °F = 179 °F: no target above it",
        house=house(zone("living", 18, 'kind = "fin-tube baseboard", length = "26 ft"', 700, 'zone_valve = { cv = 3.5 }'),
                    BOILER + '\nhigh_limit = "188 degF"\noff_differential = "9 degF"', outdoors="8 degF", controls=curve(178)),
        asks=[dict(command="advise HOUSE", says=[r"add fin-tube baseboard in living"], never=[r"cold point of the shared reset curve from 178 °F to 18\d",
                                                                                             r"to 19\d °F"])]),
    dict(
        name="too many starts: answered by starts, the tank by its formula",
        master="With 38 at minimum and a bath that takes 4: settings first, then a tank of the size the sum gives.",
        sum="10 min x (33 - 3) kBtu/h / 18 °F = 280 Btu/°F, less 56 that are there: 220 Btu/°F / 8.2 Btu/(gal·°F) = 27 gal",
        scenario="oversized_burner.toml",
        edit=[('cold_supply = "150 degF"', 'cold_supply = "165 degF"')],
        asks=[dict(command="advise HOUSE", says=[r"\d+ starts, \d+ in the worst hour, median burn [\d.]+ min → \d+ starts", r"(25|30|35) gal buffer tank"])]),
    dict(
        name="sun in a house of radiators: nothing at the heating helps",
        master="No curve takes the sun away. Blinds, or open a window.",
        sum="9 kBtu/h of gains at 58 °F outdoors against a loss of some 3 kBtu/h, and the heating is off",
        house=house(zone("living", 16, 'kind = "panel radiator", output = "24 kBtu/h", cv = 2.5', 700, 'zone_valve = { cv = 3.5 }',
                         'room.gains = [' + ", ".join(f'"{9000 if 11 <= h < 17 else 0} Btu/h"' for h in range(24)) + ']'),
                    BOILER, outdoors="58 degF", swing="10 degF", days=2, controls=curve(150, 90)),
        asks=[dict(command="advise HOUSE", says=[r"[Ss]hading"], never=[r"It fixes everything"])]),
    dict(
        name="a starved zone on a shared circulator",
        master="Turn the shared one up first. If that is not it, give each zone a pump of its own: the long one alone needs the head.",
        sum="120 ft of 1/2 in copper at 2 gpm takes some 10 ft (Darcy-Weisbach); 4 ft held for all gives it about 1.2 gpm",
        house=house(zone("office", 8, 'kind = "fin-tube baseboard", length = "20 ft"', 300, "zone_valve = {}")
                    + zone("loft", 20, 'kind = "fin-tube baseboard", length = "55 ft"', 700,
                           'zone_valve = {}\nsize = "1/2 in copper M"\nsupply_length = "60 ft"\nreturn_length = "60 ft"'),
                    BOILER, near='arrangement = "closely spaced tees"\n'
                                 'system_circulator = { duty = "small", regulation = "constant head", setting_head = "4 ft" }',
                    outdoors="8 degF", controls=curve(170)),
        asks=[dict(command="flows HOUSE", finds=[("zone.short_of_flow", "loft", None)]),
              dict(command="advise HOUSE", says=[r"replace the zone valves and the circulator of all zones with a circulator for each zone",
                                                 r"\(a circulator for each zone\)"])]),
]
