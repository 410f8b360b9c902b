// Watch a day: the reasons, the day over time, the piping at a moment, what happened, and sliders to argue by.

import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { full_clock } from '../../../../plots/charts/look';
import { nearest } from '../../../../plots/charts/piping';
import { EventList } from './events';
import { KnobPanel, edits_of, useKnobs, useTrial, type Turned } from './knobs';
import {
  BarChart, BeforeNow, Failed, Faults, Figures, Findings, OverTimes, Progress, Section, Unrunnable, sentence, type ViewProps,
} from './parts';
import type { OverTime } from './interface';
import { useRun } from './running';
import { Schematic } from './schematic';
import { store } from './store';
import { Why } from './why';

const speeds = { '5 min per second': 300, '15 min per second': 900, '1 h per second': 3600, '4 h per second': 14400 };

/** Plays through the run; where motion is unwelcome it goes in single steps, one a second. */
function Player({ start, end, step, moment, go, words }: {
  start: number; end: number; step: number; moment: number; go: (time: number) => void; words: string;
}) {
  const [playing, play] = useState(false), [speed, set_speed] = useState<keyof typeof speeds>('15 min per second');
  const now = useRef(moment);
  now.current = moment;
  useEffect(() => {
    if (!playing) return;
    const still = matchMedia('(prefers-reduced-motion: reduce)').matches, pause = still ? 1000 : 60;
    let last = performance.now();
    const beat = setInterval(() => {
      const t = performance.now(), next = now.current + (t - last) / 1000 * speeds[speed];
      last = t;
      go(Math.min(next, end));
      if (next >= end) play(false);
    }, pause);
    return () => clearInterval(beat);
  }, [playing, speed, end]);
  const at = full_clock(moment);
  return <div class="player">
    <button type="button" onClick={() => {
      if (!playing && moment >= end) go(start);
      play(!playing);
    }}>{playing ? 'Pause' : 'Play'}</button>
    <label>speed <select value={speed} onChange={e => set_speed(e.currentTarget.value as keyof typeof speeds)}>
      {Object.keys(speeds).map(s => <option key={s}>{s}</option>)}
    </select></label>
    <label class="moment">moment <input type="range" min={start} max={end} step={step} value={moment} aria-valuetext={`${at} ${words}`}
      onInput={e => go(e.currentTarget.valueAsNumber)} /></label>
    <p class="when"><b>{at}</b>{words && `: ${words}`}</p>
  </div>;
}

export function Watch({ engine, scenario, edit }: ViewProps) {
  const base = useRun(engine, scenario), knobs = useKnobs(engine, scenario), trial = useTrial(engine, scenario);
  const [turned, set_turned] = useState<Turned>({}), [moment, go] = useState<number | null>(null);
  useEffect(() => set_turned({}), [scenario.text, scenario.file, scenario.units]);
  const all = knobs?.knobs ?? [];
  const try_out = (next: Turned) => {
    set_turned(next);
    const edits = edits_of(all, next);
    if (edits.length) trial.move(edits);
    else trial.back();
  };
  const turn = (id: string, value: number) => {
    const next = { ...turned, [id]: value };
    if (value === all.find(k => k.id === id)?.value) delete next[id];
    try_out(next);
  };

  const is_tried = Object.keys(turned).length > 0;
  const picture = (is_tried && trial.picture) || base.run; // a trial may have faults: then the last good pictures stay
  const full = is_tried && trial.full && !trial.full.faults.length ? trial.full : base.run;
  const over_time = (is_tried ? trial.so_far : base.busy ? base.so_far : undefined) ?? picture?.over_time ?? base.run?.over_time;
  const tables = useMemo(() => over_time ? [over_time] : [], [over_time]);
  const end_of = (table?: OverTime) => table ? table.start + table.bins * table.step : 0;
  const start = over_time?.start ?? 0, end = end_of(base.run?.over_time) || end_of(over_time);
  const moments = full?.repaintings?.moments ?? [];
  const chosen = moment ?? moments[Math.floor(moments.length / 2)]?.time ?? start;
  const at = moments.length ? moments[nearest(full!.repaintings!, chosen)] : undefined;

  if (base.run?.faults.length) return <Unrunnable title="Watch a day" faults={base.run.faults} />;
  return <div class="view watch">
    <header>
      <h1 class="unseen">Watch a day</h1>
      {base.busy && <Progress share={base.share} what="Running the scenario" stop={base.stop} />}
      {base.failed && <Failed failed={base.failed} again={base.again} />}
      {picture?.incomplete && <p class="alarm">Run stopped early: {picture.incomplete}</p>}
      {picture?.faults.length
        ? <Faults faults={picture.faults} />
        : picture?.reasons?.map(why => <p class="answer" key={why}>{sentence(why)}</p>)}
      {picture?.key && <Figures of={picture.key} label="Key figures" />}
    </header>

    {over_time && <>
      <div class="bench">
        {all.length > 0 && <aside aria-label="What if">
          <h2>What if</h2>
          <KnobPanel knobs={all} turned={turned} turn={turn} keep={() => edit(edits_of(all, turned))} back={() => try_out({})} />
          <p class="note" role="status">{trial.busy ? 'calculating …' : (is_tried && trial.picture?.quick) || ''}</p>
          {trial.failed && <Failed failed={trial.failed} />}
          {is_tried && base.run?.key && picture?.key &&
            <BeforeNow before={base.run.key} now={picture.key} caption="What the change does" />}
        </aside>}
        <section aria-label="Over time">
          <h2>Burner, water and rooms over time</h2>
          <OverTimes tables={tables} moment={chosen} until={end} onMoment={go} />
        </section>
      </div>
    </>}

    {full?.svg && over_time && <Section title="The piping at a moment">
      <Player start={start} end={end} step={over_time.step} moment={chosen} go={go} words={at?.words ?? ''} />
      <div class="piping-and-events">
        <Schematic svg={full.svg} repaintings={full.repaintings} moment={chosen} />
        {full.events && <div class="happened">
          <h3>What happened</h3>
          <EventList events={full.events} zones={full.zones?.map(z => z.name) ?? []} left_out={full.events_left_out ?? 0}
            moment={chosen} go={go} />
        </div>}
      </div>
    </Section>}

    {full?.why?.length ? <Section title="Why does it short-cycle?"><Why steps={full.why} /></Section> : null}
    {full?.findings?.length ? <Section title="Findings"><Findings of={full.findings} /></Section> : null}
    {full?.burns && <Section title="How long the burns were"><BarChart table={full.burns} /></Section>}
    {full?.zones?.length ? <Section title="Rooms and zones">
      <div class="wide" tabIndex={0} role="group" aria-label="Rooms and zones"><table class="numbers">
        <thead><tr><th scope="col">zone</th>{full.zones[0].figures.map(f => <th scope="col" key={f.name}>{f.name}</th>)}</tr></thead>
        <tbody>{full.zones.map(z => <tr key={z.name}>
          <th scope="row">{z.name}</th>{z.figures.map(f => <td key={f.name}>{f.words}</td>)}
        </tr>)}</tbody>
      </table></div>
    </Section> : null}
    {full?.heat && <Section title="Heat by zone"><BarChart table={full.heat} /></Section>}
    {full?.energy?.length ? <Section title="Energy"><Figures of={full.energy} label="Energy" /></Section> : null}
    {full?.cautions?.filter(c => c !== store.state().description?.caution).map(c => <p class="note" key={c}>{c}</p>)}
  </div>;
}
