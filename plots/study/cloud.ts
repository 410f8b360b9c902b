// A figure over one thing turned, a dot for each point; of very many their counts by cell. A line and a band tell how most of them lie.

import * as Plot from '@observablehq/plot';
import { across, growth, line, ring, span_of, style, tip, upright, width_of, type Best } from './look';

export interface Cloud {
  across: { label: string; words: string[] };
  up: { label: string };
  x: number[];
  y: number[];
  /** Of very many: from and to across, from and to upright, how many. */
  counts: [number, number, number, number, number][];
  /** Where across; then 1 of 10 points lies below, half of them, 9 of 10. */
  middle: [number, number, number, number][];
  best: Best[];
  /** Points beyond the picture, which stand at its edge. */
  beyond: { x: number; y: number; told: string }[];
}

/** As many dots over each other are told from one by how full the colour is; even steps of it are equal factors. */
const full = (count: number, most: number) => 0.14 + 0.86 * (most > 1 ? Math.log(count) / Math.log(most) : 1);

const told = (count: number) => count === 1 ? '1 point' : count.toLocaleString('en').replaceAll(',', '\u00a0') + ' points';

export function cloud_chart(t: Cloud, width: number): Element {
  const height = (width < 560 ? 340 : 420) * growth(), { words } = t.across;
  const names = words.length ? { at: words.map((_, i) => i), names: words } : undefined;
  // Of words dots would cover each other: those of one word stand beside its place, evenly.
  const met = words.map(() => 0), beside = (x: number) => (++met[x] * 0.618034 % 1 - 0.5) * 0.5;
  const dots = t.x.map((x, i) => ({ x: x + (names ? beside(x) : 0), y: t.y[i],
                                    told: `${t.across.label}: ${words[x] ?? x}\n${t.up.label}: ${t.y[i]}` }));
  const most = Math.max(1, ...t.counts.map(c => c[4]));
  const marks: Plot.Markish[] = [...upright(t.up.label), ...across(t.across.label, width - 90, names)];
  if (t.counts.length) {
    marks.push(Plot.rect(t.counts, { x1: '0', x2: '1', y1: '2', y2: '3', fill: line(0), insetLeft: names ? 24 : 0, insetRight: names ? 24 : 0,
                                    fillOpacity: { value: c => full(c[4], most), scale: null } }));
  }
  const trace = t.middle.map(([x, low, middle, high]) => ({ x, low, middle, high })), band = line(1);
  marks.push(Plot.dot(t.beyond, { x: 'x', y: 'y', r: 4, symbol: 'diamond', stroke: line(0), strokeWidth: 1.5 }));
  marks.push(Plot.dot(dots, { x: 'x', y: 'y', r: dots.length > 600 ? 2 : 3, fill: line(0), fillOpacity: dots.length > 600 ? 0.4 : 0.6 }));
  if (trace.length > 1 && !names) {
    const edge = (y: string) => [Plot.line(trace, { x: 'x', y, stroke: 'var(--page)', strokeWidth: 4 }),
                                 Plot.line(trace, { x: 'x', y, stroke: band, strokeWidth: 2, strokeDasharray: '6 4' })];
    marks.push(t.counts.length ? [edge('low'), edge('high')] // over full cells a pale band is not seen
                               : Plot.areaY(trace, { x: 'x', y1: 'low', y2: 'high', fill: band, fillOpacity: 0.16 }),
               Plot.line(trace, { x: 'x', y: 'middle', stroke: 'var(--page)', strokeWidth: 5 }),
               Plot.line(trace, { x: 'x', y: 'middle', stroke: band, strokeWidth: 2.5 }));
  } else {
    marks.push(Plot.ruleX(trace, { x: 'x', y1: 'low', y2: 'high', stroke: band, strokeWidth: 14, strokeOpacity: 0.3 }),
               Plot.ruleY(trace, { x1: b => b.x - 0.2, x2: b => b.x + 0.2, y: 'middle', stroke: band, strokeWidth: 3 }),
               Plot.dot(trace, { x: 'x', y: 'middle', fill: band, r: 6, symbol: 'diamond' }));
  }
  if (!names) marks.push(...ring(t.best, [...t.x, ...t.counts.flatMap(c => [c[0], c[1]])]));
  if (dots.length) marks.push(Plot.tip([...dots, ...t.beyond], Plot.pointer({ x: 'x', y: 'y', title: 'told', ...tip })));
  const label = (c: Cloud['counts'][0]) => told(c[4]);
  if (t.counts.length) {
    marks.push(Plot.tip(t.counts, Plot.pointer({ x: c => (c[0] + c[1]) / 2, y: c => (c[2] + c[3]) / 2, title: label, ...tip })));
  }
  const chart = Plot.plot({
    width, height, style: style(), marginLeft: Math.max(56, width_of('0000.0')) * growth(), marginRight: 28, marginTop: 34 * growth(),
    marginBottom: 50 * growth(), x: { type: 'linear', ...(names ? { domain: [-0.5, words.length - 0.5] } : { inset: 12 }) },
    y: { domain: span_of([...t.y, ...t.beyond.map(b => b.y), ...t.counts.flatMap(c => [c[2], c[3]])]), nice: true }, marks,
  });
  if (!t.counts.length) return chart;
  const box = document.createElement('div'), legend = document.createElement('p');
  legend.className = 'counts';
  for (const count of [1, Math.round(Math.sqrt(most)), most]) {
    const swatch = document.createElement('span');
    swatch.style.background = line(0), swatch.style.opacity = String(full(count, most));
    legend.append(swatch, `${told(count)} in a cell`);
  }
  box.append(legend, chart);
  return box;
}
