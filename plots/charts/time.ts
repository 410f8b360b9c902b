// Panels over one time axis: zoom, cursor and chosen moment are shared by all of them, and by runs side by side.

import uPlot from 'uplot';
import { axis, colour, dash, draw, erase, full_clock, growth, line, pale, panel_in, readable, tick, time_steps } from './look';

type Values = (number | null)[];
export interface TimePanel {
  title: string;
  look: 'band' | 'steps' | 'lines';
  unit: string;
  series: { label: string; mean: Values; least?: Values; most?: Values; resting?: boolean }[];
}
export interface OverTime {
  start: number;
  step: number;
  bins: number;
  /** Where bins are not evenly apart: then `step` is their mean. */
  times?: number[];
  panels: TimePanel[];
}
export interface TimeCharts {
  /** New values in place, on an axis that does not end before `until`; false: panels or lines are others, so make charts anew. */
  update(tables: OverTime[], until?: number): boolean;
  /** Marks a moment in all panels. */
  mark(time: number | null): void;
  destroy(): void;
}
export interface TimeOptions {
  /** A click, or Enter on a value that was read by arrow keys. */
  choose?: (time: number) => void;
  /** Titles of runs that stand side by side. */
  names?: string[];
  /** The axis does not end before this. */
  until?: number;
}

const gutter = (width: number) => (width < 600 ? 64 : 96) * growth(); // left of all panels, so that their times stand in line
const cut = (words: string, most: number) => words.length > most ? words.slice(0, Math.max(1, most - 1)) + '…' : words;
const times_of = (table: OverTime) => table.times ?? Array.from({ length: table.bins }, (_, i) => table.start + i * table.step);
const end_of = (table: OverTime) => table.start + table.bins * table.step;
/** What must stay the same for new values to be drawn in place. */
const shape = (table: OverTime) => JSON.stringify(table.panels.map(p => [p.title, p.unit, p.look, p.series.map(s => [s.label, !s.least])]));

function values_of(panel: TimePanel): Values[] {
  const rows = panel.series.length;
  return panel.series.flatMap((one, i) => {
    const row = rows - 1 - i; // steps stand in a row each
    const mean = panel.look === 'steps' ? one.mean.map(v => v == null ? v : row + 0.75 * v) : one.mean;
    return one.least && one.most ? [mean, one.most, one.least] : [mean];
  });
}

/** A panel's lines: the means, then a lowest and a highest where they differ, as a band. */
function lines_of(now: () => TimePanel): { series: uPlot.Series[]; bands: uPlot.Band[] } {
  const panel = now(), bands: uPlot.Band[] = [];
  const series: uPlot.Series[] = [{ label: 'time', value: (_, v) => v == null ? '–' : full_clock(v) }];
  panel.series.forEach((one, i) => {
    const is_lines = panel.look === 'lines', is_fire = panel.look === 'band' && i === 0, row = panel.series.length - 1 - i;
    const stroke = () => is_fire ? colour('--fire') : line(i);
    series.push({
      label: one.label, show: !one.resting, stroke, width: is_lines ? 1.75 : 1.25, points: { show: false },
      dash: is_lines ? dash(i) : [],
      paths: is_lines ? undefined : uPlot.paths.stepped!({ align: 1 }),
      fill: is_lines ? undefined : () => pale(stroke(), is_fire ? 0.75 : 0.4),
      fillTo: panel.look === 'steps' ? row : 0,
      value: (_, v, __, k) => v == null || k == null ? '–' : `${now().series[i].mean[k]}${panel.unit === '%' ? '%' : ' ' + panel.unit}`,
    });
    if (!one.least) return;
    for (let edge = 0; edge < 2; ++edge) {
      series.push({ label: '', show: !one.resting, stroke: 'transparent', width: 0, points: { show: false } });
    }
    bands.push({ series: [series.length - 2, series.length - 1], fill: () => pale(line(i), 0.18) });
  });
  return { series, bands };
}

/** How high a panel is, what its upright axis spans and how that is marked. `all` are the panels of that title, of all runs. */
function upright_of(now: () => TimePanel, all: () => TimePanel[]): { height: number; axis: uPlot.Axis; range: uPlot.Range.Function } {
  const panel = now();
  if (panel.look === 'lines') {
    return {
      height: 210 * growth(), axis: { space: 34 },
      range: (u, low, high) => {
        if (all().length > 1) [low, high] = ends(all(), u);
        return low == null ? [0, 1] : uPlot.rangeNum(low, Math.max(high, low + 1), 0.08, false);
      },
    };
  }
  if (panel.look === 'band') {
    return {
      height: 90 * growth(), axis: { space: 28 },
      range: (u, _, high) => [0, panel.unit === '%' ? 100 : Math.max(1, (all().length > 1 ? ends(all(), u)[1] : high) || 1)],
    };
  }
  const rows = panel.series.length;
  return {
    height: (24 + 18 * rows) * growth(), range: () => [0, rows],
    axis: {
      splits: () => panel.series.map((_, i) => rows - i - 0.6), grid: { show: false }, ticks: { show: false },
      values: u => panel.series.map(one => cut(one.label.replace(/ calls$/, ''), (gutter(u.width) - 18) / (6.4 * growth()))),
    },
  };
}
/** Lowest and highest of the lines that this chart shows, in all runs. */
function ends(panels: TimePanel[], u: uPlot): [number, number] {
  let low = Infinity, high = -Infinity;
  const hidden = new Set(u.series.filter(s => !s.show).map(s => s.label));
  for (const panel of panels) {
    for (const one of panel.series) {
      if (hidden.has(one.label)) continue;
      for (const values of [one.least ?? one.mean, one.most ?? one.mean]) {
        for (const v of values) if (v != null) low = Math.min(low, v), high = Math.max(high, v);
      }
    }
  }
  return low <= high ? [low, high] : [0, 1];
}

let groups = 0;

/** Panels of each run below each other in its place; the tools for time stand in the first argument. */
export function time_charts(tools: HTMLElement, places: HTMLElement[], first: OverTime[], options: TimeOptions = {}): TimeCharts {
  let tables = first, least_end = options.until ?? 0, chosen: number | null = null;
  const key = `time-${groups++}`, group: { plot: uPlot; run: number; panel: number }[] = [];
  const whole = () => ({
    min: Math.min(...tables.map(t => t.start)), max: Math.max(...tables.map(end_of), least_end),
  });
  let shown = whole(), spread = shown;
  const show = (min: number, max: number) => {
    const all = whole(), span = Math.min(Math.max(max - min, 4 * tables[0].step), all.max - all.min);
    min = Math.min(Math.max(min, all.min), all.max - span);
    shown = { min, max: min + span };
    group.forEach(({ plot }) => plot.setScale('x', shown));
  };
  const show_all = () => show(whole().min, whole().max);
  const move = (closer: number, aside: number) => {
    const { min, max } = shown, middle = (min + max) / 2 + aside * (max - min), half = (max - min) / 2 * closer;
    show(middle - half, middle + half);
  };
  const buttons = tools.appendChild(Object.assign(document.createElement('div'), { className: 'tools' }));
  buttons.setAttribute('role', 'group');
  buttons.setAttribute('aria-label', 'time shown');
  const acts: [string, () => void][] = [['zoom in', () => move(0.5, 0)], ['zoom out', () => move(2, 0)], ['earlier', () => move(1, -0.5)],
                                        ['later', () => move(1, 0.5)], ['all', show_all]];
  for (const [words, act] of acts) {
    buttons.appendChild(Object.assign(document.createElement('button'), { type: 'button', textContent: words, onclick: act }));
  }

  /** Where the chosen moment lies. */
  const mark_in = (u: uPlot) => {
    if (chosen == null || chosen < shown.min || chosen > shown.max) return;
    const x = Math.round(u.valToPos(chosen, 'x', true)), { top, height } = u.bbox;
    u.ctx.save();
    u.ctx.strokeStyle = colour('--ink'), u.ctx.lineWidth = devicePixelRatio, u.ctx.setLineDash([3, 3]);
    u.ctx.beginPath(), u.ctx.moveTo(x, top), u.ctx.lineTo(x, top + height), u.ctx.stroke();
    u.ctx.restore();
  };

  /** Legends tell the values at the chosen moment, unless the pointer reads another. */
  let told = 0;
  const tell = () => {
    cancelAnimationFrame(told);
    told = requestAnimationFrame(() => {
      if (chosen == null || group.some(({ plot }) => plot.over.matches(':hover'))) return;
      for (const { plot } of group) {
        const left = plot.valToPos(chosen, 'x'), inside = left >= 0 && left <= plot.over.clientWidth;
        const quietly = plot.setCursor as (at: { left: number; top: number }, fire: boolean, publish: boolean) => void;
        quietly({ left: inside ? left : -10, top: 1 }, false, false);
      }
    });
  };

  const add = (run: number, at: number, box: HTMLElement) => {
    const now = () => tables[run].panels[at], panel = now(), last = at === tables[run].panels.length - 1;
    const all = () => tables.map(t => t.panels.find(p => p.title === panel.title)).filter(p => p != null);
    const { series, bands } = lines_of(now), upright = upright_of(now, all);
    box.classList.add(panel.look);
    const plot = draw({
      height: upright.height + (last ? 48 * growth() : 0), series, bands, padding: [8, 36 * growth(), 0, 0],
      cursor: {
        sync: { key, setSeries: false, filters: { pub: type => type === 'mousemove' || type === 'mouseleave', sub: () => true } },
        y: false, drag: { x: true, y: false }, bind: { dblclick: () => () => { show_all(); return null; } },
      },
      scales: { x: { time: false, range: (_, min, max) => [min, max] }, y: { range: upright.range } },
      axes: [
        axis({ size: last ? 34 * growth() : 8, incrs: time_steps, space: 90 * growth(),
               label: last ? 'time since the start of the run' : undefined, labelSize: 22 * growth(),
               values: (_, splits, __, ___, step) => splits.map(s => last ? tick(s, step) : '') }),
        axis({ size: u => gutter(u.width), ...upright.axis }),
      ],
      hooks: {
        draw: [mark_in],
        setScale: [(u, name) => { // one panel was dragged: the others follow; it ends when all show the same
          const { min, max } = u.scales.x;
          if (name === 'x' && u.status === 1 && min != null && max != null && (min !== shown.min || max !== shown.max)) show(min, max);
        }],
        setSeries: [(u, k, { show }) => { // a line takes its band along
          if (k == null || show == null || series[k].label === '') return;
          for (let j = k + 1; series[j]?.label === ''; ++j) u.setSeries(j, { show });
        }],
        ready: [u => {
          u.root.querySelectorAll<HTMLElement>('.u-legend .u-series').forEach((row, k) => {
            if (series[k].label === '') row.style.display = 'none';
          });
          let from = 0;
          u.over.addEventListener('mouseleave', tell);
          u.over.addEventListener('mousedown', e => { from = e.clientX; });
          u.over.addEventListener('click', e => { // not the end of a drag
            if (Math.abs(e.clientX - from) < 4) options.choose?.(u.posToVal(e.clientX - u.over.getBoundingClientRect().left, 'x'));
          });
        }],
      },
    }, [times_of(tables[run]), ...values_of(panel)] as uPlot.AlignedData, box);
    readable(plot, box, (options.names?.[run] ? options.names[run] + ', ' : '') + panel.title, options.choose);
    group.push({ plot, run, panel: at });
  };
  tables.forEach((table, run) => table.panels.forEach((panel, at) => {
    add(run, at, panel_in(places[run], panel.title + (panel.unit ? ` [${panel.unit}]` : '')));
  }));
  show_all();

  return {
    update(next, until = 0) {
      if (next.length !== tables.length || next.some((t, i) => shape(t) !== shape(tables[i]))) return false;
      const was_whole = shown.min === spread.min && shown.max === spread.max;
      tables = next, least_end = until;
      spread = whole();
      if (was_whole) shown = spread;
      for (const { plot, run, panel } of group) {
        const data = [times_of(tables[run]), ...values_of(tables[run].panels[panel])] as uPlot.AlignedData;
        plot.batch(() => {
          plot.setData(data, false);
          plot.setScale('x', shown);
        });
      }
      tell();
      return true;
    },
    mark(time) {
      if (time === chosen) return;
      chosen = time;
      group.forEach(({ plot }) => plot.redraw(false, false));
      tell();
    },
    destroy() {
      cancelAnimationFrame(told);
      group.forEach(({ plot }) => erase(plot));
      buttons.remove();
      places.forEach(place => place.replaceChildren());
    },
  };
}

