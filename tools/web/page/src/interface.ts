// All that the page asks of the engine, and what is answered. The same asks serve over HTTP now and inside the browser
// later: an ask is a name and plain JSON, an answer is plain JSON, and nothing is remembered between asks, so the
// scenario's text travels with each. Words and numbers with units come ready to show; the page computes nothing.

export type Units = 'us' | 'si';

/** A fault of the scenario, in the words of the command line. */
export interface Fault {
  code: string;
  message: string;
  expected: string;
  hint: string;
  line: number;
  column: number;
  /** "" is the scenario itself, else the weather file or list that is wrong. */
  file: string;
  /** The value it is about, where it lies in one. */
  at?: Place;
}

/** A value in the scenario: the nth [[table]] (0 for a [table]; table "" holds the keys above all tables), then keys inwards. */
export interface Place {
  table: string;
  index: number;
  path: string[];
  /** Of a table that is not there yet, and that has a name: passed back as it came. */
  name?: string;
}

/** Every ask that carries a scenario has these. */
export interface Scenario {
  text: string;
  /** Its path in the opened folder, for the files that it names beside it; "" is none. */
  file: string;
  units: Units;
}

// --- describe: what may stand in a scenario -------------------------------------------------------------------------

export interface Field {
  key: string;
  sort: 'quantity' | 'number' | 'count' | 'choice' | 'flag' | 'text' | 'clock' | 'clocks' | 'list' | 'curve' | 'reference' | 'references' | 'entry';
  help: string;
  /** The unit in which range and standard are told; units lists spellings of the same system that fit. */
  unit: string;
  units: string[];
  range: string; // "0 to 100 %", "" where there is none
  least?: number;
  most?: number;
  standard: string; // as it would be written: "30 ft"; "" where there is none
  absent: string; // what holds where the key is absent, in words
  usual: string; // "45 to 60 °F (common practice, no published source)"; then "unknown" may be written
  may_be_unknown: boolean;
  required: boolean;
  choices: string[];
  family: string; // of an entry: the kinds that may stand there have this family
}
export interface Kind {
  name: string;
  table: string; // its key in a file
  family: string;
  summary: string;
  home: 'nested' | 'single' | 'repeated';
  ports: string[];
  fields: Field[];
}
export interface Question {
  words: string;
  /** A kind of `answers`. */
  table: string;
}
export interface Description {
  version: string;
  caution: string;
  kinds: Kind[];
  /** The six questions of the counter, and the kinds that their answers are. */
  questions: Question[];
  answers: Kind[];
}

// --- look: what a scenario says, and its steady flows ---------------------------------------------------------------

/** A value that stands in the file. */
export interface Written {
  key: string;
  /** As a user would type it, without TOML's quotes: "8 gpm", "bath", "2.5"; of a nested table its kind. */
  value: string;
  /** Its text in the file. */
  source: string;
  line: number;
  /** Of a nested table. */
  kind?: string;
  values?: Written[];
}
export interface WrittenTable {
  table: string;
  index: number;
  kind: string;
  name: string;
  line: number;
  values: Written[];
}
/** A number ready to show. */
export interface Shown {
  name: string;
  words: string;
}
export interface Piece {
  id: string;
  kind: string;
  label: string;
  zone: string;
  /** Where the scenario says its values: a table, or an entry inside one; where nothing is said yet, it is what to add. Of a piece
   * that has no table of its own it may be the table that makes it: then that is of another kind. */
  at: Place;
  /** False: `at` does not stand in the file yet; setting a value there makes it, as an override of what the arrangement chose. */
  is_stated: boolean;
  /** The values that it has now, in the kind's order, whoever stated them. */
  taken: { key: string; words: string; whose: 'stated' | 'usual' | 'arranged' }[];
  /** In the state shown. */
  figures: Shown[];
}
export interface FlowsState {
  calls: string[];
  words: string; // "bath and kitchen calling"
  zones: { name: string; wanted: string; got: string; drop: string; head: string; heat: string; room: string; is_short: boolean }[];
  totals: Shown[];
}
export interface Finding {
  id: string;
  place: string;
  weight: 'serious' | 'minor' | 'note';
  words: string;
  remedy: string;
  whose: string;
}
export interface Look {
  /** With any, what cannot be told without mending them is absent. */
  faults: Fault[];
  tables: WrittenTable[];
  title?: string;
  is_house?: boolean;
  pieces?: Piece[];
  svg?: string;
  crossings?: number;
  states?: FlowsState[];
  /** The state whose flows the schematic and the pieces show. */
  shown?: number;
  sample?: string;
  findings?: Finding[];
  assumptions?: { place: string; key: string; taken: string; range: string; why: string }[];
}
export interface LookRequest extends Scenario {
  /** Zones that call in the state to show; absent: all. */
  calls?: string[];
}

// --- edit: the text with some values changed; comments and order stay -----------------------------------------------

export type Edit =
  /** A value as typed. Makes the key, and a nested or missing table, where it is not there yet; "" takes the key away. */
  | { do: 'set'; at: Place; value: string }
  /** A table of its own, like another (with all it says) or empty. */
  | { do: 'add'; table: string; name: string; like?: number }
  | { do: 'remove'; table: string; index: number }
  /** Of a table with a name; names that other tables use for it follow. */
  | { do: 'rename'; table: string; index: number; name: string };
export interface EditRequest extends Scenario {
  edits: Edit[];
}
/** The text with the edits, even where it then has faults. */
export interface Edited {
  text: string;
  faults: Fault[];
}

// --- start: a scenario from the six questions -----------------------------------------------------------------------

export interface StartRequest {
  units?: Units;
  /** By table of the question: its answers by key as typed; zones are a list of such. Absent or "" is unknown. */
  answers: Record<string, Record<string, string> | Record<string, string>[]>;
}
export interface Started {
  text?: string;
  faults: Fault[];
  unknown: string[];
}

// --- run: a march through the scenario's own days (long: parts come while it is made) -------------------------------

export interface TimePanel {
  title: string;
  look: 'band' | 'steps' | 'lines';
  unit: string;
  series: { label: string; mean: (number | null)[]; least?: (number | null)[]; most?: (number | null)[]; resting?: boolean }[];
}
export interface OverTime {
  start: number;
  step: number;
  bins: number;
  panels: TimePanel[];
}
export interface Bars {
  labels: string[];
  values: number[];
  across: string;
  up: string;
}
export interface ResetCloud {
  across: string;
  up: string;
  curves: { label: string; x: number[]; y: number[] }[];
  points: { label: string; x: number[]; y: number[] }[];
}
export interface Repaintings {
  colours: string[];
  texts: string[];
  /** `stretches`: colour by [data-stretch], -1 - colour where water stands; `texts` and `ways` by [data-limb]. */
  moments: { time: number; words: string; stretches: number[]; texts: number[]; ways: string }[];
}
export interface Event {
  time: number;
  clock: string;
  place: string;
  what: string;
  why: string;
}
/** One step of the arithmetic behind short cycling, with this case's numbers. */
export interface WhyStep {
  title: string;
  words: string;
  sum: string; // "38.0 kBtu/h × 95 % = 36.1 kBtu/h"; "" where nothing is reckoned
}
export interface Run {
  faults: Fault[];
  /** The text that was run: the request's with its edits. */
  text: string;
  title?: string;
  /** "" or why the run ended early. */
  incomplete?: string;
  reasons?: string[];
  why?: WhyStep[];
  key?: Shown[]; // starts, starts in the worst hour, median burn, coldest room, fuel, …: one list for all cards and tables
  findings?: Finding[];
  cautions?: string[];
  over_time?: OverTime;
  svg?: string;
  repaintings?: Repaintings;
  events?: Event[];
  events_left_out?: number;
  burns?: Bars;
  reset?: ResetCloud;
  heat?: Bars;
  zones?: { name: string; figures: Shown[] }[];
  energy?: Shown[];
  /** What the quick look leaves open, in words; "" for a full run. */
  quick?: string;
}
export interface RunRequest extends Scenario {
  edits?: Edit[];
  /** A looser tolerance and no extras, for a picture while a slider moves. */
  quick?: boolean;
}
/** What comes while a long ask is answered. */
export interface Part {
  share: number;
  /** Of a run: what has been marched so far. */
  over_time?: OverTime;
}

// --- knobs: what trainers argue about, as sliders ------------------------------------------------------------------

export interface Knob {
  id: string;
  label: string;
  at: Place;
  unit: string;
  least: number;
  most: number;
  step: number;
  /** Now, in `unit`. */
  value: number;
  /** Why it cannot be turned here; "" where it can. */
  barred: string;
}
export interface Knobs {
  faults: Fault[];
  knobs: Knob[];
  /** The corners of the reset curve, for dragging; absent without a curve. */
  curve?: { at: Place; outdoors_key: [string, string]; supply_key: [string, string]; outdoors: [number, number]; supply: [number, number]; unit: string };
}

// --- compare: variants of one scenario on the same axes (long) ------------------------------------------------------

export interface CompareRequest {
  units: Units;
  variants: { name: string; text: string; file: string }[];
}
export interface Comparison {
  faults: Fault[];
  /** What differs between the texts: key by key. */
  changes: { what: string; values: string[] }[];
  rows: { what: string; values: string[]; differences: string[] }[];
  words: string[];
  /** The table for a spreadsheet or a mail, tabs between columns. */
  table: string;
  /** In the order of the variants, on one time axis and one scale. */
  over_time: OverTime[];
}

// --- documents (long) -----------------------------------------------------------------------------------------------

export interface DocumentRequest extends Scenario {
  what: 'report' | 'review' | 'materials' | 'schematic' | 'scenario';
}
export interface Document {
  faults: Fault[];
  name: string; // "house-report.html"
  type: string; // "text/html"
  text: string;
}

// --- the asks -------------------------------------------------------------------------------------------------------

export interface Asks {
  describe: { request: { units: Units }; answer: Description };
  look: { request: LookRequest; answer: Look };
  edit: { request: EditRequest; answer: Edited };
  start: { request: StartRequest; answer: Started };
  knobs: { request: Scenario; answer: Knobs };
  run: { request: RunRequest; answer: Run };
  compare: { request: CompareRequest; answer: Comparison };
  document: { request: DocumentRequest; answer: Document };
}

/** A file of the opened folder, or a shipped scenario. `stamp` changes whenever its content does. */
export interface FileText {
  name: string;
  /** What asks want to hear as `file`. */
  file: string;
  text: string;
  /** "" is a file that was taken away. */
  stamp: string;
}
export interface FileEntry {
  name: string; // path below the folder, with /
  title: string;
  shipped: boolean; // from the program itself: to open, never to write
  opened: boolean; // the file that `serve` was called with: stands first
}
/** `also`: files from the program that a new scenario names, and that were put beside it. */
export type Saved = { stamp: string; also: string[] } | { changed: FileText };

/** Where answers come from: a server now, the engine in the browser later. */
export interface Engine {
  /** Rejects with AskFailed; an aborted signal stops the engine's work too. */
  ask<A extends keyof Asks>(name: A, request: Asks[A]['request'], on?: (part: Part) => void, stop?: AbortSignal): Promise<Asks[A]['answer']>;
  files(): Promise<FileEntry[]>;
  read(name: string, shipped: boolean): Promise<FileText>;
  /** Writes only if the file still has `stamp`; null: only if there is no such file. */
  save(name: string, text: string, stamp: string | null): Promise<Saved>;
}
export class AskFailed extends Error {
  constructor(message: string, readonly hint: string, readonly status: number) {
    super(message);
  }
}
