// Compare: any number of variants of a scenario on the same axes, in words and in a table to paste.

import { useEffect, useRef, useState } from 'preact/hooks';
import type { Comparison, Knob } from './interface';
import { shown, useKnobs, written } from './knobs';
import { Failed, Faults, OverTimes, Progress, Section, printed, type ViewProps } from './parts';
import { is_abort, told, useRun } from './running';
import { useVariants, variants } from './variants';
import { Why } from './why';

/** A knob and a value make a variant of the current text. */
function AddChange({ knobs, add }: { knobs: Knob[]; add: (knob: Knob, value: number) => void }) {
  const [id, choose] = useState(knobs[0].id), knob = knobs.find(k => k.id === id) ?? knobs[0];
  const [typed, type] = useState(''), value = typed.trim() ? Number(typed) : NaN;
  const fits = value >= knob.least && value <= knob.most;
  return <form class="add-change" onSubmit={e => { e.preventDefault(), fits && (add(knob, value), type('')); }}>
    <label>change <select value={knob.id} onChange={e => { choose(e.currentTarget.value), type(''); }}>
      {knobs.map(k => <option key={k.id} value={k.id}>{k.label}, now {shown(k, k.value)}</option>)}
    </select></label>
    <label>to{knob.unit && ` (${printed(knob.unit)})`} <input type="number" step="any" min={knob.least} max={knob.most} value={typed}
      placeholder={`${knob.least} to ${knob.most}`} onInput={e => type(e.currentTarget.value)} /></label>
    <button type="submit" disabled={!fits}>Add a variant with this change</button>
  </form>;
}

export function ComparisonTable({ comparison, names }: { comparison: Comparison; names: string[] }) {
  return <div class="wide" tabIndex={0} role="group" aria-label="Numbers of all variants"><table class="numbers">
    <thead><tr><td />{names.map((n, i) => <th scope="col" key={i}>{n}</th>)}</tr></thead>
    <tbody>{comparison.rows.map(row => <tr key={row.what}>
      <th scope="row">{row.what}</th>
      {row.values.map((v, i) => <td key={i}>{v}{row.differences[i] && <span class="differs-by">{row.differences[i]}</span>}</td>)}
    </tr>)}</tbody>
  </table></div>;
}

/** Copies, or where the browser refuses shows the text to copy. */
function CopyTable({ table }: { table: string }) {
  const [said, say] = useState(''), [by_hand, set_by_hand] = useState(false), area = useRef<HTMLTextAreaElement>(null);
  useEffect(() => { if (by_hand) area.current?.select(); }, [by_hand]);
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(table);
      say('Table copied. Paste it into a spreadsheet or an email.');
    } catch {
      say('The browser does not allow copying. Copy the table from here.');
      set_by_hand(true);
    }
  };
  return <div class="copied">
    <button type="button" onClick={copy}>Copy the table</button> <span role="status">{said}</span>
    {by_hand && <textarea ref={area} readOnly rows={8} aria-label="The table to copy" value={table} />}
  </div>;
}

/** The arithmetic behind the starts of the scenario as it is now. */
function WhyNow({ engine, scenario }: Pick<ViewProps, 'engine' | 'scenario'>) {
  const { run, busy, share, stop, failed, again } = useRun(engine, scenario);
  if (busy) return <Progress share={share} what="Running the scenario" stop={stop} />;
  if (failed) return <Failed failed={failed} again={again} />;
  if (run?.faults.length) return <Faults faults={run.faults} />;
  return run?.why?.length ? <Why steps={run.why} /> : <p>The burner does not short-cycle in this run.</p>;
}

export function Compare({ engine, scenario }: ViewProps) {
  const { list, comparison, compared } = useVariants(), knobs = useKnobs(engine, scenario);
  const [share, set_share] = useState<number>(), [failed, fail] = useState<{ words: string; hint: string }>();
  const [moment, go] = useState<number | null>(null);
  const [asked_why, ask_why] = useState(false);
  const stopper = useRef<AbortController>();
  useEffect(() => () => stopper.current?.abort(), []);

  const compare = async () => {
    stopper.current?.abort();
    const mine = stopper.current = new AbortController(), asked = list;
    fail(undefined), set_share(0);
    try {
      const request = { units: scenario.units, variants: asked.map(({ name, text, file }) => ({ name, text, file })) };
      const answer = await engine.ask('compare', request, part => { if (!mine.signal.aborted) set_share(part.share); }, mine.signal);
      if (!mine.signal.aborted) variants.compared(answer, asked);
    } catch (e) {
      if (stopper.current === mine) fail(is_abort(e) || mine.signal.aborted ? { words: 'Comparison stopped.', hint: '' } : told(e));
    } finally {
      if (stopper.current === mine) set_share(undefined);
    }
  };
  const add_now = () => variants.add(list.length ? `variant ${list.length + 1}` : 'as it is', scenario.text, scenario.file);
  const add_change = async (knob: Knob, value: number) => {
    try {
      if (!list.length) variants.add('as it is', scenario.text, scenario.file);
      const edited = await engine.ask('edit', { ...scenario, edits: [{ do: 'set', at: knob.at, value: written(knob, value) }] });
      variants.add(`${knob.label} ${shown(knob, value)}`, edited.text, scenario.file);
    } catch (e) {
      fail(told(e));
    }
  };
  const free = knobs?.knobs.filter(k => !k.barred) ?? [];
  const names = compared?.map(v => v.name) ?? [], is_old = comparison && compared !== list;
  return <div class="view compare">
    <h1>Compare</h1>
    <Section title="Variants">
      {!list.length && <p>A variant is a copy of the scenario. Add it as it is now, change one thing, and add it again.</p>}
      <ul class="variants">{list.map((v, i) => <li key={v.id}>
        <span>{i + 1}</span>
        <input type="text" aria-label={`Name of variant ${i + 1}`} value={v.name}
          onInput={e => variants.rename(v.id, e.currentTarget.value)} />
        <button type="button" aria-label={`Remove ${v.name}`} onClick={() => variants.remove(v.id)}>Remove</button>
      </li>)}</ul>
      <div class="tools">
        <button type="button" onClick={add_now}>Add the scenario as it is now</button>
        <button type="button" class="main" disabled={list.length < 2 || share != null} onClick={compare}>Compare the variants</button>
      </div>
      {free.length > 0 && <AddChange knobs={free} add={add_change} />}
      {share != null && <Progress share={share} what="Running the variants" stop={() => stopper.current?.abort()} />}
      {failed && <Failed failed={failed} />}
      {is_old && share == null && <p class="note" role="status">The list of variants changed. Compare again to update the numbers.</p>}
    </Section>
    {comparison && (comparison.faults.length ? <Faults faults={comparison.faults} /> : <>
      <Section title="What differs">
        <ul class="differences">{comparison.words.map(w => <li key={w}>{w}</li>)}</ul>
        {comparison.changes.length > 0 && <div class="wide" tabIndex={0} role="group" aria-label="What differs in the scenarios"><table>
          <thead><tr><th scope="col">in the scenario</th>{names.map((n, i) => <th scope="col" key={i}>{n}</th>)}</tr></thead>
          <tbody>{comparison.changes.map(c => <tr key={c.what}>
            <th scope="row">{c.what}</th>{c.values.map((v, i) => <td key={i}>{v}</td>)}
          </tr>)}</tbody>
        </table></div>}
      </Section>
      <Section title="In numbers">
        <ComparisonTable comparison={comparison} names={names} />
        <CopyTable table={comparison.table} />
      </Section>
      <Section title="Side by side over time">
        <OverTimes tables={comparison.over_time} names={names} moment={moment} onMoment={go} />
      </Section>
    </>)}
    <Section title="Why does it short-cycle?">
      {asked_why
        ? <WhyNow engine={engine} scenario={scenario} />
        : <button type="button" onClick={() => ask_why(true)}>Show the arithmetic for the scenario as it is now</button>}
    </Section>
  </div>;
}
