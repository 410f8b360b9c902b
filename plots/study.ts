// Fills the places of a study's page with its pictures.

import { cloud_chart, type Cloud } from './study/cloud';
import { front_chart, type Front } from './study/front';
import { heat_chart, type Heat } from './study/heat';
import { line_chart, type Lines } from './study/lines';
import { place } from './study/look';
import { share_chart, type Shares } from './study/shares';

type Chart = { kind: 'line'; table: Lines } | { kind: 'heat'; table: Heat } | { kind: 'scatter'; table: Cloud } |
  { kind: 'shares'; table: Shares } | { kind: 'front'; table: Front };

function built(chart: Chart, width: number): Element {
  switch (chart.kind) {
    case 'line': return line_chart(chart.table, width);
    case 'heat': return heat_chart(chart.table, width);
    case 'scatter': return cloud_chart(chart.table, width);
    case 'shares': return share_chart(chart.table, width);
    case 'front': return front_chart(chart.table, width);
  }
}

const charts: Chart[] = JSON.parse(document.getElementById('charts')!.textContent!);
document.querySelectorAll<HTMLElement>('[data-chart]').forEach(parent => {
  place(parent, width => built(charts[Number(parent.dataset.chart)], width));
});
