// Where one begins: a lesson, a file of the folder, or the questions that are asked at the counter.

import { useId, useState } from 'preact/hooks';
import type { Fault, Field, FileEntry, Kind } from './interface';
import { spaced } from './fields';
import { Failed, Faults, Section, printed } from './parts';
import { told } from './running';
import { engine, has_draft, store, type State } from './store';

type Answers = Record<string, string>;

/** An answer as it is sent: a number with the unit beside it. */
function Answer({ field, value, answer }: { field: Field; value: string; answer: (value: string) => void }) {
  const id = useId(), has_unit = field.sort === 'quantity' && field.units.length > 0;
  const [number, set_number] = useState(value), [unit, set_unit] = useState(field.unit || field.units[0] || '');
  const send = (n: string, u: string) => answer(n.trim() && has_unit && /^[-+\d.,\s]+$/.test(n) ? `${n.trim()} ${u}` : n.trim());
  const help = [field.help, printed(field.range)].filter(Boolean).join('; ');
  return <div class="field">
    <label for={id}>{spaced(field.key)}{field.required && ' (required)'}</label>
    {field.choices.length ? <select id={id} value={value} aria-describedby={`${id}-help`} onChange={e => answer(e.currentTarget.value)}>
      <option value="">{field.required ? 'choose' : 'unknown'}</option>
      {field.choices.map(c => <option key={c} value={c}>{c}</option>)}
    </select> : <div class="typed">
      <input id={id} type="text" autocomplete="off" required={field.required} value={number} placeholder={field.required ? '' : 'unknown'}
        aria-describedby={`${id}-help`} onInput={e => { set_number(e.currentTarget.value), send(e.currentTarget.value, unit); }} />
      {has_unit && (field.units.length > 1 ? <select aria-label={`Unit of ${spaced(field.key)}`} value={unit}
        onChange={e => { set_unit(e.currentTarget.value), send(number, e.currentTarget.value); }}>
        {field.units.map(u => <option key={u} value={u}>{printed(u)}</option>)}
      </select> : <span class="note">{printed(field.unit)}</span>)}
    </div>}
    <p class="note" id={`${id}-help`}>{help}</p>
  </div>;
}

function Zones({ kind, zones, change }: { kind: Kind; zones: (Answers & { id: string })[];
  change: (zones: (Answers & { id: string })[]) => void }) {
  const set = (id: string, key: string, value: string) => change(zones.map(z => z.id === id ? { ...z, [key]: value } : z));
  return <>
    {zones.map((z, i) => <div class="zone-answers" role="group" aria-label={`Zone ${i + 1}`} key={z.id}>
      <div class="field"><label for={`zone-name-${z.id}`}>name of zone {i + 1}</label>
        <input id={`zone-name-${z.id}`} type="text" value={z.name} required onInput={e => set(z.id, 'name', e.currentTarget.value)} /></div>
      {kind.fields.filter(f => f.key !== 'name').map(f => <Answer key={f.key} field={f} value={z[f.key] ?? ''} answer={v => set(z.id,
        f.key, v)} />)}
      <button type="button" disabled={zones.length === 1} aria-label={`Remove ${z.name}`}
        onClick={() => change(zones.filter(o => o.id !== z.id))}>Remove</button>
    </div>)}
    <div class="tools"><button type="button" onClick={() => change([...zones, { id: String(next_id++),
      name: `zone ${zones.length + 1}` }])}>Add a zone</button></div>
  </>;
}
let next_id = 1;

function Questions({ state }: { state: State }) {
  const { questions, answers: kinds } = state.description!;
  const [answers, set_answers] = useState<Record<string, Answers>>({});
  const [zones, set_zones] = useState<(Answers & { id: string })[]>([{ id: '0', name: 'living' }]);
  const [faults, set_faults] = useState<Fault[]>([]), [failed, fail] = useState<{ words: string; hint: string }>();
  const start = async (e: Event) => {
    e.preventDefault();
    const given: Record<string, Answers | Answers[]> = {};
    for (const { table } of questions) {
      const kind = kinds.find(k => k.table === table)!;
      given[table] = kind.home === 'repeated' ? zones.map(({ id: _, ...z }) => z) : answers[table] ?? {};
    }
    try {
      const started = await engine.ask('start', { answers: given, units: state.units });
      fail(undefined), set_faults(started.faults);
      if (started.text) store.begin_new(started.text, 'The house is laid out. Save it to a file to keep it.', started.unknown);
    } catch (problem) {
      fail(told(problem));
    }
  };
  return <form onSubmit={start}>
    {questions.map(({ words, table }) => {
      const kind = kinds.find(k => k.table === table)!;
      return <fieldset class="question" key={table}><legend>{words}</legend>
        {kind.home === 'repeated' ? <Zones kind={kind} zones={zones} change={set_zones} />
          : <div class="answers">{kind.fields.map(f => <Answer key={f.key} field={f} value={answers[table]?.[f.key] ?? ''}
            answer={v => set_answers(was => ({ ...was, [table]: { ...was[table], [f.key]: v } }))} />)}</div>}
      </fieldset>;
    })}
    {faults.length > 0 && <Faults faults={faults.map(f => ({ ...f, line: 0 }))} />}
    {failed && <Failed failed={failed} />}
    <div class="tools"><button type="submit" class="main">Lay out the house</button></div>
  </form>;
}

const List = ({ of, label }: { of: FileEntry[]; label: string }) => <ul class="lessons" aria-label={label}>{of.map(f => <li key={f.name}>
  <button type="button" onClick={() => void store.open(f.name, f.shipped)}><b>{f.title
    || f.name}</b> <span class="note">{f.name}{has_draft(f) && ', unsaved changes'}</span></button>
</li>)}</ul>;

const unnamed = { name: '', shipped: false };

export function Opening({ state }: { state: State }) {
  const files = state.files ?? [], own = files.filter(f => !f.shipped), shipped = files.filter(f => f.shipped);
  const [asked, ask] = useState(false);
  return <div class="plain opening">
    <h1>Open a house</h1>
    <p class="answer">Check flow, short cycling and the reset curve before you cut pipe. Nothing is written until you save.</p>
    <Section title="A new house">
      {has_draft(unnamed) && <p>You have an unsaved new scenario; starting another replaces it.{' '}
        <button type="button" onClick={() => void store.reopen(unnamed)}>Continue with it</button></p>}
      {asked ? <>
        <p class="note">Leave what you do not know as unknown. A usual value is assumed and listed.</p>
        <Questions state={state} />
      </> : <p><button type="button" class="main" onClick={() => ask(true)}>Answer six questions</button></p>}
    </Section>
    {own.length > 0 && <Section title="In this folder"><List of={own} label="In this folder" /></Section>}
    <Section title="Lessons">
      <p class="note">Built-in scenarios. Saving one makes your own copy.</p>
      <List of={shipped} label="Lessons" />
    </Section>
  </div>;
}
