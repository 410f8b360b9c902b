// Each start, stop and reason of a run; the row at the moment is marked and stays in sight.

import { memo } from 'preact/compat';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Event as Happening } from './interface';
import { Choice } from './parts';

const Rows = memo(({ events, take }: { events: Happening[]; take: (i: number) => void }) => <>
  {events.map((e, i) => <li key={i} id={`event-${i}`} role="option" aria-selected="false" onClick={() => take(i)}>
    <span class="clock">{e.clock}</span> <b>{e.place}:</b> {e.why || e.what}
  </li>)}
</>);

export function EventList({ events, zones, left_out, moment, go }: {
  events: Happening[]; zones: string[]; left_out: number; moment: number | null; go: (time: number) => void;
}) {
  const [filter, set_filter] = useState<'all' | 'burner' | 'zones'>('all');
  const shown = useMemo(() => {
    const of_zone = (e: Happening) => zones.some(z => e.place === z || e.place.startsWith(z + '/'));
    return filter === 'all' ? events : events.filter(e => of_zone(e) === (filter === 'zones'));
  }, [events, zones.join('\n'), filter]);
  const list = useRef<HTMLUListElement>(null), row = useRef<Element>(), goes = useRef(go), asked = useRef<number>();
  goes.current = go;
  const take = useMemo(() => (i: number) => {
    asked.current = i;
    if (shown[i]) goes.current(shown[i].time);
  }, [shown]);

  // The last that had happened by then; of several at one moment the one asked for.
  const at = useMemo(() => {
    if (moment == null) return -1;
    if (asked.current != null && shown[asked.current]?.time === moment) return asked.current;
    let low = -1, high = shown.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (shown[middle].time <= moment) low = middle;
      else high = middle;
    }
    return low;
  }, [shown, moment]);
  useEffect(() => {
    row.current?.setAttribute('aria-selected', 'false');
    const box = list.current!, now = row.current = box.children[at];
    if (!now) return box.removeAttribute('aria-activedescendant');
    now.setAttribute('aria-selected', 'true');
    box.setAttribute('aria-activedescendant', now.id);
    const top = (now as HTMLElement).offsetTop;
    if (top < box.scrollTop || top > box.scrollTop + box.clientHeight - 40) box.scrollTop = top - box.clientHeight / 3;
  }, [at, shown]);
  const key = (e: KeyboardEvent) => {
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, PageDown: at + 10, PageUp: at - 10, Home: 0, End: shown.length - 1 }[e.key];
    if (to == null || !shown.length) return;
    e.preventDefault();
    take(Math.min(Math.max(to, 0), shown.length - 1));
  };
  return <div class="events">
    <Choice label="Which events" of={['all', 'burner', 'zones'] as const} now={filter}
      take={one => { asked.current = undefined, set_filter(one); }} />
    <ul ref={list} role="listbox" tabIndex={0} aria-label="Events: starts, stops and reasons" onKeyDown={key}>
      <Rows events={shown} take={take} />
    </ul>
    <p class="note">{shown.length} of {events.length + left_out} events{left_out ? ` (${left_out} left out)` : ''}. Select one to see
      that moment.</p>
  </div>;
}
