// What trainers argue about, as sliders: turned values are tried at once and kept in the scenario only on request.

import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Edit, Engine, Knob, Knobs, OverTime, Run, Scenario } from './interface';
import { printed, with_unit } from './parts';
import { Follower, is_abort, told } from './running';

export function useKnobs(engine: Engine, scenario: Scenario): Knobs | undefined {
  const [knobs, set] = useState<Knobs>();
  useEffect(() => {
    const mine = new AbortController();
    engine.ask('knobs', { ...scenario }, undefined, mine.signal)
      .then(answer => { if (!mine.signal.aborted) set(answer); })
      .catch(() => { if (!mine.signal.aborted) set(undefined); });
    return () => mine.abort();
  }, [engine, scenario.text, scenario.file, scenario.units]);
  return knobs;
}

/** Tried changes of a scenario, and what they would do. */
export interface Trial {
  /** The newest picture, quick or full; absent where nothing is tried. */
  picture?: Run;
  /** The newest full run of the tried changes. */
  full?: Run;
  so_far?: OverTime;
  busy: boolean;
  share: number;
  failed?: { words: string; hint: string };
  move: (edits: Edit[]) => void;
  stop: () => void;
  /** Forgets what was tried. */
  back: () => void;
}

export function useTrial(engine: Engine, scenario: Scenario): Trial {
  const none: Omit<Trial, 'move' | 'stop' | 'back'> = { busy: false, share: 0 };
  const [state, set] = useState(none);
  const follower = useMemo(() => new Follower(engine, {
    picture: (run, quick) => set(was => ({ ...was, picture: run, full: quick ? was.full : run, so_far: undefined, failed: undefined })),
    so_far: (so_far, share) => set(was => ({ ...was, so_far, share })),
    busy: busy => set(was => was.busy === busy ? was : { ...was, busy, share: 0 }),
    failed: e => set(was => is_abort(e) ? was : { ...was, so_far: undefined, failed: told(e) }),
  }), [engine]);
  const back = () => {
    follower.stop();
    set(none);
  };
  useEffect(() => back, [follower, scenario.text, scenario.file, scenario.units]);
  return { ...state, back, stop: () => follower.stop(), move: edits => follower.move({ ...scenario, edits }) };
}

const digits = (step: number) => Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));
/** As a scenario says it, and as it is shown. */
export const written = (knob: Knob, value: number) => `${value.toFixed(digits(knob.step))}${knob.unit && ' ' + knob.unit}`;
export const shown = (knob: Knob, value: number) => with_unit(value.toFixed(digits(knob.step)), knob.unit);
export type Turned = Record<string, number>;
export const edits_of = (knobs: Knob[], turned: Turned): Edit[] =>
  knobs.filter(k => turned[k.id] != null).map(k => ({ do: 'set', at: k.at, value: written(k, turned[k.id]) }));

/** One slider with its number. */
export function KnobSlider({ knob, value, turn }: { knob: Knob; value: number; turn: (value: number) => void }) {
  const words = shown(knob, value), [typed, type] = useState<string>();
  const fits = (text: string) => !!text.trim() && Number(text) >= knob.least && Number(text) <= knob.most;
  const take = (text: string) => {
    type(text);
    if (fits(text)) turn(Number(text));
  };
  return <div class={`knob${value === knob.value ? '' : ' turned'}`}>
    <label for={`knob-${knob.id}`}>{knob.label}</label>
    <input id={`knob-${knob.id}`} type="range" min={knob.least} max={knob.most} step={knob.step} value={value} disabled={!!knob.barred}
      aria-valuetext={words} aria-describedby={knob.barred ? `barred-${knob.id}` : undefined}
      onInput={e => { type(undefined), turn(e.currentTarget.valueAsNumber); }} />
    <span class="value">
      <input type="number" aria-label={`${knob.label}${knob.unit && ` in ${printed(knob.unit)}`}`}
        min={knob.least} max={knob.most} step="any" value={typed ?? value.toFixed(digits(knob.step))}
        disabled={!!knob.barred} aria-invalid={typed != null && !fits(typed)}
        onInput={e => take(e.currentTarget.value)}
        onBlur={() => type(undefined)} /> {printed(knob.unit)}
    </span>
    {knob.barred && <p class="note" id={`barred-${knob.id}`}>{knob.barred}</p>}
  </div>;
}

/** What is tried but not in the scenario yet. */
export function NotKept({ words, keep, back }: { words: string[]; keep: () => void; back: () => void }) {
  const heard = useRef<HTMLParagraphElement>(null);
  return <div class="not-kept">
    <p ref={heard} role="status">{words.length ? <>Not saved in the scenario yet: {words.join('; ')}.</> : 'No changes.'}</p>
    <button type="button" disabled={!words.length} onClick={keep}>Keep changes</button>
    <button type="button" disabled={!words.length} onClick={back}>Undo changes</button>
  </div>;
}
export const words_of = (knobs: Knob[], turned: Turned) =>
  knobs.filter(k => turned[k.id] != null).map(k => `${k.label} ${shown(k, k.value)} → ${shown(k, turned[k.id])}`);

export function KnobPanel({ knobs, turned, turn, keep, back }: {
  knobs: Knob[]; turned: Turned; turn: (id: string, value: number) => void; keep: () => void; back: () => void;
}) {
  return <div class="knobs">
    {knobs.map(k => <KnobSlider key={k.id} knob={k} value={turned[k.id] ?? k.value} turn={value => turn(k.id, value)} />)}
    <NotKept words={words_of(knobs, turned)} keep={keep} back={back} />
  </div>;
}
