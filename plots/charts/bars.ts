// Bars that carry their values: nothing to hover over, and paper shows them too.

import uPlot from 'uplot';
import { axis, canvas_font, colour, draw, erase, growth, line, pale, panel_in, width_of } from './look';

export interface Bars {
  labels: string[];
  values: number[];
  across: string;
  up: string;
}

export function bar_chart(parent: HTMLElement, table: Bars): { destroy(): void } {
  const at = table.labels.map((_, i) => i), crowded = table.labels.join('').length * 8 > width_of(parent) - 90;
  const panel = panel_in(parent);
  const plot = draw({
    height: (crowded ? 330 : 260) * growth(),
    series: [{}, { stroke: () => line(1), fill: () => pale(line(1), 0.6), paths: uPlot.paths.bars!({ size: [0.7, 90] }),
                   points: { show: false } }],
    scales: { x: { time: false, range: [-0.6, at.length - 0.4] }, y: { range: (_, __, high) => [0, Math.max(1, high) * 1.14] } },
    axes: [axis({ splits: at, values: (_, v) => v.map(i => table.labels[i]), grid: { show: false }, space: 0,
                  label: table.across || undefined, ...(crowded ? { rotate: -50, size: 110 * growth() } : {}) }),
           axis({ size: 56 * growth(), label: table.up })],
    cursor: { show: false }, legend: { show: false },
    hooks: {
      draw: [u => {
        u.ctx.save();
        u.ctx.fillStyle = colour('--ink'), u.ctx.textAlign = 'center', u.ctx.font = canvas_font();
        table.values.forEach((v, i) => {
          u.ctx.fillText(String(v), u.valToPos(i, 'x', true), u.valToPos(v, 'y', true) - 5 * devicePixelRatio);
        });
        u.ctx.restore();
      }],
    },
  }, [at, table.values], panel);
  panel.setAttribute('role', 'img');
  panel.setAttribute('aria-label', `${table.up}: ${table.labels.map((label, i) => `${label}: ${table.values[i]}`).join(', ')}`);
  return { destroy: () => { erase(plot), panel.remove(); } };
}
