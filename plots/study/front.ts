// Two figures weighed against each other: the front, what it beats, and the points that have a name.

import * as Plot from '@observablehq/plot';
import { across, apart, growth, halo, line, span_of, style, tip, upright, width_of } from './look';

interface Point {
  x: number;
  y: number;
  told: string;
}
export interface Front {
  across: { label: string; lower: boolean };
  up: { label: string };
  others: Point[];
  front: Point[];
  /** Whether the front is one of these two figures alone. */
  line: boolean;
  marks: (Point & { name: string })[];
}

const symbols = ['star', 'square', 'diamond', 'triangle', 'wye', 'cross'] as const;

export function front_chart(t: Front, width: number): Element {
  const all = [...t.others, ...t.front, ...t.marks], height = (width < 560 ? 360 : 460) * growth();
  const at = { x: 'x', y: 'y' };
  const marks: Plot.Markish[] = [
    ...upright(t.up.label), ...across(t.across.label, width - 90),
    Plot.dot(t.others, { ...at, r: 2.5, fill: 'var(--soft)', fillOpacity: 0.45 }),
    // What one can have between two points of the front is what the better of them in x has.
    t.line ? Plot.line(t.front, { ...at, curve: t.across.lower ? 'step-after' : 'step-before', stroke: line(0), strokeWidth: 2 }) : null,
    Plot.dot(t.front, { ...at, r: 5, fill: line(0), stroke: 'var(--page)' }),
    ...t.marks.map((mark, i) => Plot.dot([mark], { ...at, r: 9 + (i ? 0 : 2), symbol: symbols[i % 6], fill: line(1 + i), stroke: 'var(--page)', strokeWidth: 2 })),
  ];
  const options: Plot.PlotOptions = {
    width, height, style: style(), marginLeft: 60 * growth(), marginRight: 28, marginTop: 34 * growth(), marginBottom: 50 * growth(),
    x: { type: 'linear', domain: span_of(all.map(p => p.x)), nice: true, inset: 10 },
    y: { type: 'linear', domain: span_of(all.map(p => p.y)), nice: true, inset: 10 },
  };
  const bare = Plot.plot({ ...options, marks }), x = bare.scale('x')!, y = bare.scale('y')!;
  const moved = apart(t.marks.map(m => y.apply(m.y)), 20 * growth());
  t.marks.forEach((mark, k) => {
    const is_right = x.apply(mark.x) + width_of(mark.name) + 24 > width;
    marks.push(Plot.text([mark], { x: 'x', y: () => y.invert!(moved[k]), text: 'name', textAnchor: is_right ? 'end' : 'start',
                                   dx: is_right ? -16 : 16, fontWeight: 600, ...halo }));
  });
  marks.push(Plot.tip(all, Plot.pointer({ ...at, title: 'told', ...tip })));
  return Plot.plot({ ...options, marks });
}
