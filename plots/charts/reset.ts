// Water temperature over outdoor temperature: what reset curves ask for and what the water had, and two points to draw a curve by.

import uPlot from 'uplot';
import { axis, colour, draw, erase, growth, line, pale, panel_in } from './look';

export interface ResetCloud {
  across: string;
  up: string;
  curves: { label: string; x: number[]; y: number[] }[];
  points: { label: string; x: number[]; y: number[] }[];
}
/** [outdoors, supply] in the units of the axes. */
export type Point = [number, number];
export interface Drawn {
  points: [Point, Point];
  unit: string;
  moved: (which: number, point: Point) => void;
}
export interface ResetChart {
  /** New dots, and where the two points now stand. */
  update(cloud: ResetCloud, points?: [Point, Point]): void;
  destroy(): void;
}

/** Curves, dots and the drawn curve have x values of their own: joined into one sorted column with gaps. */
function joined(curves: ResetCloud['curves'], dots: ResetCloud['points']): uPlot.AlignedData {
  const all = [...curves, ...dots], xs: [number, number, number][] = [];
  all.forEach((one, k) => one.x.forEach((x, i) => xs.push([x, k, one.y[i]])));
  xs.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const column = (j: number) => xs.map(([, k, y]) => j === k ? y : j < curves.length ? undefined : null);
  return [xs.map(p => p[0]), ...all.map((_, j) => column(j))] as uPlot.AlignedData;
}

/** With `drawn`, the cloud's curves stand pale as what was, and a curve between two points can be dragged. */
export function reset_chart(parent: HTMLElement, first: ResetCloud, drawn?: Drawn): ResetChart {
  let cloud = first, points = drawn?.points;
  const was = first.curves;
  const curves = () => [...was, ...(points ? [{ label: 'new curve', x: points.map(p => p[0]), y: points.map(p => p[1]) }] : [])];
  const dots = () => cloud.points;
  const data = () => joined(curves(), dots());
  const many = curves().length;
  const dot = (k: number) => k === many ? line(0) : colour('--soft'); // the first kind of dots stands out
  const panel = panel_in(parent);
  const range: uPlot.Range.Function = (_, low, high) => {
    if (points) {
      const at = points.map(p => p[0]);
      low = Math.min(low, ...at), high = Math.max(high, ...at);
    }
    return uPlot.rangeNum(low ?? 0, high ?? 1, 0.06, false);
  };
  const plot = draw({
    height: 360 * growth(),
    series: [
      { label: first.across },
      ...[...curves(), ...dots()].map((one, k): uPlot.Series => k < many
        ? { label: drawn && k < was.length ? `${one.label}, old` : one.label, spanGaps: true, points: { show: false },
            stroke: () => drawn && k < was.length ? pale(line(k + 1), 0.55) : line(k + 1), width: drawn && k < was.length ? 2 : 2.5,
            dash: drawn && k < was.length ? [6, 5] : [] }
        : { label: one.label, stroke: () => dot(k), paths: () => null,
            points: { show: true, size: k === many ? 5 : 4, fill: () => pale(dot(k), 0.5), width: 0.5 } }),
    ],
    scales: { x: { time: false, range } },
    axes: [axis({ label: first.across }), axis({ size: 56 * growth(), label: first.up })],
    cursor: { drag: { x: false, y: false }, show: !drawn }, ...(drawn ? { legend: { live: false } } : {}),
    hooks: { draw: [() => place()], setSize: [() => place()] },
  }, data(), panel);

  const handles: HTMLElement[] = [];
  const say = (handle: HTMLElement, [outdoors, supply]: Point) => {
    const { min, max } = plot.scales.y;
    handle.setAttribute('aria-valuemin', String(Math.floor(min ?? supply)));
    handle.setAttribute('aria-valuemax', String(Math.ceil(max ?? supply)));
    handle.setAttribute('aria-valuenow', String(supply));
    handle.setAttribute('aria-valuetext', `${supply} ${drawn!.unit} supply at ${outdoors} ${drawn!.unit} outdoor`);
  };
  const move = (which: number, to: Point) => {
    const point: Point = [Math.round(to[0]), Math.round(to[1])];
    if (!points || (points[which][0] === point[0] && points[which][1] === point[1])) return;
    const other = points[1 - which];
    if (point[0] === other[0]) return; // two points at one outdoor temperature are no curve
    points = which ? [other, point] : [point, other];
    plot.setData(data());
    drawn!.moved(which, point);
  };
  function place(): void {
    if (!points) return;
    handles.forEach((handle, k) => {
      const [x, y] = points![k];
      handle.style.left = `${plot.valToPos(x, 'x')}px`, handle.style.top = `${plot.valToPos(y, 'y')}px`;
      say(handle, [x, y]);
    });
  }
  if (drawn && points) {
    points.forEach((point, which) => {
      const handle = document.createElement('div');
      handle.className = 'grip';
      handle.tabIndex = 0;
      handle.setAttribute('role', 'slider');
      const colder = point[0] <= points![1 - which][0];
      handle.setAttribute('aria-label', `${colder ? 'cold' : 'mild'} point of the reset curve`);
      handle.title = 'up and down: supply temperature; left and right: outdoor temperature';
      handle.setAttribute('aria-orientation', 'vertical');
      handle.textContent = colder ? 'cold' : 'mild';
      handle.onkeydown = e => {
        const by = ({ ArrowUp: [0, 1], ArrowDown: [0, -1], ArrowLeft: [-1, 0], ArrowRight: [1, 0], PageUp: [0, 10], PageDown: [0, -10] } as
                    Record<string, Point>)[e.key];
        if (!by) return;
        e.preventDefault();
        const [x, y] = points![which];
        move(which, [x + by[0], y + by[1]]);
      };
      handle.onpointerdown = e => {
        handle.setPointerCapture(e.pointerId);
        handle.focus();
        e.preventDefault();
      };
      handle.onpointermove = e => {
        if (!handle.hasPointerCapture(e.pointerId)) return;
        const box = plot.over.getBoundingClientRect();
        move(which, [plot.posToVal(Math.min(Math.max(e.clientX - box.left, 0), box.width), 'x'),
                     plot.posToVal(Math.min(Math.max(e.clientY - box.top, 0), box.height), 'y')]);
      };
      handles.push(plot.over.appendChild(handle));
    });
    place();
  }

  return {
    update(next, now) {
      if (next.points.length === cloud.points.length) cloud = next;
      if (now) points = now;
      plot.setData(data());
    },
    destroy: () => { erase(plot), panel.remove(); },
  };
}
