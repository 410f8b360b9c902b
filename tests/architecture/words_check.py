#!/usr/bin/python3
"""What the program says to people holds to one term a thing: no string of it has a word that the trade would not use there.

Looks into string literals (and the text of TSX elements) under sim, models, plots and tools, not into comments or names. Keys of files and
of JSON and words of choices stay as they are: KEYS lists them. With folders as arguments it tells of these alone.
"""

import pathlib
import re
import sys

TOP = pathlib.Path(__file__).resolve().parents[2]

# What is refused, what the trade says, and a sentence that shows it.
REFUSED = [
    (r"middle burn|usual burn", "median burn", "the middle burn is 4 min"),
    (r"most in (?:any|one) hour", "starts in the worst hour", "at most 6 in any hour, most in one hour 10"),
    (r"goe?s? on and off|cycles on it", "short-cycles", "the burner goes on and off"),
    (r"at its (?:lowest|minimum|highest)|least it can give", "minimum fire, full fire", "the burner at its lowest"),
    (r"fir(?:es|ing) hard|burner lit|(?:is|was|be|never) lit|lights? the burner|light up", "starts, full fire", "the burner lit twice"),
    (r"(?:start|stop) points?", "on temperature, off temperature", "water rose to the stop point"),
    (r"water wanted|asked for|what is wanted", "target, needs", "the water temperature asked for"),
    (r"least rest", "minimum off time", "the burner's least rest"),
    (r"(?:last )?zone is satisfied", "call ends", "the last zone is satisfied"),
    (r"at design(?! (?:load|conditions|day|flow|temperature))", "on the design day", "with every zone calling, at design"),
    (r"averaged outdoors|coldest days", "outdoor average, design day", "averaged outdoors fell"),
    (r"shut-down|cut-off|short-cycling(?! \w)", "shutdown, cutoff, short cycling", "a warm-weather shut-down"),
    (r"stop heating above", "warm-weather shutdown", "stop heating above 60 °F"),
    (r"movers?|pumps?(?! away)", "circulator", "the pump of the zone"),
    (r"place on its curve", "operating point", "each circulator's place on its curve"),
    (r"too much flow", "over-pumped", "a zone has too much flow"),
    (r"flows? wanted|(?<!you )wants?|wanted", "needs, flow needed", "the flow that the zone wants"),
    (r"starved|sinks? to", "short of heat, low flow", "the room sinks to 60 °F"),
    (r"close tees|tees lie", "closely spaced tees", "close tees"),
    (r"(?:supply|return) mains?|take-offs?", "supply header, return header", "the supply main"),
    (r"parts? (?:it|the boiler|them) from|parted from", "isolation valve", "a valve that parts it from the rest"),
    (r"rises by itself", "ghost flow", "warm water rises by itself"),
    (r"comes back(?! (?:warmer|cooler))|flow pipe", "return, supply", "water that comes back"),
    (r"exhaust run", "vent", "the exhaust run"),
    (r"cushion|lets? in(?= water)|lets? off", "air charge, acceptance, relief valve capacity", "the valve has to let off steam"),
    (r"flush out", "purge", "flush out the air"),
    (r"goes first|takes turns", "priority, shared", "hot water goes first"),
    (r"fixtures?", "tap", "each fixture"),
    (r"hangs?(?: on)?|hung on", "depends on, is connected to", "starts hang on loads"),
    (r"weight(?:iest|ier)|of weight", "serious", "findings of weight"),
    (r"complain\w*", "finding", "nothing to complain of"),
    (r"in order:", "ok", "in order: 12"),
    (r"mend(?:s|ed|ing)?|cures?|remed(?:y|ies)", "fix", "what mends it"),
    (r"instead of(?= \{| \d)", "before → after", "24.6 therm instead of 25.0"),
    (r"reckon\w*", "calculate", "the reckoning"),
    (r"evenest|(?:the|on|this) front", "trade-offs", "the evenest trade on the front"),
    (r"(?:is|are|be|values?) turned(?! (?:on|off|to|down|up|cold))|turns? (?:values?|nothing|one thing)", "vary, change",
     "it cannot be turned"),
    (r"(?:well|roughly|hardly|not) told", "well known, unknown", "well told"),
    (r"in vain|nobody|no one", "no", "nobody knows"),
    (r"(?<!gas )fitters?", "contractor", "what a fitter can change"),
    (r"(?:is|are) allowed", "limit, minimum", "where at least 36 in is allowed"),
    (r"(?:file|scenario|log|study|it) (?:says?|does not say|did not say|tells|says nothing)", "not in the file, is stated",
     "the file does not say"),
    (r"stands? (?:twice|in the|there|beside|without|both)", "appears, is in", "the key stands twice"),
    (r"shut way|called way", "closed circuit", "against a shut way"),
    (r"bare network", "a piping network without boiler and zones", "a bare network"),
    (r"optimis\w+|colours?|neutraliser|motorised|vapour|metres?|litres?|behaviour|centred?", "American spelling", "the colour"),
    (r"\} %", "percent without a space", "{} % of it"),
    (r"as it stands", "now", "the scenario as it stands"),
]
# Keys, words of choices and headings that files, JSON and CSV have had since their first format: never told by themselves. What quotes
# one of them as a file has it may do so.
KEYS = {
    "wanted", "remedy", "evenest", "weight", "motorised mixing valve", "neutraliser", "no_neutraliser", "role", "satisfied", "starved",
    "another circulator", "zones joined", "fixtures", "sink", "sinks", "most in one hour", "middle burn", "draws as wanted",
    "wanted temperature", "averaged outdoors", "heat wanted", "colours", "cushion", "warm-weather shut-down",
}
# Literals that may say it all the same: (end of path, literal, why).
ALLOWED = [
    ("sim/core/unit_table.hpp", "meter meters metre metres", "spellings of a unit that files may use"),
    ("sim/scenario/trade_words.cpp", "|", "words of the trade that are answered with ours"),
    ("sim/core/unit_table.hpp", "liter liters litre litres", "spellings of a unit that files may use"),
]

WORDS = [(re.compile(p if p.startswith("\\") else rf"(?<![\w/.-])(?:{p})(?![\w-])", re.I), better, sample) for p, better, sample in REFUSED]


def literals(text, is_script):
    """(line, literal) of each string, adjacent ones of C++ as one; of a page also the text of its elements."""
    found, plain, i, n = [], [], 0, len(text)
    last_end = None
    while i < n:
        c = text[i]
        if text.startswith("//", i):
            i = text.find("\n", i) if "\n" in text[i:] else n
            continue
        if text.startswith("/*", i):
            end = text.find("*/", i + 2)
            i = n if end < 0 else end + 2
            continue
        raw = None if is_script else re.match(r'(?:u8)?R"([^(\s]{0,16})\(', text[i:i + 24])
        if raw and (i == 0 or not (text[i - 1].isalnum() or text[i - 1] == "_")):
            close = f'){raw[1]}"'
            end = text.find(close, i)
            body, start, i = text[i + raw.end():end], i, end + len(close)
        elif c == '"' or (is_script and c in "'`" and not (c == "'" and i and text[i - 1].isalnum())):
            j, start = i + 1, i
            while j < n and text[j] != c:
                j += 2 if text[j] == "\\" else 1
            body, i = text[i + 1:j].replace('\\"', '"').replace("\\'", "'").replace("\\n", "\n"), j + 1
        elif c == "'" and not is_script and not (i and text[i - 1].isalnum()):  # a character, not a digit's separator
            i += 4 if text[i + 1] == "\\" else 3
            continue
        elif is_script and c == "/" and re.search(r"[(,=:\[!&|?{};]\s*$", text[max(0, i - 20):i]):  # a regular expression
            j = i + 1
            while j < n and text[j] not in "/\n":
                j += 2 if text[j] == "\\" else 1
            i = j + 1
            continue
        else:
            plain.append((i, c))
            i += 1
            continue
        if not is_script and found and last_end is not None and not text[last_end:start].strip():
            found[-1] = (found[-1][0], found[-1][1] + body)
        else:
            found.append((text.count("\n", 0, start) + 1, body))
        last_end = i
    if is_script:
        code = "".join(c for _, c in plain)
        for m in re.finditer(r">([^<>{}=;()]*[a-z]{3}[^<>{}=;()]*)[<{]", code):
            found.append((text.count("\n", 0, plain[m.start()][0]) + 1, " ".join(m[1].split())))
    return found


def faults_of(name, text):
    faults = []
    for line, literal in literals(text, name.endswith((".ts", ".tsx"))):
        said = re.sub(r'class="[^"]*"', "", literal)
        for key in KEYS:
            said = said.replace(f'"{key}"', "").replace(f"`{key}`", "")
        if literal in KEYS or "#include" in literal:
            continue
        for pattern, better, _ in WORDS:
            hit = pattern.search(said)
            if hit and not any(name.endswith(end) and one in literal for end, one, _ in ALLOWED):
                faults.append(f"{name}:{line}: '{hit[0].strip()}' → {better}: {' '.join(said.split())[:100]}")
    return faults


def check_itself():
    """Each sentence that shows a refused word is found in a literal of each language, and nowhere else."""
    for pattern, better, sample in WORDS:
        page = f"<p>{sample.replace('{}', '8')}</p>"
        for name, text in (("a.cpp", f'f("so: "\n  "{sample}");'), ("a.tsx", f"f(`{sample}`);"), ("b.tsx", page)):
            if not any(better in f for f in faults_of(name, text)) and not (name == "b.tsx" and "{" in sample):
                sys.exit(f"words_check: {sample!r} is not found in {text!r}")
        if faults_of("a.cpp", f"// {sample}\nint x = 1'000; /* {sample} */ char c = '\"';"):
            sys.exit(f"words_check: a comment is taken for words: {sample!r}")
    for kept in ('f("remedy", R"(<p class="remedy">)");', 'f("you want to, nominal, recommended, spends")'):
        if faults_of("a.cpp", kept):
            sys.exit(f"words_check: refused all the same: {kept}")


check_itself()
folders = sys.argv[1:] or ["sim", "models", "plots", "tools"]
files = [f for folder in folders for f in sorted((TOP / folder).rglob("*")) if f.suffix in (".cpp", ".hpp", ".ts", ".tsx")
         and "node_modules" not in f.parts]
faults = [fault for f in files for fault in faults_of(str(f.relative_to(TOP)), f.read_text())]
print("\n".join(faults) or f"{len(files)} files speak the trade's words")
sys.exit(1 if faults or not files else 0)
