// Runs of a scenario: what was run is kept for a while, and of values that follow each other fast only the newest counts.

import { useEffect, useRef, useState } from 'preact/hooks';
import { AskFailed, type Engine, type OverTime, type Run, type RunRequest, type Scenario } from './interface';

const kept = new Map<string, Run>();
const most_kept = 8;
const key_of = ({ text, file, units }: Scenario) => JSON.stringify([units, file, text]);
function keep(scenario: Scenario, run: Run): void {
  kept.delete(key_of(scenario));
  kept.set(key_of(scenario), run);
  if (kept.size > most_kept) kept.delete(kept.keys().next().value!);
}

export interface Running {
  run?: Run;
  /** What has been marched so far, until the run is there. */
  so_far?: OverTime;
  share: number;
  busy: boolean;
  /** Why there is no run. */
  failed?: { words: string; hint: string };
  stop: () => void;
  again: () => void;
}

export const is_abort = (e: unknown) => e instanceof DOMException && e.name === 'AbortError';
export const told = (e: unknown) => e instanceof AskFailed ? { words: e.message, hint: e.hint } : { words: String(e), hint: '' };

/** The full run of a scenario, begun as soon as it is asked for. */
export function useRun(engine: Engine, scenario: Scenario): Running {
  const [state, set] = useState<Omit<Running, 'stop' | 'again'>>({ share: 0, busy: true });
  const [times, set_times] = useState(0);
  const stopper = useRef<AbortController>();
  useEffect(() => {
    const known = kept.get(key_of(scenario));
    if (known) return set({ run: known, share: 1, busy: false });
    const mine = stopper.current = new AbortController();
    set(was => ({ run: was.run, share: 0, busy: true }));
    engine.ask('run', { ...scenario }, part => {
      if (!mine.signal.aborted) set(was => ({ ...was, share: part.share, so_far: part.over_time ?? was.so_far }));
    }, mine.signal).then(run => {
      if (mine.signal.aborted) return;
      if (!run.faults.length) keep(scenario, run);
      set({ run, share: 1, busy: false });
    }).catch(e => {
      if (mine !== stopper.current) return;
      set({ share: 0, busy: false, failed: is_abort(e) || mine.signal.aborted ? { words: 'Run stopped.', hint: '' } : told(e) });
    });
    return () => {
      if (stopper.current === mine) stopper.current = undefined;
      mine.abort();
    };
  }, [engine, scenario.text, scenario.file, scenario.units, times]);
  return { ...state, stop: () => stopper.current?.abort(), again: () => set_times(n => n + 1) };
}

/** Quick runs while something is moved, a full run after rest: an answer never replaces that of a later question. */
export class Follower {
  private running?: { stopper: AbortController; began: number; quick: boolean };
  private next?: { request: RunRequest; moved: number };
  private last_picture = 0;
  private timer?: ReturnType<typeof setTimeout>;

  constructor(private engine: Engine, private hear: {
    picture: (run: Run, quick: boolean) => void;
    so_far: (over_time: OverTime, share: number) => void;
    busy: (busy: boolean) => void;
    failed: (e: unknown) => void;
  }) {}

  /** A new value: what runs for an older one is stopped. But where values come faster than pictures, one may take a second. */
  move(request: RunRequest): void {
    const moved = performance.now(), patience = 1000, running = this.running;
    performance.mark('steadyfire:move');
    clearTimeout(this.timer);
    const left = running?.quick && moved - this.last_picture > 250 ? running.began + patience - moved : 0;
    if (left <= 0) return this.start(request, moved, true);
    this.next = { request, moved };
    this.timer = setTimeout(() => this.start(request, moved, true), left);
  }
  stop(): void {
    clearTimeout(this.timer);
    this.next = undefined;
    this.running?.stopper.abort();
    this.running = undefined;
    this.hear.busy(false);
  }

  private start(request: RunRequest, moved: number, quick: boolean): void {
    clearTimeout(this.timer);
    this.running?.stopper.abort();
    this.next = undefined;
    const stopper = new AbortController(), mine = this.running = { stopper, began: performance.now(), quick };
    this.hear.busy(true);
    let is_first = quick;
    this.engine.ask('run', quick ? { ...request, quick } : request, part => {
      const is_slow = performance.now() - mine.began > 90; // else the picture itself is near, and drawing parts would delay it
      if (!is_slow || stopper.signal.aborted || !part.over_time) return;
      this.hear.so_far(part.over_time, part.share);
      if (is_first) requestAnimationFrame(() => performance.measure('steadyfire:first picture', { start: moved, end: performance.now() }));
      is_first = false;
    }, stopper.signal).then(run => {
      if (stopper.signal.aborted) return;
      if (!quick && !run.faults.length) keep({ ...request, text: run.text }, run);
      this.hear.picture(run, quick);
      if (!quick) return;
      requestAnimationFrame(() => {
        this.last_picture = performance.now();
        performance.measure('steadyfire:picture', { start: moved, end: this.last_picture });
      });
      if (!this.next) this.timer = setTimeout(() => this.start(request, moved, false), 500); // at rest: the full run
    }).catch(e => {
      if (!stopper.signal.aborted && !is_abort(e)) this.hear.failed(e);
    }).finally(() => {
      if (this.running !== mine) return;
      this.running = undefined;
      if (this.next) this.start(this.next.request, this.next.moved, true);
      else this.hear.busy(false);
    });
  }
}
