// Small pieces that several views show.

import './views.css';
import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import { bar_chart, type Bars } from '../../../../plots/charts/bars';
import { time_charts, type TimeCharts } from '../../../../plots/charts/time';
import type { Edit, Engine, Fault, Finding, OverTime, Scenario, Shown } from './interface';

/** What every view is given. */
export interface ViewProps {
  engine: Engine;
  /** The text as it is edited now. */
  scenario: Scenario;
  /** Edits the text, as one step that can be undone. */
  edit: (edits: Edit[]) => void;
}

const ended = (words: string) => /[.!?]$/.test(words) ? words : words + '.';
export const sentence = (words: string) => ended(words.charAt(0).toUpperCase() + words.slice(1));

/** As the command line lists them: how much it matters, where, what, and what to do. */
export const Findings = ({ of }: { of: Finding[] }) => <ul class="findings">
  {of.map(f => <li key={f.id + f.place} class={`is-${f.weight}`}>
    <p><span class="weight">{f.weight}</span> <b>{f.place}:</b> {ended(f.words)}</p>
    {f.remedy && <p class="remedy"><b>Fix:</b> {ended(f.remedy)}</p>}
  </li>)}
</ul>;

export function Figures({ of, label }: { of: Shown[]; label: string }) {
  return <dl class="figures" aria-label={label}>{of.map(({ name, words }) => <div key={name}><dt>{name}</dt><dd>{words}</dd></div>)}</dl>;
}

/** Figures before and after, with what differs marked in words. */
export function BeforeNow({ before, now, caption }: { before: Shown[]; now: Shown[]; caption: string }) {
  return <div class="wide" tabIndex={0} role="group" aria-label={caption}>
    <table class="numbers before-now">
      <caption>{caption}</caption>
      <thead><tr><td /><th scope="col">before</th><th scope="col">after</th></tr></thead>
      <tbody>{now.map(({ name, words }) => {
        const was = before.find(b => b.name === name)?.words ?? '–', differs = was !== words;
        return <tr key={name} class={differs ? 'differs' : ''}>
          <th scope="row">{name}</th><td>{was}</td>
          <td>{words}{differs && <span class="mark"> <span aria-hidden="true">◂</span><span class="unseen">changed</span></span>}</td>
        </tr>;
      })}</tbody>
    </table>
  </div>;
}

export function Progress({ share, what, stop }: { share: number; what: string; stop?: () => void }) {
  return <div class="progress" role="status">
    <label>{what} <progress value={share} max={1} aria-label={what} /> <span class="share">{Math.round(share * 100)}%</span></label>
    {stop && <button type="button" onClick={stop}>Stop</button>}
  </div>;
}

export function Faults({ faults }: { faults: Fault[] }) {
  return <div role="alert"><ul class="faults">{faults.map((f, i) => <li key={i}>
    <p><b>{f.code}</b> {f.line > 0 && <>line {f.line}: </>}{f.message}</p>
    {f.expected && <p class="note">expected {f.expected}</p>}
    {f.hint && <p class="note">{f.hint}</p>}
  </li>)}</ul></div>;
}

export function Failed({ failed, again }: { failed: { words: string; hint: string }; again?: () => void }) {
  return <div class="failed" role="alert">
    <p class="alarm">{failed.words}</p>
    {failed.hint && <p class="note">{failed.hint}</p>}
    {again && <button type="button" onClick={again}>Run again</button>}
  </div>;
}

/** Panels over time; `tables` of several runs stand side by side. New values are drawn in place where they can. */
export function OverTimes({ tables, names = [], moment = null, until, onMoment }: {
  tables: OverTime[]; names?: string[]; moment?: number | null; until?: number; onMoment?: (time: number) => void;
}) {
  const tools = useRef<HTMLDivElement>(null), places = useRef<(HTMLDivElement | null)[]>([]);
  const charts = useRef<TimeCharts>(), choose = useRef(onMoment);
  choose.current = onMoment;
  const title = names.join('\n');
  const drawn_title = useRef(title);
  useLayoutEffect(() => {
    if (!tables.length || !tables.every(t => t.panels.length)) return;
    if (charts.current && drawn_title.current === title && charts.current.update(tables, until)) return;
    charts.current?.destroy();
    drawn_title.current = title;
    charts.current = time_charts(tools.current!, places.current.slice(0, tables.length) as HTMLElement[], tables,
                                 { choose: time => choose.current?.(time), names, until });
    charts.current.mark(moment);
  }, [tables, title]);
  useEffect(() => charts.current?.mark(moment), [moment, tables]);
  useEffect(() => () => charts.current?.destroy(), []);
  return <div class="over-time">
    <div ref={tools} />
    <div class={tables.length > 1 ? 'side-by-side' : ''}>
      {tables.map((_, i) => <div key={i}>
        {names[i] && <h3>{names[i]}</h3>}
        <div class="chart" ref={el => { places.current[i] = el; }} />
      </div>)}
    </div>
    <p class="note">Lines are averages. Pale bands show the lowest and highest in each interval. Drag to zoom in; double-click to show
      all. Select a name to show or hide its line.</p>
  </div>;
}

export function BarChart({ table }: { table: Bars }) {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const chart = bar_chart(place.current!, table);
    return () => chart.destroy();
  }, [table]);
  return <div class="chart" ref={place} />;
}

/** A scenario that cannot run. */
export const Unrunnable = ({ title, faults }: { title: string; faults: Fault[] }) => <div class="view">
  <h1>{title}</h1><p>The scenario cannot run yet. Fix these errors in Lay out:</p><Faults faults={faults} />
</div>;

/** Units as they are printed, where a scenario would spell them: "68 degF" is "68 °F", and so are differences of temperatures. */
export const printed = (words: string) => words.replace(/\bdeg([CF])\b/g, '°$1').replace(/(^|\d )K(?![\w.])/g, '$1°C')
  .replaceAll('inH2O', 'in. w.c.').replace(/\b(ft|m)2\b/g, '$1²').replace(/\b(ft|m)3\b/g, '$1³')
  .replace(/(?<![\w²³°])(h|K|kg|lb|ft|ft²|ft³|m|m²|m³|°F)\.(?=[A-Za-z°])/g, '$1·').replaceAll('K·', '°C·').replace(/(\d) %/g, '$1%');
export const with_unit = (number: string, unit: string) => number + (unit === '%' ? '%' : unit && ' ' + printed(unit));

/** A choice of a few that exclude each other. */
export function Choice<T extends string>({ label, of, now, take }: { label: string; of: readonly T[]; now: T; take: (one: T) => void }) {
  return <div class="choice" role="group" aria-label={label}>
    {of.map(one => <button key={one} type="button" aria-pressed={one === now} onClick={() => take(one)}>{one}</button>)}
  </div>;
}

export const Section = ({ title, children, id }: { title: string; children: ComponentChildren; id?: string }) =>
  <section aria-label={title} id={id}><h2>{title}</h2>{children}</section>;
