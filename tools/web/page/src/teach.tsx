// Teach: the case's own run as screens for a projector, one idea each.

import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { ComparisonTable } from './compare';
import type { Knob, OverTime, Run } from './interface';
import { KnobSlider, edits_of, useKnobs, useTrial, words_of, type Trial, type Turned } from './knobs';
import { Failed, Faults, Figures, OverTimes, Progress, Unrunnable, sentence, type ViewProps } from './parts';
import { useRun } from './running';
import { Schematic } from './schematic';
import { useVariants } from './variants';

interface Screen {
  title: string;
  show: () => ComponentChildren;
}
const of_looks = (table: OverTime, ...looks: string[]): OverTime =>
  ({ ...table, panels: table.panels.filter(p => looks.includes(p.look)) });

/** One knob to turn in front of the class, with what it does to the starts. */
function Turn({ knobs, base, trial, turned, take }: {
  knobs: Knob[]; base: Run; trial: Trial; turned: Turned; take: (turned: Turned) => void;
}) {
  const [id, choose] = useState(Object.keys(turned)[0] ?? knobs[0].id), knob = knobs.find(k => k.id === id) ?? knobs[0];
  const is_tried = Object.keys(turned).length > 0, picture = (is_tried && trial.picture) || base;
  const over_time = (is_tried && trial.so_far) || (picture.over_time ?? base.over_time);
  const tables = useMemo(() => over_time ? [of_looks(over_time, 'band')] : [], [over_time]);
  const whole = base.over_time, [first] = base.key ?? [];
  return <>
    <p><label>change <select value={knob.id} onChange={e => { choose(e.currentTarget.value), take({}); }}>
      {knobs.map(k => <option key={k.id} value={k.id}>{k.label}</option>)}
    </select></label></p>
    <KnobSlider key={knob.id} knob={knob} value={turned[knob.id] ?? knob.value}
      turn={value => take(value === knob.value ? {} : { [knob.id]: value })} />
    {first && <p class="effect" role="status">
      <span>{first.name} before <b>{first.words}</b></span>
      <span>after <b>{picture.key?.find(k => k.name === first.name)?.words ?? '…'}</b></span>
      <span class="note">{words_of(knobs, turned).join(', ') || 'no change yet'}{trial.busy && ', calculating …'}</span>
    </p>}
    {trial.failed && <Failed failed={trial.failed} />}
    {picture.faults.length > 0 && <Faults faults={picture.faults} />}
    <OverTimes tables={tables} until={whole && whole.start + whole.bins * whole.step} />
  </>;
}

export function Teach({ engine, scenario }: ViewProps) {
  const base = useRun(engine, scenario), knobs = useKnobs(engine, scenario), trial = useTrial(engine, scenario);
  const { comparison, compared } = useVariants();
  const [turned, set_turned] = useState<Turned>({}), [at, go] = useState(0);
  const stage = useRef<HTMLDivElement>(null);
  useEffect(() => { set_turned({}), go(0); }, [scenario.text, scenario.file, scenario.units]);
  useEffect(() => { // charts and words grow together
    const root = document.documentElement, was = root.style.fontSize;
    root.style.fontSize = innerWidth < 700 ? '112%' : '140%';
    return () => { root.style.fontSize = was; };
  }, []);

  const run = base.run, free = knobs?.knobs.filter(k => !k.barred) ?? [];
  const over_time = run?.over_time, day = useMemo(() => over_time ? [of_looks(over_time, 'band', 'steps')] : [], [over_time]);
  const take = (next: Turned) => {
    set_turned(next);
    const edits = edits_of(free, next);
    if (edits.length) trial.move(edits);
    else trial.back();
  };
  const screens: Screen[] = [];
  if (run && !run.faults.length) {
    if (run.svg) screens.push({ title: run.title ?? 'The house', show: () => <Schematic svg={run.svg!} repaintings={run.repaintings} /> });
    screens.push({ title: 'What will the burner do?', show: () => <>
      <p class="answer">How often does it start in this run? How long is a burn? Is that too often?</p>
      <p class="answer">Write down your guess. The next screen shows it.</p>
    </> });
    if (day.length) {
      screens.push({ title: 'What the burner did', show: () => <>
        {run.key && <Figures of={run.key.slice(0, 3)} label="What the burner did" />}
        <OverTimes tables={day} />
      </> });
    }
    run.why?.forEach((step, i) => screens.push({ title: step.title, show: () => <>
      <p class="note">Why: step {i + 1} of {run.why!.length}</p>
      <p class="answer">{step.words}</p>
      {step.sum && <p class="sum">{step.sum}</p>}
    </> }));
    if (free.length) {
      screens.push({ title: 'Change one thing', show: () => <Turn knobs={free} base={run} trial={trial} turned={turned} take={take} /> });
    }
    if (comparison && !comparison.faults.length && compared) {
      screens.push({ title: 'What helps', show: () => <ComparisonTable comparison={comparison} names={compared.map(v => v.name)} /> });
    }
    screens.push({ title: 'What to remember', show: () => run.reasons?.map(r => <p class="answer" key={r}>{sentence(r)}</p>) });
  }
  const last = Math.max(0, screens.length - 1), k = Math.min(at, last), screen = screens[k];
  const move = (by: number) => go(was => Math.min(Math.max(Math.min(was, last) + by, 0), last)); // keys may come faster than pictures

  useEffect(() => {
    const key = (e: KeyboardEvent) => {
      const on = e.target as Element;
      if (e.altKey || e.ctrlKey || e.metaKey || on.closest('input, select, textarea, .panel, [role=listbox]')) return;
      if (e.key === ' ' && on.closest('button, a, summary, [role=button]')) return;
      if (on.closest('nav, header') && !on.closest('.slides') && e.key.startsWith('Arrow')) return;
      const by = { ArrowRight: 1, PageDown: 1, ' ': e.shiftKey ? -1 : 1, ArrowLeft: -1, PageUp: -1, Home: -last, End: last }[e.key];
      if (by == null) return;
      e.preventDefault();
      move(by);
    };
    addEventListener('keydown', key);
    return () => removeEventListener('keydown', key);
  }, [last]);

  if (run?.faults.length) return <Unrunnable title="Teach" faults={run.faults} />;
  return <div class="view slides" ref={stage}>
    {base.busy && <Progress share={base.share} what="Running the scenario" stop={base.stop} />}
    {base.failed && <Failed failed={base.failed} again={base.again} />}
    {screen && <>
      <section class="slide" key={k} aria-label={`Screen ${k + 1} of ${screens.length}`} aria-live="polite">
        <h1>{screen.title}</h1>
        {screen.show()}
      </section>
      <nav aria-label="Screens">
        <button type="button" disabled={k === 0} onClick={() => move(-1)}>Back</button>
        <button type="button" disabled={k === last} onClick={() => move(1)}>Next</button>
        <button type="button" onClick={e => {
          e.currentTarget.blur(); // else the space key would leave full screen again
          void (document.fullscreenElement ? document.exitFullscreen() : stage.current?.requestFullscreen());
        }}>Full screen</button>
        <span class="number">{k + 1} of {screens.length}</span>
      </nav>
    </>}
  </div>;
}
