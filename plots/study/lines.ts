// A figure over one thing turned, lines by a second one. Names stand at the ends of their lines.

import * as Plot from '@observablehq/plot';
import { across, apart, dash, growth, halo, line, ring, span_of, style, tip, upright, width_of, type Axis, type Best } from './look';

export interface Lines {
  across: Axis;
  up: { label: string; name: string; merit: string };
  /** What the lines differ in; "" of a single line. */
  of: string;
  lines: { name: string; x: number[]; y: (number | null)[]; told: string[]; least?: (number | null)[]; most?: (number | null)[] }[];
  best: Best[];
}

export function line_chart(t: Lines, width: number): Element {
  const is_narrow = width < 560, height = (is_narrow ? 320 : 400) * growth();
  const right = t.of ? Math.min(Math.max(width_of(t.of), ...t.lines.map(l => width_of(l.name))) + 16, width * 0.4) : 28;
  const points = t.lines.map(l => l.x.map((x, k) => ({ x, y: l.y[k], least: l.least?.[k], most: l.most?.[k], told: l.told[k] })));
  const all = points.flat().filter(p => p.y != null);
  const names = t.across.words || t.across.at.length <= 12 ? t.across : undefined;
  const marks: Plot.Markish[] = [...upright(t.up.label), ...across(t.across.label, width - right - 60, names)];
  points.forEach((one, i) => {
    const bounds = one.filter(p => p.least != null);
    if (bounds.length) marks.push(Plot.areaY(bounds, { x: 'x', y1: 'least', y2: 'most', fill: line(i), fillOpacity: 0.13 }));
  });
  points.forEach((one, i) => {
    if (!t.across.words) marks.push(Plot.line(one, { x: 'x', y: 'y', stroke: line(i), strokeWidth: 2.2, strokeDasharray: dash(i) }));
    marks.push(Plot.dot(one.filter(p => p.y != null), { x: 'x', y: 'y', fill: line(i), r: one.length > 30 ? 2 : 3.5,
                                                       symbol: (['circle', 'square', 'triangle', 'diamond2', 'star', 'cross'] as const)[i % 6] }));
  });
  const options: Plot.PlotOptions = {
    width, height, style: style(), marginLeft: 56 * growth(), marginRight: right, marginTop: 34 * growth(), marginBottom: 50 * growth(),
    x: { type: 'linear', inset: 14 }, y: { domain: span_of(all.flatMap(p => [p.y, p.least, p.most])), nice: true },
  };
  const bare = Plot.plot({ ...options, marks });
  if (t.of) {
    const y = bare.scale('y')!, ends = points.map((one, i) => ({ ...one.filter(p => p.y != null).at(-1), name: t.lines[i].name, i }))
      .filter(e => e.x != null);
    const moved = apart(ends.map(e => y.apply(e.y)), 16 * growth());
    ends.forEach((e, k) => {
      marks.push(Plot.text([e], { x: 'x', y: () => y.invert!(moved[k]), text: 'name', textAnchor: 'start', dx: 11, fill: line(e.i),
                                  fontWeight: 600, stroke: 'var(--page)', strokeWidth: 3 }));
    });
    marks.push(Plot.text([t.of], { text: d => d, frameAnchor: 'top-right', textAnchor: 'end', dx: right - 2, dy: -30 * growth(), ...halo,
                                   fill: 'var(--soft)' }));
  }
  marks.push(...ring(t.best, all.map(p => p.x)), Plot.tip(all, Plot.pointer({ x: 'x', y: 'y', title: 'told', ...tip })));
  return Plot.plot({ ...options, marks });
}
