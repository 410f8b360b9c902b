// The engine's drawing of the piping: repainted at a moment, and each piece can be chosen by click or keys.

import { useLayoutEffect, useRef } from 'preact/hooks';
import { nearest, painter } from '../../../../plots/charts/piping';
import type { Repaintings } from './interface';

const prefix = 'piece:';

export function Schematic({ svg, repaintings, moment, chosen, onPiece }: {
  svg: string;
  repaintings?: Repaintings;
  /** Seconds since the start of the run. */
  moment?: number | null;
  /** The id of a piece. */
  chosen?: string | null;
  onPiece?: (id: string) => void;
}) {
  const place = useRef<HTMLDivElement>(null), paint = useRef<(k: number) => void>(), pick = useRef(onPiece);
  pick.current = onPiece;
  const pieces = useRef(new Map<string, SVGGElement>());
  const can_pick = !!onPiece;

  useLayoutEffect(() => {
    const box = place.current!;
    const had_focus = box.contains(document.activeElement) ? document.activeElement!.id : '';
    box.innerHTML = svg;
    const drawing = box.querySelector('svg')!;
    pieces.current = new Map();
    if (!can_pick) return;
    drawing.setAttribute('role', 'group'); // its pieces are buttons, which an image cannot hold
    for (const piece of drawing.querySelectorAll<SVGGElement>(`g[id^="${prefix}"]`)) {
      pieces.current.set(piece.id.slice(prefix.length), piece);
      piece.setAttribute('role', 'button');
      piece.setAttribute('aria-label', piece.querySelector('title')?.textContent ?? piece.id.slice(prefix.length));
      piece.setAttribute('tabindex', '-1');
    }
    [...pieces.current.values()].find(p => p.id === had_focus)?.focus();
  }, [svg, can_pick]);

  useLayoutEffect(() => {
    const drawing = place.current!.querySelector('svg');
    paint.current = drawing && repaintings?.moments.length ? painter(drawing, repaintings) : undefined;
  }, [svg, repaintings, can_pick]);
  useLayoutEffect(() => {
    if (moment != null && repaintings?.moments.length) paint.current?.(nearest(repaintings, moment));
  }, [svg, repaintings, moment, can_pick]);

  // One piece is in the order of the tab key: the chosen one, else the first; arrows go on from there. Before anybody sees the drawing,
  // so that it can be reached at once.
  useLayoutEffect(() => {
    const first = pieces.current.keys().next().value;
    const stop = chosen && pieces.current.has(chosen) ? chosen : first;
    for (const [id, piece] of pieces.current) {
      piece.setAttribute('tabindex', id === stop ? '0' : '-1');
      piece.classList.toggle('chosen', id === chosen);
      if (id === chosen) piece.setAttribute('aria-pressed', 'true');
      else piece.removeAttribute('aria-pressed');
    }
  }, [svg, chosen, can_pick]);

  const piece_of = (e: Event) => (e.target as Element).closest<SVGGElement>(`g[id^="${prefix}"]`);
  const click = (e: MouseEvent) => {
    const piece = piece_of(e);
    if (piece) pick.current?.(piece.id.slice(prefix.length));
  };
  const key = (e: KeyboardEvent) => {
    const piece = piece_of(e);
    if (!piece || !can_pick) return;
    if (e.key === 'Enter' || e.key === ' ') {
      e.preventDefault();
      return pick.current?.(piece.id.slice(prefix.length));
    }
    const by = ({ ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 } as Record<string, number>)[e.key];
    if (!by) return;
    e.preventDefault();
    const all = [...pieces.current.values()], next = all[(all.indexOf(piece) + by + all.length) % all.length];
    all.forEach(p => p.setAttribute('tabindex', p === next ? '0' : '-1'));
    next.focus();
  };
  // A drawing wider than its place is moved by the arrow keys, so it can be reached by the tab key.
  return <div class={`wide piping${can_pick ? ' can-pick' : ''}`} ref={place} tabIndex={can_pick ? undefined : 0} role="group"
    aria-label="Piping schematic" onClick={click} onKeyDown={key} />;
}
