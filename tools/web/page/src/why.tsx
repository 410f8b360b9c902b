// The arithmetic behind short cycling with this case's numbers, one step at a time or all together.

import { useState } from 'preact/hooks';
import type { WhyStep } from './interface';
import { Choice } from './parts';

export const Step = ({ step, number, of }: { step: WhyStep; number: number; of: number }) => <>
  <h3>{number} of {of}: {step.title}</h3>
  <p>{step.words}</p>
  {step.sum && <p class="sum">{step.sum}</p>}
</>;

export function Why({ steps }: { steps: WhyStep[] }) {
  const [way, set_way] = useState<'one at a time' | 'all together'>('one at a time'), [at, go] = useState(0);
  const k = Math.min(at, steps.length - 1);
  return <div class="why-steps">
    <Choice label="How to read it" of={['one at a time', 'all together'] as const} now={way} take={set_way} />
    {way === 'all together'
      ? <ol>{steps.map((step, i) => <li key={i}><Step step={step} number={i + 1} of={steps.length} /></li>)}</ol>
      : <>
        <div class="step" aria-live="polite"><Step step={steps[k]} number={k + 1} of={steps.length} /></div>
        <div class="tools">
          <button type="button" disabled={k === 0} onClick={() => go(k - 1)}>Back</button>
          <button type="button" disabled={k === steps.length - 1} onClick={() => go(k + 1)}>Next step</button>
        </div>
      </>}
  </div>;
}
