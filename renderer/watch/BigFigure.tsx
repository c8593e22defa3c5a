import { meanAtRest } from '../../core/steadiness/rest.ts';
import type { ReactNode } from 'react';
import type { FigureKey, Reading } from '../../core/circuit/types.ts';
import type { EngineState } from '../../core/engine-types.ts';
import { channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import { figureRow } from '../../core/circuit/figures.ts';
import type { Target } from '../../core/diagnosis/types.ts';
import { targetText } from '../../core/diagnosis/words.ts';
import { differenceNumber, differenceUnit, fixed } from '../app/format.ts';
import { useTarget } from '../judgement/use-targets.ts';
import { useEngine, useUnits } from '../store/context.ts';
import type { Role } from '../store/store.ts';
import { useFigure } from '../store/typed.ts';
import { againstTarget, targetLabel } from './against.ts';

interface Props {
  readonly role: Role;
  readonly unit: string;
  readonly figure: 'superheat' | 'subcooling';
}

/** Superheat or subcooling, to be read from two metres: heavy when at rest, light while not. */
export function BigFigure({ role, unit, figure }: Props): ReactNode {
  const reading = useFigure(role, unit, figure);
  const rest = useEngine(role, unit, (s) => meanAtRest(s.steadiness)) === true;
  const target = useTarget(role, unit, figure);
  const stale = useEngine(role, unit, (s) => staleInputs(figure, s)) ?? '';
  const system = useUnits();
  const row = figureRow(figure);
  return (
    <section
      className="big"
      data-rest={rest && stale === ''}
      data-figure={figure}
      aria-label={row.label}
    >
      <header>
        <h3 title={row.explain}>{row.label}</h3>
        {target === null ? (
          <span>no target</span>
        ) : (
          <span title={targetText(target, system)}>{targetLabel(target, system)}</span>
        )}
      </header>
      {reading === null ? (
        <p className="big-value">
          <span className="big-digits">—</span>
        </p>
      ) : (
        <p className="big-value">
          <span className="big-digits">{fixed(differenceNumber(reading.value, system), 1)}</span>
          <span className="big-side">
            <span className="big-unit">{differenceUnit(system)}</span>
            <span className="big-pm">±&thinsp;{fixed(differenceNumber(reading.u, system), 1)}</span>
          </span>
        </p>
      )}
      <p className="big-against">
        {stale === '' ? (
          <Against reading={reading} target={target} />
        ) : (
          <strong>stale: {stale}</strong>
        )}
      </p>
    </section>
  );
}

/** Labels of the stale channels that a figure is computed from now, as one text. */
function staleInputs(figure: FigureKey, state: EngineState): string {
  return figureRow(figure)
    .inputs.map((input) => {
      const options: readonly ChannelKey[] = typeof input === 'string' ? [input] : input;
      return options.find((key) => state.channels[key] !== undefined);
    })
    .filter((key) => key !== undefined && state.channels[key]?.stale === true)
    .map((key) => (key === undefined ? '' : channelRow(key).label))
    .join(', ');
}

function Against(p: {
  readonly reading: Reading | null;
  readonly target: Target | null;
}): ReactNode {
  const system = useUnits();
  if (p.reading === null) return 'cannot be computed now';
  if (p.target === null) return ' ';
  return againstTarget(p.reading, p.target, system);
}
