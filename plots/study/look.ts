// What the pictures of studies share. Their colours are the page's own by name, so that the dark page and the paper need no new drawing.

import * as Plot from '@observablehq/plot';

/** A quantity along an axis. Of words the numbers count the names. */
export interface Axis {
  label: string;
  at: number[];
  names: string[];
  full: string[];
  words: boolean;
}
export interface Best {
  x: number;
  y: number;
  words: string;
}

export const line = (i: number) => `var(--line-${[1, 0, 2, 3, 4, 5][i % 6]})`;
/** So that lines differ without colour too. */
export const dash = (i: number) => ['none', '8 4', '2 3', '10 3 2 3'][i % 4];
export const growth = () => parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
/** About as wide as these words are drawn. */
export const width_of = (words: string) => (words.length * 6.7 + 4) * growth();

export const style = () => ({ fontSize: `${Math.round(12.5 * growth())}px`, fontFamily: 'inherit', background: 'none', color: 'var(--ink)',
                              overflow: 'visible' });
/** Words over lines and dots stay readable. */
export const halo = { fill: 'var(--ink)', stroke: 'var(--page)', strokeWidth: 4 } as const;
export const tip = { fill: 'var(--card)', stroke: 'var(--soft)', textPadding: 8, lineWidth: 30 } as const;

/** Positions in pixels moved as little as need be, until each is `gap` from the next. */
export function apart(positions: number[], gap: number): number[] {
  const order = positions.map((_, i) => i).sort((a, b) => positions[a] - positions[b]), out = [...positions];
  for (let round = 0; round < 60; ++round) {
    for (let k = 1; k < order.length; ++k) {
      const close = gap - (out[order[k]] - out[order[k - 1]]);
      if (close > 0) out[order[k]] += close / 2, out[order[k - 1]] -= close / 2;
    }
  }
  return out;
}

/** From nought where that costs less than half of the height. */
export function span_of(values: (number | null | undefined)[]): [number, number] {
  const all = values.filter(v => v != null), low = Math.min(...all), high = Math.max(...all);
  if (!all.length) return [0, 1];
  if (low >= 0 && low < high / 2 || high === 0) return [0, high || 1];
  const room = (high - low || Math.abs(high) || 1) * 0.06;
  return [low - room, high + room];
}

/** As many of the names of an axis as have room, the first among them. */
export function every(names: string[], room: number): number {
  const widest = Math.max(...names.map(width_of)) + 6;
  return Math.max(1, Math.ceil(widest * names.length / Math.max(room, 1)));
}

/** Marks of an upright axis of numbers and its label above it, and of one across with its label below. */
export const upright = (label: string): Plot.Markish[] => [
  Plot.gridY({ stroke: 'var(--rule)', strokeOpacity: 1, ticks: 6 }),
  Plot.axisY({ color: 'var(--soft)', label, labelAnchor: 'top', labelArrow: 'none', ticks: 6 }),
];
export function across(label: string, width: number, axis?: { at: number[]; names: string[] }): Plot.Markish[] {
  const look = { color: 'var(--soft)', label, labelAnchor: 'center', labelArrow: 'none', labelOffset: 40 * growth() } as const;
  if (!axis) return [Plot.axisX({ ...look, ticks: Math.max(3, Math.round(width / 90)) })];
  const by = every(axis.names, width), shown = axis.at.filter((_, i) => i % by === 0);
  return [Plot.axisX({ ...look, ticks: shown, tickFormat: (v: number) => axis.names[axis.at.indexOf(v)] ?? '' })];
}

/** A ring around each of the best points, with the words of the first. */
export function ring(best: Best[], xs: number[]): Plot.Markish[] {
  if (!best.length) return [];
  const low = Math.min(...xs), share = (best[0].x - low) / (Math.max(...xs) - low || 1); // words stand towards the middle
  const anchor = share < 0.15 ? 'start' : share > 0.8 ? 'end' : 'middle';
  return [
    Plot.dot(best, { x: 'x', y: 'y', r: 9, stroke: 'var(--page)', strokeWidth: 5 }),
    Plot.dot(best, { x: 'x', y: 'y', r: 9, stroke: 'var(--ink)', strokeWidth: 2 }),
    Plot.text(best.slice(0, 1), { x: 'x', y: 'y', text: 'words', dy: -20, textAnchor: anchor, fontWeight: 600, ...halo }),
  ];
}

/** Draws in its place, and anew when the place gets another width. */
export function place(parent: HTMLElement, build: (width: number) => Element): void {
  const title = parent.closest('section')?.querySelector('h2')?.textContent ?? '';
  parent.setAttribute('role', 'img');
  parent.setAttribute('aria-label', title);
  let width = 0;
  const draw = () => {
    if (!parent.clientWidth || parent.clientWidth === width) return;
    width = parent.clientWidth;
    parent.replaceChildren(build(Math.max(280, width)));
    // The place speaks for all of it: names of the drawing's groups would be read as well.
    parent.querySelectorAll('g[aria-label]').forEach(group => group.removeAttribute('aria-label'));
  };
  new ResizeObserver(draw).observe(parent);
  draw();
}
