// Fills the places of a report with the charts of plots/charts, and lets a reader choose the schematic's moment.

import { bar_chart, type Bars } from './charts/bars';
import { full_clock } from './charts/look';
import { nearest, painter, type Repaintings } from './charts/piping';
import { reset_chart, type ResetCloud } from './charts/reset';
import { time_charts, type OverTime, type TimeCharts } from './charts/time';

type Chart = { kind: 'time'; table: OverTime } | { kind: 'bars'; table: Bars } | { kind: 'reset'; table: ResetCloud } |
  { kind: 'piping'; table: Repaintings };

const charts: Chart[] = JSON.parse(document.getElementById('charts')!.textContent!);
const timed: TimeCharts[] = [];
let chosen: number | null = null, choose: ((time: number) => void) | undefined;

/** The schematic's slider; charts over time take part by clicks and marks. */
function piping(table: Repaintings, label: HTMLElement): void {
  const figure = label.closest('figure')!, slider = label.querySelector('input')!;
  const paint = painter(figure.querySelector('svg')!, table), when = figure.querySelector('.when:not(text)');
  const show = (k: number) => {
    const { time, words } = table.moments[k], at = full_clock(time);
    paint(k);
    if (when) when.textContent = `${at}${words && ': '}${words}`;
    slider.value = String(k);
    slider.setAttribute('aria-valuetext', `${at} ${words}`);
    chosen = time;
    timed.forEach(chart => chart.mark(time));
  };
  choose = time => show(nearest(table, time));
  chosen = table.moments[Number(slider.value)].time;
  figure.querySelectorAll<HTMLElement>('.moment').forEach(tool => { tool.hidden = false; });
  let waiting = 0;
  slider.oninput = () => {
    cancelAnimationFrame(waiting);
    waiting = requestAnimationFrame(() => show(Number(slider.value)));
  };
}

document.querySelectorAll<HTMLElement>('[data-chart]').forEach(parent => {
  const chart = charts[Number(parent.dataset.chart)];
  if (chart.kind === 'piping') piping(chart.table, parent);
  if (chart.kind === 'bars') bar_chart(parent, chart.table);
  if (chart.kind === 'reset') reset_chart(parent, { ...chart.table, points: chart.table.points.filter(p => p.x.length) });
  if (chart.kind === 'time') timed.push(time_charts(parent, [parent], [chart.table], { choose: time => choose?.(time) }));
});
timed.forEach(chart => chart.mark(chosen));
