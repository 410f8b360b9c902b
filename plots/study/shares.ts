// What explains how much of a figure: bars of the whole spread, below their words, so that no name is cut on a phone.

import * as Plot from '@observablehq/plot';
import { growth, line, style, width_of } from './look';

export interface Shares {
  bars: { name: string; share: number; words: string }[];
}

export function share_chart(t: Shares, width: number): Element {
  const words = t.bars.map(b => `${b.name}: ${b.words}`), rows = Math.ceil(Math.max(...words.map(width_of)) / (width - 20));
  const above = (16 * rows + 6) * growth(), row = above + 24 * growth(), at = (_: unknown, i: number) => i;
  const bar = { x1: 0, y: at, insetTop: above, insetBottom: 8 } as const;
  return Plot.plot({
    width, height: row * t.bars.length + 12, style: style(), marginLeft: 2, marginRight: 12, marginTop: 4, marginBottom: 8,
    x: { axis: null, domain: [0, 1] }, y: { axis: null, type: 'band', padding: 0 },
    marks: [
      Plot.barX(t.bars, { ...bar, x2: 1, fill: 'var(--card)', stroke: 'var(--rule)' }),
      Plot.barX(t.bars, { ...bar, x2: b => Math.max(0, b.share), fill: line(0) }),
      Plot.text(t.bars, { x: 0, y: at, text: (_, i) => words[i], textAnchor: 'start', lineAnchor: 'top', dy: -row / 2 + 4, fill: 'var(--ink)',
                          lineHeight: 1.25, lineWidth: (width - 20) / (12.5 * growth()) }),
      Plot.ruleX([0], { stroke: 'var(--soft)' }),
    ],
  });
}
