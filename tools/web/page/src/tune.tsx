// Tune: the two points of the reset curve are dragged over what the water really had; rooms, condensing and fuel follow.

import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { reset_chart, type Point, type ResetChart } from '../../../../plots/charts/reset';
import type { Edit, Knobs, ResetCloud } from './interface';
import { NotKept, useKnobs, useTrial } from './knobs';
import { BeforeNow, Failed, Faults, Progress, Section, Unrunnable, printed, sentence, type ViewProps } from './parts';
import { useRun } from './running';

type Curve = NonNullable<Knobs['curve']>;
type Points = [Point, Point];
const points_of = (curve: Curve): Points => [[curve.outdoors[0], curve.supply[0]], [curve.outdoors[1], curve.supply[1]]];
function edits_of(curve: Curve, points: Points): Edit[] {
  const was = points_of(curve);
  const one = (key: string, value: number): Edit =>
    ({ do: 'set', at: { ...curve.at, path: [...curve.at.path, key] }, value: `${value} ${curve.unit}` });
  return points.flatMap(([outdoors, supply], k) => [
    ...(outdoors !== was[k][0] ? [one(curve.outdoors_key[k], outdoors)] : []),
    ...(supply !== was[k][1] ? [one(curve.supply_key[k], supply)] : []),
  ]);
}

function Cloud({ before, cloud, points, unit, moved }: {
  before: ResetCloud; cloud: ResetCloud; points: Points; unit: string; moved: (which: number, point: Point) => void;
}) {
  const place = useRef<HTMLDivElement>(null), chart = useRef<ResetChart>(), hear = useRef(moved);
  hear.current = moved;
  useLayoutEffect(() => {
    chart.current = reset_chart(place.current!, before, { points, unit, moved: (which, point) => hear.current(which, point) });
    return () => chart.current!.destroy();
  }, [before, unit]);
  useLayoutEffect(() => chart.current!.update(cloud, points), [before, cloud, points]);
  return <div class="chart" ref={place} />;
}

export function Tune({ engine, scenario, edit }: ViewProps) {
  const base = useRun(engine, scenario), knobs = useKnobs(engine, scenario), trial = useTrial(engine, scenario);
  const curve = knobs?.curve, unit = printed(curve?.unit ?? ''), [drawn, draw] = useState<Points>();
  useEffect(() => draw(undefined), [scenario.text, scenario.file, scenario.units]);
  if (base.run?.faults.length) return <Unrunnable title="Tune the reset curve" faults={base.run.faults} />;
  const points = drawn ?? (curve && points_of(curve));
  const take = (next: Points) => {
    draw(next);
    const edits = edits_of(curve!, next);
    if (edits.length) trial.move(edits);
    else trial.back();
  };
  const moved = (which: number, point: Point) => take(points!.map((p, k) => k === which ? point : p) as Points);
  const edits = curve && points ? edits_of(curve, points) : [];
  const picture = (edits.length && trial.picture) || base.run;
  const say = (p: Points) => p.map(([outdoors, supply]) => `${supply} ${unit} at ${outdoors} ${unit} outdoor`).join(', ');
  const cold = points && points[0][0] <= points[1][0] ? 0 : 1;
  return <div class="view">
    <h1>Tune the reset curve</h1>
    {base.busy && <Progress share={base.share} what="Running the scenario" stop={base.stop} />}
    {base.failed && <Failed failed={base.failed} again={base.again} />}
    {knobs && !curve && <p>This scenario has no reset curve with a cold and a mild point. Add one in Lay out, then tune it here.</p>}
    {curve && points && base.run && <div class="tune">
      <section aria-label="Reset curve">
        {base.run.reset && <Cloud before={base.run.reset} cloud={picture?.reset ?? base.run.reset} points={points} unit={unit}
          moved={moved} />}
        <p class="note">Dots are actual water temperatures. Drag the two handles or use the arrow keys. The dashed line is the old curve.</p>
        <fieldset class="points">
          <legend>The two points</legend>
          {points.map((point, k) => (['outdoor', 'supply'] as const).map((what, j) => {
            const name = `${k === cold ? 'cold' : 'mild'} point, ${what} temperature in ${unit}`;
            return <label key={name}>{name}
              <input type="number" step="1" value={point[j]} onChange={e => {
                const value = e.currentTarget.valueAsNumber;
                if (Number.isFinite(value)) moved(k, j ? [point[0], value] : [value, point[1]]);
              }} />
            </label>;
          }))}
        </fieldset>
        <NotKept words={edits.length ? [`reset curve ${say(points_of(curve))} → ${say(points)}`] : []} keep={() => edit(edits)}
          back={() => take(points_of(curve))} />
        <p class="note" role="status">{trial.busy ? 'calculating …' : picture?.quick ?? ''}</p>
        {trial.failed && <Failed failed={trial.failed} />}
        {picture?.faults.length ? <Faults faults={picture.faults} /> : null}
      </section>
      <section aria-label="Results">
        {base.run.key && picture?.key && <BeforeNow before={base.run.key} now={picture.key} caption="The whole house" />}
      </section>
      <section aria-label="Results by zone" class="zone-tables">
        {base.run.zones && picture?.zones?.map(z => <BeforeNow key={z.name} caption={z.name} now={z.figures}
          before={base.run!.zones!.find(b => b.name === z.name)?.figures ?? []} />)}
      </section>
    </div>}
    {curve && picture?.reasons?.length ? <Section title="In words">
      {picture.reasons.map(r => <p class="answer" key={r}>{sentence(r)}</p>)}
    </Section> : null}
  </div>;
}
