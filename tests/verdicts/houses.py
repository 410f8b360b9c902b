"""Small houses for the tables of jobs, put together from their parts."""


def house(zones, boiler, outdoors="30 degF", swing="10 degF", design="5 degF", near='arrangement = "direct"', controls="", days=1, more=""):
    """A scenario: zones and more as TOML; `boiler` and `near` the lines of their tables; outdoors the mean of a daily wave."""
    return f"""format = 1
title = "A job"

[site]
outdoor_design = "{design}"
weather = {{ kind = "daily wave", mean = "{outdoors}", swing = "{swing}" }}

[boiler]
{boiler}

[near_boiler]
{near}
{f'[controls]{chr(10)}{controls}' if controls else ''}
{zones}
{more}
[run]
duration = "{days} d"
"""


def zone(name, load, emitter, area, *lines):
    """A zone: load in kBtu/h, its emitter's inline table, floor area in ft2, and further lines."""
    return "\n".join([f'[[zone]]\nname = "{name}"\ndesign_load = "{load} kBtu/h"\nfloor_area = "{area} ft2"\nemitter = {{ {emitter} }}',
                      *lines]) + "\n"
