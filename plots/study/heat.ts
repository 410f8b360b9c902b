// A figure over two things turned: a cell each, with its number where there is room. Brighter is higher.

import * as Plot from '@observablehq/plot';
import { every, growth, style, tip, width_of, type Axis } from './look';

export interface Heat {
  across: Axis;
  up: Axis;
  figure: { label: string; name: string; merit: string };
  /** Column, row, value, its number in words, all that is told of it. */
  cells: [number, number, number, string, string][];
  best: [number, number][];
}

/** Words on a colour: dark on bright ones. */
function on(css: string): string {
  const [r, g, b] = css.match(/\w\w/g)!.map(two => (parseInt(two, 16) / 255) ** 2.2);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b > 0.19 ? '#101418' : '#ffffff';
}
const hex = (css: string) => css.startsWith('#') ? css : '#' + css.match(/\d+/g)!.slice(0, 3).map(n => (+n).toString(16).padStart(2, '0')).join('');

export function heat_chart(t: Heat, width: number): Element {
  const columns = t.across.at.length, rows = t.up.at.length;
  const left = Math.min(Math.max(...t.up.names.map(width_of)) + 14, width * 0.35), bottom = 52 * growth(), top = 34 * growth();
  const across = Math.min((width - left - 8) / columns, 84), up = Math.min(Math.max(across * 0.72, 18), 46 * growth());
  const whole = left + across * columns + 8;
  const values = t.cells.map(c => c[2]), low = Math.min(...values), high = Math.max(...values);
  // Of one value alone the scale has no length: any colour, the same for all.
  const colours: Plot.ScaleOptions = { type: 'linear', scheme: 'cividis', domain: low < high ? [low, high] : [low - 1, low + 1] };
  const colour = Plot.scale({ color: colours });
  const has_numbers = up >= 15 && Math.max(...t.cells.map(c => width_of(c[3]))) <= across;
  const skip_x = every(t.across.names, across * columns), skip_y = Math.max(1, Math.ceil(16 * growth() / up));
  const cell = { x: '0', y: '1' };
  const chart = Plot.plot({
    width: whole, height: top + up * rows + bottom, style: style(), marginLeft: left, marginRight: 8, marginTop: top, marginBottom: bottom,
    x: { type: 'band', domain: t.across.at.map((_, i) => i), padding: 0, round: false },
    y: { type: 'band', domain: t.up.at.map((_, i) => i).reverse(), padding: 0, round: false },
    color: colours,
    marks: [
      Plot.axisX({ color: 'var(--soft)', label: t.across.label, labelAnchor: 'center', labelArrow: 'none', labelOffset: 40 * growth(),
                   tickSize: 0, tickFormat: (i: number) => i % skip_x ? '' : t.across.names[i] }),
      Plot.axisY({ color: 'var(--soft)', label: t.up.label, labelAnchor: 'top', labelArrow: 'none', tickSize: 0,
                   tickFormat: (i: number) => i % skip_y ? '' : t.up.names[i] }),
      Plot.cell(t.cells, { ...cell, fill: '2', inset: across > 12 ? 0.5 : 0 }),
      ...(has_numbers ? [Plot.text(t.cells, { ...cell, text: '3', fill: c => on(hex(colour.apply(c[2]))) })] : []),
      Plot.cell(t.best, { ...cell, fill: 'none', stroke: 'var(--page)', strokeWidth: 5, inset: 1 }),
      Plot.cell(t.best, { ...cell, fill: 'none', stroke: 'var(--ink)', strokeWidth: 2.5, inset: 1 }),
      Plot.tip(t.cells, Plot.pointer({ ...cell, title: '4', maxRadius: 60, ...tip })),
    ],
  });
  const box = document.createElement('div');
  const words = t.figure.label + (t.figure.merit && `: ${t.figure.merit}`);
  if (low < high) {
    const legend = Plot.legend({ color: colours, label: words, width: Math.min(320, width - 20), ticks: 5, style: style() } as Plot.LegendOptions &
                               { color: Plot.ScaleOptions });
    box.append(legend);
  }
  box.append(chart);
  return box;
}
