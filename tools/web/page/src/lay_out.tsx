// Lay out: the drawing, who calls, what flows and what is wrong with it; zones, and everything else that the file says.

import { useId, useRef, useState } from 'preact/hooks';
import { Fields, Name, useKinds, useTyped, Wrong } from './fields';
import type { Fault, FlowsState, Kind, Look, WrittenTable } from './interface';
import { Figures, Findings, Section } from './parts';
import { Schematic } from './schematic';
import { Sheet } from './sheet';
import { faults_at, store, text_of, type State } from './store';

/** A name that no table of this key has. */
function free_name(tables: WrittenTable[], table: string, like: string): string {
  const taken = new Set(tables.filter(t => t.table === table).map(t => t.name));
  for (let k = 2; ; ++k) {
    const name = `${like.replace(/ \d+$/, '')} ${k}`;
    if (!taken.has(name)) return name;
  }
}
const count_of = (tables: WrittenTable[], table: string) => tables.filter(t => t.table === table).length;
async function add_table(look: Look, table: string, name: string, like?: number): Promise<void> {
  const index = count_of(look.tables, table);
  await store.edit([{ do: 'add', table, name, ...(like != null && { like }) }], '', `Added ${name || table}.`);
  store.choose({ table, index });
}
const remove_table = (t: WrittenTable) => {
  store.choose(undefined);
  void store.edit([{ do: 'remove', table: t.table, index: t.index }], '', `Removed ${t.name || t.kind}. Undo brings it back.`);
};

function AllFaults({ faults, tables, to_line }: { faults: Fault[]; tables: WrittenTable[]; to_line: (line: number) => void }) {
  if (!faults.length) return null;
  return <section aria-label="Errors to fix">
    <div role="alert"><ul class="faults">{faults.map((f, i) => {
      const table = f.at && !f.file && tables.find(t => t.table === f.at!.table && t.index === f.at!.index);
      return <li key={i}>
        <p><b>{f.code}</b> {f.file || (f.line > 0 ? `line ${f.line}` : '')}: {f.message}</p>
        {f.expected && <p class="note">expected {f.expected}</p>}
        {f.hint && <p class="note">{f.hint}</p>}
        <p class="tools">
          {table && <button type="button" onClick={() => store.choose({ table: table.table, index: table.index })}>Fix it in {table.name
            || table.kind || 'the scenario'}</button>}
          {!f.file && f.line > 0 && <button type="button" onClick={() => to_line(f.line)}>Show line {f.line}</button>}
        </p>
      </li>;
    })}</ul></div>
  </section>;
}

function WhoCalls({ look, state }: { look: Look; state: State }) {
  const zones = look.tables.filter(t => t.table === 'zone').map(t => t.name);
  const shown = look.states?.[look.shown ?? 0], calling = state.calls ?? shown?.calls ?? zones;
  if (!look.is_house || zones.length < 2) return null;
  const turn = (name: string) => {
    const next = zones.filter(z => z === name ? !calling.includes(z) : calling.includes(z));
    store.call(next.length === zones.length ? undefined : next);
  };
  return <fieldset class="states"><legend>Calling zones</legend>
    {zones.map(z => <label key={z}><input type="checkbox" checked={calling.includes(z)} disabled={calling.length === 1 && calling[0] === z}
      onChange={() => turn(z)} /> {z}</label>)}
  </fieldset>;
}

function Zones({ look, shown, kinds }: { look: Look; shown?: FlowsState; kinds: Kind[] }) {
  const zones = look.tables.filter(t => t.table === 'zone'),
    load = kinds.find(k => k.table === 'zone')?.fields.find(f => f.key === 'design_load');
  const last = zones.findLast(z => z.values.some(v => v.key === 'emitter'));
  return <Section title="Zones">
    {zones.length > 0 && <div class="wide" tabIndex={0} role="group" aria-label="Zones"><table class="zones numbers">
      <thead><tr>{['name', 'load', 'emitter', 'flow needed', 'flow', 'heat at this flow', ''].map(h => h ? <th scope="col" key={h}>{h}</th>
        : <td key="does" />)}</tr></thead>
      <tbody>{zones.map(z => {
        const flows = shown?.zones.find(f => f.name === z.name), said = (key: string) => z.values.find(v => v.key === key)?.value ?? '–';
        return <tr key={z.index}>
          <td><Name table="zone" index={z.index} name={z.name} label={`Name of zone ${z.index + 1}`} /></td>
          <td>{load ? said(load.key) : ''}</td><td>{said('emitter')}</td>
          <td>{flows?.wanted ?? '–'}</td>
          <td class={flows?.is_short ? 'is-short' : ''}>{flows?.got ?? (shown ? 'not calling' : '–')}{flows?.is_short
            && ', low flow'}</td>
          <td>{flows?.heat ?? '–'}</td>
          <td><div class="tools">
            <button type="button" aria-label={`Values of ${z.name}`} onClick={() => store.choose({ table: 'zone',
              index: z.index })}>Values</button>
            <button type="button" aria-label={`Copy ${z.name}`} onClick={() => void add_table(look, 'zone', free_name(look.tables, 'zone',
              z.name), z.index)}>Copy</button>
            <button type="button" aria-label={`Remove ${z.name}`} onClick={() => remove_table(z)}>Remove</button>
          </div></td>
        </tr>;
      })}</tbody>
    </table></div>}
    <div class="tools">
      {last && <button type="button" onClick={() => void add_table(look, 'zone', free_name(look.tables, 'zone', 'zone'),
        last.index)}>Add a zone like {last.name}</button>}
      <button type="button" onClick={() => void add_table(look, 'zone', free_name(look.tables, 'zone', 'zone'))}>Add an empty zone</button>
    </div>
  </Section>;
}

function Table({ table, look, kinds }: { table: WrittenTable; look: Look; kinds: Kind[] }) {
  const [open, set_open] = useState(false), kind = kinds.find(k => k.name === table.kind), at = { table: table.table, index: table.index,
    path: [] };
  const wrong = look.faults.filter(f => f.at && !f.file && f.at.table === table.table && f.at.index === table.index).length;
  const title = table.table === '' ? 'the scenario' : [table.kind, table.name].filter(Boolean).join(' ');
  return <details open={open} onToggle={e => set_open(e.currentTarget.open)}>
    <summary>{title} <span class="note">line {table.line}{wrong > 0 && `, ${wrong} to fix`}</span></summary>
    {open && <>
      {kind?.summary && <p class="note">{kind.summary}</p>}
      {kind?.home === 'repeated' && <p><label>name <Name table={table.table} index={table.index}
        name={table.name} label={`Name of ${title}`} /></label></p>}
      <Wrong faults={faults_at(look.faults, at)} id={`wrong-${table.table}-${table.index}`} />
      {kind && <Fields kind={kind} at={at} values={table.values} kinds={kinds} faults={look.faults} joints={!look.is_house} />}
      {table.table && <div class="tools">
        {kind?.home === 'repeated' && <button type="button" onClick={() => void add_table(look, table.table, free_name(look.tables,
          table.table, table.name || table.kind), table.index)}>Copy {title}</button>}
        <button type="button" onClick={() => remove_table(table)}>Remove {title}</button>
      </div>}
    </>}
  </details>;
}

function Everything({ look, kinds }: { look: Look; kinds: Kind[] }) {
  const may = kinds.filter(k => k.table && (k.home === 'repeated' || (k.home === 'single' && !count_of(look.tables, k.table))));
  const [key, choose] = useState('zone'), kind = may.find(k => k.table === key) ?? may[0], [name, type] = useState('');
  const add = (e: Event) => {
    e.preventDefault();
    void add_table(look, kind.table, kind.home === 'repeated' ? name.trim() || free_name(look.tables, kind.table, kind.name) : '');
    type('');
  };
  return <Section title="All tables in the file">
    <p class="note">Every table with every value it can hold. A blue mark shows a value set in the file.</p>
    <div class="tables">{look.tables.map(t => <Table key={`${t.table}/${t.index}`} table={t} look={look} kinds={kinds} />)}</div>
    {kind && <form class="add" onSubmit={add}>
      <label>table <select value={kind.table} onChange={e => choose(e.currentTarget.value)}>
        {may.map(k => <option key={k.table} value={k.table}>{k.name}: {k.summary}</option>)}
      </select></label>
      {kind.home === 'repeated' && <label>name <input type="text" value={name} onInput={e => type(e.currentTarget.value)} /></label>}
      <button type="submit">Add the table</button>
    </form>}
  </Section>;
}

function TheText({ state, area }: { state: State; area: preact.RefObject<HTMLTextAreaElement> }) {
  const id = useId(), { value, onInput, onBlur } = useTyped(text_of(state), store.write);
  return <Section title="File text">
    <div class="the-text">
      <label for={id} class="note">As it will be saved. Your comments and order are kept.</label>
      <textarea id={id} ref={area} spellcheck={false} value={value} onInput={onInput} onBlur={onBlur} />
    </div>
  </Section>;
}

export function LayOut({ state }: { state: State }) {
  const kinds = useKinds(), { look, chosen } = state, area = useRef<HTMLTextAreaElement>(null);
  const to_line = (line: number) => {
    const box = area.current;
    if (!box) return;
    const lines = box.value.split('\n'), from = lines.slice(0, line - 1).reduce((sum, l) => sum + l.length + 1, 0);
    box.focus();
    box.setSelectionRange(from, from + (lines[line - 1]?.length ?? 0));
    box.scrollTop = Math.max(0, (line - 6) * parseFloat(getComputedStyle(box).lineHeight));
    box.scrollIntoView({ block: 'center' });
  };
  if (!look) return <p class="note">{state.is_looking ? 'Reading the scenario …' : ''}</p>;
  const shown = look.states?.[look.shown ?? 0];
  const picked = (id: string) => store.choose({ piece: id });
  return <div class="plain lay-out">
    <div class={`with-sheet${chosen ? ' is-open' : ''}`}>
      <div>
        <h1>Lay out</h1>
        <AllFaults faults={look.faults} tables={look.tables} to_line={to_line} />
        {look.svg && <>
          {state.is_old && <p class="note">The drawing and numbers are from the last version without errors.</p>}
          <WhoCalls look={look} state={state} />
          <div class={state.is_old ? 'is-old' : ''}>
            <Schematic svg={look.svg} chosen={chosen && 'piece' in chosen ? chosen.piece : null} onPiece={picked} />
          </div>
          <p class="note">{shown && `Flows: ${shown.words}. `}{look.crossings ? `Crossing pipes in the drawing: ${look.crossings}. `
            : ''}<span class="on-screen">Select a piece to see and change its values.</span></p>
          {shown && shown.totals.length > 0 && <Figures of={shown.totals} label="Flows in this state" />}
        </>}
        {look.findings && <Section title="Findings">
          {look.findings.length ? <Findings of={look.findings} /> : <p>No findings in the flows.</p>}
        </Section>}
        {look.is_house !== false && <Zones look={look} shown={state.is_old ? undefined : shown} kinds={kinds} />}
        {state.unknown.length > 0 && <Section title="Unknown answers">
          <details open><summary>{state.unknown.length} answers unknown; usual values assumed, marked in the text</summary>
            <ul>{state.unknown.map(u => <li key={u}>{u}</li>)}</ul>
          </details>
        </Section>}
        {look.assumptions && look.assumptions.length > 0 && <Section title="Assumed values">
          <details><summary>{look.assumptions.length} assumed values</summary>
            <div class="wide" tabIndex={0} role="group" aria-label="Assumed values"><table>
              <thead><tr>{['where', 'value', 'assumed', 'usual range', 'source'].map(h => <th scope="col" key={h}>{h}</th>)}</tr></thead>
              <tbody>{look.assumptions.map(a => <tr key={a.place + a.key}><th scope="row">{a.place}</th><td>{a.key}</td><td>{a.taken}</td>
                <td>{a.range}</td><td>{a.why}</td></tr>)}</tbody>
            </table></div>
          </details>
        </Section>}
        <Everything look={look} kinds={kinds} />
        <TheText state={state} area={area} />
      </div>
      <Sheet state={state} />
    </div>
  </div>;
}
