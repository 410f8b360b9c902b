// The one state of the page: the opened file, the texts to go back and forward through, and how the newest one looks.

import { useEffect, useState } from 'preact/hooks';
import { served } from './engine';
import { AskFailed, type Description, type Edit, type Fault, type FileEntry, type FileText, type Look, type Place, type Scenario, type Units } from './interface';
import { is_abort, told } from './running';

export const views = { 'lay-out': 'Lay out', watch: 'Watch', compare: 'Compare', tune: 'Tune', teach: 'Teach',
  'hand-over': 'Hand over' } as const;
export type View = keyof typeof views;

export interface Opened {
  /** "" until a new scenario is saved for the first time. */
  name: string;
  shipped: boolean;
  file: string;
  /** Null: there is no such file yet. */
  stamp: string | null;
  /** As it stands in the file. */
  saved: string;
}
/** What the side sheet shows: a piece of the drawing, or a table of the file. */
export type Chosen = { piece: string } | { table: string; index: number };

export interface State {
  description?: Description;
  files?: FileEntry[];
  opened?: Opened;
  texts: string[];
  at: number;
  units: Units;
  view: View;
  /** The newest; while there are faults, its drawing and figures are those from before them. */
  look?: Look;
  /** The drawing and figures are of an older text. */
  is_old: boolean;
  /** Not even TOML: no value can be told from another, so none can be changed but in the text itself. */
  is_unread: boolean;
  is_looking: boolean;
  /** Zones that call in the state to show; absent: all. */
  calls?: string[];
  chosen?: Chosen;
  /** What the questions left open. */
  unknown: string[];
  /** Said in the status line. */
  said: string;
  failed?: { words: string; hint: string };
  /** The file as someone else has left it. */
  changed?: FileText;
  /** The name of a file that is there already, that the user wanted to give. */
  taken?: FileText;
}

let state: State = {
  texts: [''], at: 0, units: localStorage.getItem('steadyfire:units') === 'si' ? 'si' : 'us', view: view_of(location.hash),
  is_old: false, is_unread: false, is_looking: false, unknown: [], said: '',
};
const hearers = new Set<(s: State) => void>();
function set(changed: Partial<State>): void {
  state = { ...state, ...changed };
  hearers.forEach(hear => hear(state));
}
export function useStore(): State {
  const [now, hear] = useState(state);
  useEffect(() => {
    hearers.add(hear);
    hear(state);
    return () => { hearers.delete(hear); };
  }, []);
  return now;
}

export const engine = served;
export const text_of = (s: State) => s.texts[s.at];
export const is_unsaved = (s: State) => !!s.opened && (text_of(s) !== s.opened.saved || s.opened.stamp == null);
export const scenario_of = (s: State): Scenario => ({ text: text_of(s), file: s.opened?.file ?? '', units: s.units });
const address = (at: Place) => JSON.stringify([at.table, at.index, at.path]);
/** The faults of a value, or of a key that lacks there. */
export const faults_at = (faults: Fault[], at: Place) => faults.filter(f => f.at && !f.file && address(f.at) === address(at));

// The address tells the view and the file, as in #watch/files/house.toml or #watch/shipped/ghost_flow.toml.
function view_of(hash: string): View {
  const word = hash.slice(1).split('/')[0];
  return word in views ? word as View : 'lay-out';
}
function file_of(hash: string): { name: string; shipped: boolean } | undefined {
  const [, where, name = ''] = hash.match(/^#[^/]*\/(files|shipped|new)(?:\/(.*))?$/) ?? [];
  return where ? { name: name.split('/').map(decodeURIComponent).join('/'), shipped: where === 'shipped' } : undefined;
}
export function address_of(s: State, view: View): string {
  if (!s.opened) return `#${view}`;
  const { name, shipped } = s.opened;
  return `#${view}/${name ? (shipped ? 'shipped' : 'files') : 'new'}${name && '/' + name.split('/').map(encodeURIComponent).join('/')}`;
}
function show_address(): void {
  const now = address_of(state, state.view);
  if (location.hash !== now) history.replaceState(null, '', now);
}
addEventListener('hashchange', () => {
  const view = view_of(location.hash), file = file_of(location.hash), { opened } = state;
  if (view !== state.view) {
    set({ view, chosen: undefined, said: '' });
    scrollTo(0, 0);
  }
  if (file && (opened?.name !== file.name || opened.shipped !== file.shipped)) return void store.reopen(file);
  show_address();
});

// --- work that is not saved yet outlives a reload --------------------------------------------------------------------

const draft_key = ({ name, shipped }: { name: string; shipped: boolean }) => `steadyfire:work:${shipped ? 'shipped/' : ''}${name}`;
interface Draft { text: string; stamp: string | null }
function keep_draft(): void {
  const { opened } = state;
  if (!opened) return;
  const key = draft_key(opened), draft: Draft = { text: text_of(state), stamp: opened.stamp };
  for (const store of [sessionStorage, localStorage]) {
    try {
      if (is_unsaved(state)) store.setItem(key, JSON.stringify(draft));
      else store.removeItem(key);
    } catch { /* a full or forbidden store: leaving the page still warns */ }
  }
}
/** Whether changes wait in this browser that no file holds. */
export const has_draft = (which: { name: string; shipped: boolean }) => !!draft_of(which);
/** This window's own draft before one that another has left. */
function draft_of(which: { name: string; shipped: boolean }): Draft | undefined {
  const kept = sessionStorage.getItem(draft_key(which)) ?? localStorage.getItem(draft_key(which));
  return kept ? JSON.parse(kept) as Draft : undefined;
}
addEventListener('beforeunload', e => { if (is_unsaved(state)) e.preventDefault(); });

// --- looking ---------------------------------------------------------------------------------------------------------

let looking: AbortController | undefined;
async function look(): Promise<void> {
  looking?.abort();
  if (!state.opened) return;
  const mine = looking = new AbortController(), { calls } = state;
  set({ is_looking: true });
  try {
    const now = await served.ask('look', { ...scenario_of(state), ...(calls && { calls }) }, undefined, mine.signal);
    if (mine.signal.aborted) return;
    const is_old = !now.svg && !!state.look?.svg;
    set({ look: is_old ? { ...state.look, faults: now.faults, tables: now.tables.length ? now.tables : state.look!.tables } : now,
          is_old, is_unread: !now.tables.length && now.faults.length > 0, is_looking: false, failed: undefined });
  } catch (e) {
    if (mine.signal.aborted || is_abort(e)) return;
    if (state.calls) { // a zone that calls may be gone
      set({ calls: undefined });
      return look();
    }
    set({ is_looking: false, failed: told(e) });
  }
}

// --- changing --------------------------------------------------------------------------------------------------------

const most_steps = 300, together = 1500; // ms
let group = '', grouped = 0;
function push(text: string, of_group = ''): void {
  if (text === text_of(state)) return;
  const now = Date.now(), joins = !!of_group && of_group === group && now - grouped < together && state.at > 0;
  group = of_group, grouped = now;
  const before = state.texts.slice(joins ? 0 : Math.max(0, state.at + 2 - most_steps), joins ? state.at : state.at + 1);
  set({ texts: [...before, text], at: before.length });
  keep_draft();
  void look();
}
function go_to(at: number, said: string): void {
  if (at < 0 || at >= state.texts.length) return;
  group = '';
  set({ at, said });
  keep_draft();
  void look();
}
let turn: Promise<unknown> = Promise.resolve();
/** Fields that hold something typed and not sent yet: called before a step, a save, or another file. */
export const typing = new Set<() => void>();
export async function settled(): Promise<void> {
  typing.forEach(send => send());
  await turn;
}

function begin(opened: Opened, text: string, said: string, unknown: string[] = []): void {
  looking?.abort();
  group = '';
  const texts = text === opened.saved || opened.stamp == null ? [text] : [opened.saved, text];
  set({ opened, texts, at: texts.length - 1, look: undefined, is_old: false, is_unread: false, calls: undefined, chosen: undefined, changed: undefined,
        taken: undefined, failed: undefined, unknown, said });
  show_address();
  keep_draft();
  void look();
}

export const store = {
  state: () => state,
  say: (said: string) => set({ said }),
  async start() {
    try {
      const [description, files] = await Promise.all([served.ask('describe', { units: state.units }), served.files()]);
      set({ description, files });
      const named = file_of(location.hash), first = files.find(f => f.opened);
      if (named) await store.reopen(named);
      else if (first) await store.open(first.name, first.shipped);
    } catch (e) {
      set({ failed: told(e) });
    }
  },
  async open(name: string, shipped: boolean) {
    await settled();
    try {
      const { text, file, stamp } = await served.read(name, shipped), draft = draft_of({ name, shipped });
      const differs = !!draft && draft.text !== text;
      begin({ name, shipped, file, stamp, saved: text }, differs ? draft.text : text,
            differs ? 'Your unsaved changes are restored. Undo goes back to the file.' : `${name} is open.`);
      if (differs && draft.stamp !== stamp) set({ changed: { name, file, text, stamp } });
    } catch (e) {
      set({ failed: told(e) });
    }
  },
  /** By the address: a file, or the new scenario that was not saved. */
  async reopen(file: { name: string; shipped: boolean }) {
    if (file.name) return store.open(file.name, file.shipped);
    await settled();
    const draft = draft_of(file);
    if (draft) store.begin_new(draft.text, 'Your new scenario is restored. It is not saved yet.');
    else show_address();
  },
  /** A scenario that no file holds yet. */
  begin_new(text: string, said: string, unknown: string[] = []) {
    begin({ name: '', shipped: false, file: '', stamp: null, saved: '' }, text, said, unknown);
  },
  async close() {
    looking?.abort();
    set({ opened: undefined, texts: [''], at: 0, look: undefined, chosen: undefined, changed: undefined, taken: undefined,
      failed: undefined, said: '' });
    show_address();
    try {
      set({ files: await served.files() });
    } catch (e) {
      set({ failed: told(e) });
    }
  },
  /** Edits the newest text, each after those before it. Those of one group that follow soon are one step back.
      False: the engine did not answer. */
  edit(edits: Edit[], of_group = '', said = ''): Promise<false | void> {
    const mine = turn.then(async () => {
      try {
        const { text, faults } = await served.ask('edit', { ...scenario_of(state), edits }), is_same = text === text_of(state);
        if (is_same) void look();
        push(text, of_group);
        const unread = is_same && faults.find(f => !f.at && !f.file); // such a text is left as it is
        set({ said: is_same ? `No change${unread ? `: ${unread.message}` : ''}.` : said || 'Changed.', failed: undefined });
      } catch (e) {
        set({ failed: told(e) });
        return false;
      }
    });
    turn = mine;
    return mine;
  },
  write: (text: string) => push(text, 'text'),
  undo: () => settled().then(() => go_to(state.at - 1, 'One step undone.')),
  redo: () => settled().then(() => go_to(state.at + 1, 'One step redone.')),
  units(units: Units) {
    localStorage.setItem('steadyfire:units', units);
    set({ units });
    void look();
    served.ask('describe', { units }).then(description => { if (state.units === units) set({ description }); })
      .catch(e => set({ failed: told(e) }));
  },
  call(calls: string[] | undefined) {
    set({ calls });
    void look();
  },
  choose: (chosen: Chosen | undefined) => set({ chosen }),
  show: (view: View) => { location.hash = address_of(state, view); },

  /** False: it is not saved, and the page asks what to do. */
  async save(name = state.opened?.name ?? '', over?: string | null): Promise<boolean> {
    await settled();
    const { opened } = state, text = text_of(state);
    if (!opened || !name) return false;
    const is_same = name === opened.name && !opened.shipped;
    try {
      const answer = await served.save(name, text, over !== undefined ? over : is_same ? opened.stamp : null);
      if ('changed' in answer) {
        set(is_same ? { changed: answer.changed } : { taken: answer.changed });
        return false;
      }
      const file = is_same ? opened.file : (await served.read(name, false)).file;
      for (const kept of [sessionStorage, localStorage]) kept.removeItem(draft_key(opened));
      const also = answer.also.length ? ` Also saved: ${answer.also.join(', ')}.` : '';
      set({ opened: { name, shipped: false, file, stamp: answer.stamp, saved: text }, changed: undefined, taken: undefined,
        failed: undefined,
            said: `Saved as ${name}.${also}` });
      show_address();
      keep_draft();
      if (!is_same) void served.files().then(files => set({ files })).catch(() => {});
      return true;
    } catch (e) {
      set({ failed: told(e) });
      return false;
    }
  },
  forget_taken: () => set({ taken: undefined }),
  /** The file as someone else has left it takes the place of what is here; undo brings this back. */
  take_theirs() {
    const { changed, opened } = state;
    if (!changed || !opened) return;
    set({ opened: { ...opened, stamp: changed.stamp, saved: changed.text }, changed: undefined,
      said: 'Their version is loaded. Undo brings yours back.' });
    push(changed.text);
    keep_draft();
  },
  write_over: () => store.save(state.opened?.name, state.changed?.stamp || null),
};

/** Whether someone else has changed the file, when the user comes back to the page. */
async function check_file(): Promise<void> {
  const { opened } = state;
  if (!opened || opened.shipped || !opened.name || document.hidden) return;
  try {
    const now = await served.read(opened.name, false);
    if (state.opened !== opened) return;
    if (now.stamp !== opened.stamp) set({ changed: now });
  } catch (e) { // of anything else saving will tell
    if (e instanceof AskFailed && e.status === 404 && state.opened === opened) set({ changed: { name: opened.name, file: opened.file, text: '', stamp: '' } });
  }
}
addEventListener('focus', () => void check_file());
document.addEventListener('visibilitychange', () => void check_file());
