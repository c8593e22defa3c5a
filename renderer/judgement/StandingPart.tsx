import type { ReactNode } from 'react';
import type { Standing, StandingRefusal } from '../../core/checks/standing.ts';
import { standingRefusalText, standingText } from '../../core/diagnosis/standing-text.ts';
import type { Result } from '../../core/result.ts';
import type { UnitSystem } from '../app/format.ts';
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
  const lines = standingLines({ outcome, atmosphere }, system);
  return (
    <ul className="compare-lines">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

/** The same as text. */
export function standingLines({ outcome, atmosphere }: Props, system: UnitSystem): string[] {
  return outcome.ok
    ? [...standingText(outcome.value, atmosphere, system)]
    : [standingRefusalText(outcome.error, system)];
}
