// What all charts share: colours of the page's style, axes, and drawing anew when the scheme, the width or the paper changes.

import uPlot from 'uplot';

const root = document.documentElement;
export const colour = (name: string) => getComputedStyle(root).getPropertyValue(name).trim();
export const line = (i: number) => colour(`--line-${i % 6}`);
export const pale = (css: string, share: number) => css + Math.round(share * 255).toString(16).padStart(2, '0');
const dashes = [[], [8, 4], [2, 3], [10, 3, 2, 3]];
/** So that lines differ without colour too. */
export const dash = (i: number) => dashes[(i + Math.floor(i / 12)) % 4];

const two = (n: number) => String(Math.floor(n)).padStart(2, '0');
/** "1 d 06:12": time since the start of the run. */
export const clock = (s: number) => (s >= 86400 ? `${Math.floor(s / 86400)} d ` : '') + `${two(s / 3600 % 24)}:${two(s / 60 % 60)}`;
export const full_clock = (s: number) => `${clock(s)}:${two(s % 60)}`;
/** Days on long spans, hours and minutes on short ones; only where round steps fall. */
export const time_steps = [1, 5, 10, 30, 60, 300, 600, 1800, 3600, 7200, 10800, 21600, 43200, 86400, 172800, 604800, 2592000];
export const tick = (s: number, step: number) =>
  step >= 86400 ? `day ${Math.round(s / 86400)}` : step < 60 ? full_clock(s) : clock(s);

/** Charts grow with the page's words, as on a projector. */
export const growth = () => parseFloat(getComputedStyle(root).fontSize) / 16;
const font = (scale = 1) => `${Math.round(12 * growth() * scale)}px system-ui, sans-serif`;
export const canvas_font = () => font(devicePixelRatio);
export const axis = (more: uPlot.Axis = {}): uPlot.Axis => ({
  stroke: () => colour('--soft'), font: font(), labelFont: font(),
  grid: { stroke: () => colour('--rule'), width: 1 }, ticks: { stroke: () => colour('--rule'), width: 1 }, ...more,
});

export function panel_in(parent: HTMLElement, title = ''): HTMLElement {
  const panel = parent.appendChild(document.createElement('div'));
  panel.className = 'panel';
  if (title) panel.appendChild(Object.assign(document.createElement('p'), { className: 'panel-title', textContent: title }));
  return panel;
}

export const width_of = (parent: HTMLElement) => Math.max(240, parent.clientWidth);

/** The line of a legend looks as in the chart, as far as borders can. */
const swatch = (series: uPlot.Series[]) => (_: uPlot, k: number) => {
  const { dash = [] } = series[k];
  return ['solid', '', dash[0] > 4 ? 'dashed' : 'dotted', '', 'double'][dash.length];
};

const drawn = new Map<uPlot, HTMLElement>();
const watcher = new ResizeObserver(seen => {
  for (const { target } of seen) {
    for (const [plot, parent] of drawn) {
      if (parent === target && parent.clientWidth && plot.width !== width_of(parent)) {
        plot.setSize({ width: width_of(parent), height: plot.height });
      }
    }
  }
});
const again = () => drawn.forEach((_, plot) => plot.redraw(true, true));
for (const media of ['(prefers-color-scheme: dark)', 'print']) matchMedia(media).addEventListener('change', again);

/** A chart that follows its parent's width until it is taken away by `erase`. */
export function draw(options: Omit<uPlot.Options, 'width'>, data: uPlot.AlignedData, parent: HTMLElement): uPlot {
  const plot = new uPlot({ legend: { markers: { dash: swatch(options.series) } }, ...options, width: width_of(parent) }, data, parent);
  drawn.set(plot, parent);
  watcher.observe(parent);
  parent.querySelectorAll<HTMLElement>('.u-legend .u-series th').forEach((entry, k) => {
    if (k === 0) return; // the first is what lies across
    entry.tabIndex = 0;
    entry.setAttribute('role', 'button');
    entry.onkeydown = e => { if (e.key === 'Enter') entry.click(); };
  });
  return plot;
}
export function erase(plot: uPlot): void {
  const parent = drawn.get(plot);
  if (parent) watcher.unobserve(parent);
  drawn.delete(plot);
  plot.destroy();
}

/** Arrows read the chart from one value to the next: what the legend then says can be heard too. */
export function readable(plot: uPlot, box: HTMLElement, words: string, take?: (x: number) => void): void {
  box.tabIndex = 0;
  box.setAttribute('role', 'group');
  box.setAttribute('aria-label', `${words}: read values with the arrow keys`);
  box.querySelector('.u-legend')?.setAttribute('aria-live', 'polite');
  box.onkeydown = e => {
    if (e.target !== box) return;
    const xs = plot.data[0] as number[];
    if (e.key === 'Enter' && take && plot.cursor.idx != null) return take(xs[plot.cursor.idx]);
    const by = ({ ArrowLeft: -1, ArrowRight: 1 } as Record<string, number>)[e.key];
    const { min, max } = plot.scales.x;
    if (!by || min == null || max == null) return;
    const seen = Array.from(xs).filter(x => x >= min && x <= max);
    const from = plot.cursor.idx ?? xs.indexOf(seen[0]) - by, step = Math.max(1, Math.round(seen.length / 200));
    const x = xs[Math.min(Math.max(from + by * step, xs.indexOf(seen[0])), xs.indexOf(seen[seen.length - 1]))];
    plot.setCursor({ left: plot.valToPos(x, 'x'), top: plot.over.clientHeight / 2 });
    e.preventDefault();
  };
}
