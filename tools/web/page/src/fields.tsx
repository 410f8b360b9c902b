// A form for what may stand in a table: each value as typed, with the engine's words where it is wrong.

import { useEffect, useId, useRef, useState } from 'preact/hooks';
import type { Fault, Field, Kind, Place, Written } from './interface';
import { printed } from './parts';
import { faults_at, store, typing, useStore } from './store';

export const spaced = (key: string) => key.replaceAll('_', ' ');
const below = (at: Place, key: string): Place => ({ ...at, path: [...at.path, key] });
const group_of = (at: Place) => JSON.stringify([at.table, at.index, at.path]);

export function Wrong({ faults, id }: { faults: Fault[]; id: string }) {
  if (!faults.length) return null;
  return <div id={id}>{faults.map((f, i) => <p class="wrong" key={i}>{f.message}
    {f.expected && <span>expected {f.expected}</span>}{f.hint && <span>{f.hint}</span>}
  </p>)}</div>;
}

/** What a field holds is sent when typing rests or the field is left; what the file says meanwhile does not take the place of it.
    What could not be sent (false) waits for the next Enter, step or save. */
export function useTyped(written: string, send: (value: string) => Promise<false | void> | void) {
  const [typed, type] = useState<string>(), rest = useRef<ReturnType<typeof setTimeout>>(), waiting = useRef<string>();
  const sender = useRef(send);
  sender.current = send;
  const flush = () => {
    clearTimeout(rest.current);
    const value = waiting.current;
    waiting.current = undefined;
    if (value != null) void Promise.resolve(sender.current(value)).then(done => { if (done === false) waiting.current ??= value; });
  };
  const sending = useRef(flush);
  sending.current = flush;
  useEffect(() => {
    const send_now = () => sending.current();
    typing.add(send_now);
    return () => {
      typing.delete(send_now);
      send_now();
    };
  }, []);
  useEffect(() => { if (waiting.current == null) type(undefined); }, [written]);
  return {
    value: typed ?? written,
    onInput(e: { currentTarget: { value: string } }) {
      clearTimeout(rest.current);
      type(waiting.current = e.currentTarget.value);
      rest.current = setTimeout(flush, 450);
    },
    onBlur: flush,
    onKeyDown(e: KeyboardEvent) { if (e.key === 'Enter') flush(); },
  };
}

const said_of = (field: Field): string => [
  field.help, field.units.length && !field.sort.startsWith('clock') ? `in ${field.units.map(printed).join(', ')}` : '',
  printed(field.range), field.usual && `usual: ${printed(field.usual)}`,
].filter(Boolean).join('; ');

function Text({ id, value, hint, described, wrong, send }: {
  id: string; value: string; hint: string; described: string; wrong: boolean; send: (value: string) => Promise<false | void>;
}) {
  const typed = useTyped(value, send);
  return <input id={id} type="text" autocomplete="off" spellcheck={false} placeholder={hint} aria-describedby={described}
    aria-invalid={wrong} {...typed} />;
}

type Taken = { words: string; whose: 'stated' | 'usual' | 'arranged' };
const whose = { usual: 'assumed', arranged: 'set by the arrangement' };

/** One value; of an entry its kind and the values in it. */
function Value({ field, at, written, taken, kinds, faults }: {
  field: Field; at: Place; written?: Written; taken?: Taken; kinds: Kind[]; faults: Fault[];
}) {
  const id = useId(), wrong = faults_at(faults, at);
  const set = (value: string) => store.edit([{ do: 'set', at, value }], group_of(at), `${spaced(field.key)}: ${value.trim()
    || 'removed'}.`);
  const now = written ? (written.value || (field.sort === 'curve' ? written.source : '')) : '';
  const otherwise = printed(taken && taken.whose !== 'stated' ? `${taken.words} (${whose[taken.whose]})` : field.standard || field.absent);
  const classes = `field${written ? ' is-stated' : ''}${wrong.length ? ' is-wrong' : ''}`;
  const described = `${id}-help${wrong.length ? ` ${id}-wrong` : ''}`;
  const help = <>
    <p class="note" id={`${id}-help`}>{said_of(field)}{field.absent && `; if not stated: ${printed(field.absent)}`}{field.may_be_unknown
      && '; may be "unknown"'}</p>
    <Wrong faults={wrong} id={`${id}-wrong`} />
  </>;
  const select = (options: [string, string][]) => <select id={id} value={now} aria-describedby={described} aria-invalid={wrong.length > 0}
    onChange={e => void set(e.currentTarget.value)}>
    <option value="">{`not stated${otherwise ? `: ${otherwise}` : ''}`}</option>
    {now && !options.some(([v]) => v === now) && <option value={now}>{now}</option>}
    {options.map(([value, words]) => <option key={value} value={value}>{words}</option>)}
  </select>;
  const label = <label for={id}>{spaced(field.key)}{field.required && ' (required)'}</label>;

  if (field.sort === 'choice' || field.sort === 'flag') {
    const of = field.sort === 'flag' ? [['true', 'yes'], ['false', 'no']] : field.choices.map(c => [c, c]);
    return <div class={classes}>{label}{select([...of, ...(field.may_be_unknown ? [['unknown', 'unknown']] : [])] as [string,
      string][])}{help}</div>;
  }
  if (field.sort === 'entry') return <Inside {...{ field, at, written, kinds, faults, classes, label, select, help }} />;
  return <div class={classes}>{label}
    <Text id={id} value={now} hint={otherwise} described={described} wrong={wrong.length > 0} send={set} />{help}
  </div>;
}

/** A table inside a table: opened in place. */
function Inside({ field, at, written, kinds, faults, classes, label, select, help }: {
  field: Field; at: Place; written?: Written; kinds: Kind[]; faults: Fault[]; classes: string; label: preact.JSX.Element;
  select: (options: [string, string][]) => preact.JSX.Element; help: preact.JSX.Element;
}) {
  const fit = kinds.filter(k => k.family === field.family), word = written?.kind ?? written?.value ?? '';
  const kind = fit.length === 1 ? fit[0] : fit.find(k => k.name === word);
  const is_in = faults.some(f => f.at && f.at.table === at.table && f.at.index === at.index && f.at.path.length >= at.path.length
    && at.path.every((key, i) => f.at!.path[i] === key));
  const [open, set_open] = useState(false), name = spaced(field.key);
  const say = (value: string, said: string) => void store.edit([{ do: 'set', at, value }], '', said);
  return <div class={`${classes} inner`}>
    {fit.length === 1 ? <b>{name}</b> : label}
    {fit.length > 1 && select(fit.map(k => [k.name, k.name]))}
    {help}
    {fit.length > 1 && <Wrong faults={faults_at(faults, below(at, 'kind'))} id={`wrong-${group_of(at)}`} />}
    {kind && <details open={open || is_in} onToggle={e => set_open(e.currentTarget.open)}>
      <summary>{kind.name}: {kind.summary}</summary>
      {(open || is_in) && <Fields kind={kind} at={at} values={written?.values ?? []} kinds={kinds} faults={faults} />}
      {written && <button type="button" onClick={() => say('', `Removed ${name}.`)}>Remove {name}</button>}
    </details>}
    {kind && fit.length === 1 && !written && <button type="button" onClick={() => say(kind.name,
      `Added ${name}, with usual values.`)}>Add {name}</button>}
  </div>;
}

const text_field = (key: string, help: string): Field => ({
  key, sort: 'text', help, unit: '', units: [], range: '', standard: '', absent: '', usual: '', may_be_unknown: false, required: false,
    choices: [], family: '',
});

/** All fields of a kind, those that the file states first in colour; what stands there and belongs to nothing too, to be taken away. */
export function Fields({ kind, at, values, taken = [], kinds, faults, joints = false }: {
  kind: Kind; at: Place; values: Written[]; taken?: (Taken & { key: string })[]; kinds: Kind[]; faults: Fault[];
    joints?: boolean;
}) {
  const all = [...kind.fields, ...(joints ? kind.ports.map(p => text_field(p, 'the joint it connects to')) : [])];
  const strange = values.filter(v => v.key !== 'kind' && v.key !== 'name' && !all.some(f => f.key === v.key))
    .map(v => text_field(v.key, kind.ports.includes(v.key) ? 'the joint it connects to' : 'not a key of this table: remove it'));
  return <fieldset class="fields" disabled={useStore().is_unread}>
    {[...all, ...strange].filter(f => f.key !== 'name'
      || at.path.length > 0).map(field => <Value key={field.key} field={field} at={below(at, field.key)}
      written={values.find(v => v.key === field.key)} taken={taken.find(t => t.key === field.key)} kinds={kinds} faults={faults} />)}
  </fieldset>;
}

/** The values written at a place. */
export function written_at(tables: { table: string; index: number; values: Written[] }[], at: Place): Written[] {
  let values = tables.find(t => t.table === at.table && t.index === at.index)?.values ?? [];
  for (const key of at.path) values = values.find(v => v.key === key)?.values ?? [];
  return values;
}

/** A name, kept when the field is left: other tables may call it by this. */
export function Name({ table, index, name, label }: { table: string; index: number; name: string; label: string }) {
  const [typed, type] = useState<string>();
  useEffect(() => type(undefined), [name]);
  const keep = () => {
    if (typed != null && typed.trim() && typed !== name) void store.edit([{ do: 'rename', table, index, name: typed.trim() }], '',
      `Renamed to ${typed.trim()}.`);
    else type(undefined);
  };
  return <input type="text" aria-label={label} value={typed ?? name} autocomplete="off" onInput={e => type(e.currentTarget.value)}
    onBlur={keep}
    onKeyDown={e => { if (e.key === 'Enter') keep(); }} />;
}

export const useKinds = (): Kind[] => useStore().description?.kinds ?? [];
