import type { ReactNode } from 'react';
import type { Standing, StandingRefusal } from '../../core/checks/standing.ts';
import { standingRefusalText, standingText } from '../../core/diagnosis/standing-text.ts';
import type { Result } from '../../core/result.ts';
import { useUnits } from '../store/context.ts';

interface Props {
  readonly outcome: Result<Standing, StandingRefusal>;
  /** Pa absolute. */
  readonly atmosphere: number;
}

/** While the unit is off: equalising, then the standing pressure against the surroundings. */
export function StandingPart(props: Props): ReactNode {
  return (
    <section aria-label="Standing check">
      <h3>Standing check</h3>
      <StandingLines {...props} />
    </section>
  );
}

/** What the standing check says, line by line. */
export function StandingLines({ outcome, atmosphere }: Props): ReactNode {
  const system = useUnits();
  const lines = outcome.ok
    ? standingText(outcome.value, atmosphere, system)
    : [standingRefusalText(outcome.error, system)];
  return (
    <ul className="compare-lines">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
