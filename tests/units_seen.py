"""Which units of the other system a text shows: what the checks of words, pages and tables share."""

import html
import re

# "W", "kWh", "%", hours and the like belong to both. A trade size names a pipe or tube and is no length.
SIZE = r"\b\d[\d/. -]* in (?=copper|steel|PEX|CPVC|PVC|cast|inside|around)|[\d/]+ in\b(?= and larger)"
UNITS = {
    "si": r"°F|°F·h|°F·d|ft|ft/s|ft²|ft³|ft3|ft2|in(?! the\b| all\b)|in2|in²|in\. w\.c\.|gpm|gal|psi|kBtu/h|Btu/h|kBtu|Btu|Btu/°F|Btu/\([^)]*\)|ft²·°F·h/Btu"
          r"|therms?|cfh|cfm|lb/h|lb|mph|MBH|degF|inH2O",
    "us": r"°C|°C·h|°C·d|K|m|m/s|m²|m³|m3|m2|mm|cm2|cm²|L|L/s|m³/h|kPa|Pa|bar|mbar|kW|kJ|kJ/°C|MJ/m3|MJ/m³|W/\([^)]*\)|W/m²?|J/\([^)]*\)|kg|kg/h|kg/m³|degC",
}


def strangers(text, system):
    """Numbers of `text` with a unit of the other system, each with what surrounds it."""
    plain = re.sub(SIZE, "", text)
    found = re.finditer(rf"(?<![\w.])[-+−]?\d[\d.]*[ \u00a0\u202f](?:{UNITS[system]})(?![\w/²³·])", plain)
    return [plain[max(0, m.start() - 50):m.end() + 20].replace("\n", " ") for m in found]


def strange_headings(text, system):
    """Units of the other system that stand alone: in a heading's brackets, as a cell, or as a chart's unit."""
    found = re.finditer(rf'[\[("](?:{UNITS[system]})[\])"]', text)
    return [text[max(0, m.start() - 50):m.end() + 20].replace("\n", " ") for m in found]


def page_words(page):
    """What a reader sees of a page, and what its charts are made of; not its styles and programs."""
    data = " ".join(re.findall(r'<script[^>]*application/json[^>]*>(.*?)</script>', page, flags=re.S))
    seen = re.sub(r"<(style|script)\b.*?</\1>", " ", page, flags=re.S)
    return html.unescape(re.sub(r"<[^>]+>", " ", seen)) + "\n" + data


# the rule itself, tried on what it must see and what it must let pass
assert strangers("flow 1.7 gpm, limit", "si") and strangers("head 4.05 m (limit", "us") and strangers("to 180 °F.", "si")
assert strangers("5.7 °F·h too cold", "si") and strangers("0.9 W/(m·°C)", "us") and strangers("55.7 Btu/°F", "si")
assert not strangers("3/4 in copper M, 0.107 L/s", "si") and not strangers("4.2 ft/s at 12.0 psi, 80 W, 3 min", "us")
assert strange_headings("minimum fire [kBtu/h],loads [× own]", "si") and strange_headings('{"unit":"°C"}', "us")
assert not strangers("3 starts in all, 10 in the worst hour", "si") and strangers("terminations 30 in above ground", "si")
assert not strange_headings("minimum fire [kBtu/h],fuel [therm]", "us")
assert len(strangers(page_words("<style>a{width:9 ft}</style><p>70&nbsp;°F</p>"), "si")) == 1
