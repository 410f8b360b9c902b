#!/usr/bin/python3
"""Reports and schematics hold together, for every shipped scenario and every near-boiler arrangement.

Runs each scenario for two hours. What is asked needs no browser: tags close, nothing is fetched,
the columns of a chart are equally long, each piece has an id and a title, and in the schematic no
words overlap one another, a symbol of another piece or the edge. Chromium, where it is installed, opens one
report and must draw every panel without a word on its console.
"""

import collections
import html.parser
import itertools
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ.get("STEADYFIRE", ROOT / "build/release/steadyfire")
SVG = "{http://www.w3.org/2000/svg}"
VOID = {"meta", "input", "br", "hr", "img", "link"}
CHARACTER, UP, DOWN = 6.74, 10, 3  # [px] of 12 px text: 19 characters to words_width, as plots/piping_layout.hpp has it
ARRANGEMENTS = ["direct", "closely spaced tees", "hydraulic separator", "buffer tank"]

faults = []


def ask(holds, place, what):
    if not holds:
        faults.append(f"{place}: {what}")


class Tags(html.parser.HTMLParser):
    """Whether tags close in order, what they would fetch, and which ids and charts there are."""

    def __init__(self, place):
        super().__init__()
        self.place, self.open, self.ids, self.charts = place, [], [], []

    def handle_starttag(self, tag, attributes):
        if tag not in VOID:
            self.open.append(tag)
        self.note(tag, dict(attributes))

    def handle_startendtag(self, tag, attributes):
        self.note(tag, dict(attributes))

    def note(self, tag, attributes):
        for key in ("src", "href", "srcset", "data", "action"):
            ask(key not in attributes, self.place, f"<{tag}> fetches {attributes.get(key)}")
        self.ids += [attributes["id"]] if "id" in attributes else []
        self.charts += [int(attributes["data-chart"])] if "data-chart" in attributes else []

    def handle_endtag(self, tag):
        ask(self.open and self.open[-1] == tag, self.place, f"</{tag}> closes {self.open[-1:]}")
        if self.open:
            self.open.pop()


def charts_of(page):
    return json.loads(re.search(r'id="charts">(.*?)</script>', page, re.S).group(1))


def check_page(place, page):
    tags = Tags(place)
    tags.feed(page)
    tags.close()
    ask(not tags.open, place, f"left open: {tags.open}")
    ask(len(tags.ids) == len(set(tags.ids)), place, "an id stands twice")
    ask(len(re.findall("<h2>Cautions", page)) == 1, place, "cautions stand once")
    for section in ("Findings", "The piping", "Burner, water and rooms over time", "Heat by zone", "Assumptions"):
        ask(f"<h2>{section}</h2>" in page, place, f"no section '{section}'")
    charts = charts_of(page)
    ask(sorted(tags.charts) == list(range(len(charts))), place, "each chart has one place")
    for number, chart in enumerate(charts):
        check_chart(f"{place}, chart {number}", chart["kind"], chart["table"])
    svg = re.search(r"<svg .*?</svg>", page, re.S).group(0)
    check_schematic(place, svg)
    check_repaintings(place, svg, [c["table"] for c in charts if c["kind"] == "piping"])


def check_chart(place, kind, table):
    if kind == "time":
        ask(table["panels"], place, "no panels")
        for panel in table["panels"]:
            ask(panel["title"], place, "a panel without a title")
            for series in panel["series"]:
                ask(series["label"], place, "a line without a name")
                for column in ("least", "mean", "most"):
                    values = series.get(column, series["mean"])
                    ask(len(values) == table["bins"], place, f"{series['label']}: {column} is of another length")
    elif kind == "bars":
        ask(len(table["labels"]) == len(table["values"]), place, "labels and values differ in number")
        ask("[" in table["across"] + table["up"], place, "no axis has a unit")
    elif kind == "reset":
        for line in table["curves"] + table["points"]:
            ask(len(line["x"]) == len(line["y"]), place, f"{line['label']}: x and y differ in number")
        ask("[" in table["across"] and "[" in table["up"], place, "an axis has no unit")


def check_repaintings(place, svg, tables):
    ask(len(tables) == 1, place, "moments to choose from")
    stretches = {int(n) for n in re.findall(r'data-stretch="(\d+)"', svg)}
    limbs = len(re.findall("data-limb=", svg))
    for table in tables:
        ask(len(table["moments"]) > 1, place, "more than one moment")
        for moment in table["moments"]:
            ask(max(stretches) < len(moment["stretches"]), place, "a stretch without a colour")
            ask(len(moment["texts"]) == len(moment["ways"]) == limbs, place, "a limb without figures")
            ask(max(moment["texts"]) < len(table["texts"]), place, "figures that are not there")


def boxes_of(node, x=0.0, y=0.0, piece=""):
    """Yields (piece, words, left, top, right, bottom) for each text, and (piece, None, ...) for each symbol's place."""
    shift = re.match(r"translate\(([-\d.]+) ([-\d.]+)\)", node.get("transform", ""))
    if shift:
        x, y = x + float(shift[1]), y + float(shift[2])
    piece = node.get("id", piece)
    if node.tag == SVG + "text":
        row = y + float(node.get("y"))
        lines = [(node.get("x", "0"), 0.0, node.text)] if node.text else []
        lines += [(line.get("x"), float(line.get("dy", 0)), line.text) for line in node]
        for left, down, words in lines:
            row += down
            width = CHARACTER * len(words)
            start = x + float(left) - (width / 2 if node.get("text-anchor") == "middle" else 0)
            yield piece, words, start, row - UP, start + width, row + DOWN
    elif shift and "body" in {c.get("class") for c in node}:
        yield piece, None, x - 10, y - 10, x + 10, y + 10
    for child in node:
        yield from boxes_of(child, x, y, piece)


def overlap(a, b):
    return min(a[4], b[4]) - max(a[2], b[2]) > 0.5 and min(a[5], b[5]) - max(a[3], b[3]) > 0.5


def ends_met_once(root):
    """Where a stretch of pipe ends and no other begins."""
    met = collections.Counter()
    for path in root.iter(SVG + "path"):
        if path.get("data-stretch") is not None and "case" in path.get("class", "").split():
            numbers = [float(n) for n in re.findall(r"-?[\d.]+", path.get("d"))]
            met.update([tuple(numbers[:2]), tuple(numbers[-2:])])
    return [spot for spot, count in met.items() if count == 1]


def check_schematic(place, svg):
    root = ElementTree.fromstring(svg)
    width, height = (float(v) for v in root.get("viewBox").split()[2:])
    pieces = [g for g in root.iter(SVG + "g") if g.get("id", "").startswith("piece:")]
    ask(pieces, place, "no pieces")
    for piece in pieces:
        ask(piece.find(f".//{SVG}title") is not None, place, f"{piece.get('id')} has no title")
    boxes = list(boxes_of(root))
    ask(sum(b[1] is not None for b in boxes) >= len(pieces), place, "a piece without words")
    for box in boxes:
        ask(box[2] >= 0 and box[3] >= 0 and box[4] <= width and box[5] <= height, place, f"outside: {box}")
    for a, b in itertools.combinations(boxes, 2):
        same = a[0] == b[0] and (a[1] is None or b[1] is None)
        ask(same or not overlap(a, b), place, f"overlap: {a} and {b}")
    open_ends, tanks = len(ends_met_once(root)), sum("(expansion tank" in (t.text or "") for t in root.iter(SVG + "title"))
    ask(open_ends == tanks, place, f"{open_ends} pipes end in the open, where {tanks} expansion tanks hang on theirs")
    for path in root.iter(SVG + "path"):
        if path.get("data-stretch") is None:
            continue
        xs = [float(v) for v in re.findall(r"[ML]([-\d.]+) ", path.get("d"))]
        ys = [float(v) for v in re.findall(r" ([-\d.]+)", path.get("d"))]
        ask(min(xs) >= 0 and max(xs) <= width and min(ys) >= 0 and max(ys) <= height, place, f"pipe outside: {path.get('d')}")


def check_checks():
    """The checks above can fail."""
    before = len(faults)
    text = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 50"><g id="piece:a"><text x="{}" y="20">supply</text></g>' \
           '<text x="20" y="{}">return</text><path class="case" data-stretch="0" d="M1 1L9 1"/><path class="case" data-stretch="1" d="M9 1L9 9"/></svg>'
    for x, y in ((10, 25), (90, 40)):
        check_schematic("made to fail", text.format(x, y))
    ask_all = [f for f in faults[before:] if "overlap" in f or "outside" in f or "no title" in f or "2 pipes end in the open" in f]
    del faults[before:]
    ask(len(ask_all) == 6, "this check", f"sees {ask_all}")


def check_in_browser(page):
    browser = shutil.which("chromium")
    if not browser:
        return print("SKIPPED: no chromium to open a report with")
    with tempfile.TemporaryDirectory() as profile:
        done = subprocess.run(
            [browser, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", f"--user-data-dir={profile}",
             "--enable-logging=stderr", "--virtual-time-budget=3000", "--dump-dom", page.as_uri()],
            capture_output=True, text=True, timeout=120)
    said = [line for line in done.stderr.splitlines() if "CONSOLE" in line]
    ask(not said, page.name, f"console: {said}")
    panels = sum(len(c["table"]["panels"]) for c in charts_of(page.read_text()) if c["kind"] == "time")
    ask(done.stdout.count("<canvas") >= panels + 1, page.name, f"{done.stdout.count('<canvas')} canvases for {panels} panels and more")


def main():
    check_checks()
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        (folder / "weather").symlink_to(ROOT / "scenarios/weather")
        texts = {path.stem: path.read_text() for path in sorted((ROOT / "scenarios").glob("*.toml"))}
        for name in ARRANGEMENTS:
            texts[name] = texts["four_zone_house"].replace('arrangement = "closely spaced tees"', f'arrangement = "{name}"')
        for name, text in texts.items():
            scenario, page, picture = (folder / f"{name}.{end}" for end in ("toml", "html", "svg"))
            scenario.write_text(re.sub(r'^duration = ".*"', 'duration = "2 h"', text, flags=re.M))
            command = [PROGRAM, "draw", scenario, "--out", picture]
            done = subprocess.run(command, capture_output=True, text=True)
            ask(done.returncode == 0, name, done.stderr)
            if done.returncode == 0:
                check_schematic(name, picture.read_text())
            if "[boiler]" not in text:
                continue
            if not re.search("^duration", text, flags=re.M):
                scenario.write_text(text + '\n[run]\nduration = "2 h"\n' if "[run]" not in text else text)
            done = subprocess.run([PROGRAM, "run", scenario, "--report", page, "--quiet"], capture_output=True, text=True)
            ask(done.returncode == 0, name, done.stderr)
            if done.returncode == 0:
                check_page(name, page.read_text())
        check_in_browser(folder / "four_zone_house.html")
    for fault in faults[:40]:
        print(fault)
    print(f"{len(texts)} scenarios, {len(faults)} faults")
    return bool(faults)


if __name__ == "__main__":
    sys.exit(main())
