import { meanAtRest } from '../../core/steadiness/rest.ts';
import type { ReactNode } from 'react';
import type { Mode } from '../../core/circuit/types.ts';
import type { QuantityMotion, SteadinessState } from '../../core/steadiness/types.ts';
import { ClosingIn } from '../charts/ClosingIn.tsx';
import { distanceOf, headingOf } from '../charts/closing-in.ts';
import { quantityStyle } from '../charts/line-style.ts';
import { Swatch } from '../charts/Swatch.tsx';
import { differenceText, durationText, figureValueText, type UnitSystem } from '../app/format.ts';
import { isUnheard, quantityText } from '../app/text.ts';
import { useConfig, useEngine, useUnits } from '../store/context.ts';
import type { Trend } from '../store/trends.ts';
import type { Role } from '../store/store.ts';
import { useOnlyTyped } from '../store/typed.ts';

interface Props {
  readonly role: Role;
  readonly unit: string;
  readonly trend: Trend;
}

const NONE: readonly QuantityMotion[] = [];

/** The main picture with its words beside it. */
export function ClosingPanel({ role, unit, trend }: Props): ReactNode {
  const mode = useConfig(role, unit)?.mode ?? 'cooling';
  const motions = useEngine(role, unit, (s) => s.steadiness.motions) ?? NONE;
  const state = useEngine(role, unit, (s) => s.steadiness.state) ?? 'idle';
  const since = useEngine(role, unit, (s) => s.steadiness.since) ?? 0;
  const timeLeft = useEngine(role, unit, (s) => s.steadiness.timeLeft);
  const rest = useEngine(role, unit, (s) => meanAtRest(s.steadiness)) === true;
  const typed = useOnlyTyped(role, unit);
  const waiting = useEngine(role, unit, isUnheard) === true;
  const present = motions.filter((m) => m.value !== null);
  const still = present.filter((m) => m.inside).length;
  return (
    <section className="panel closing" aria-label="Closing in">
      <header className="panel-head">
        <h2>Closing in</h2>
        <p className="closing-scale">tolerances away from where each heads</p>
        <p className="closing-key">
          <BandSwatch />
          inside its tolerance
        </p>
        <p className="closing-count" data-all={rest}>
          {countText(state, rest, still, present.length)}
        </p>
      </header>
      <div className="closing-body">
        <ClosingIn
          motions={motions}
          lines={trend.lines}
          from={trend.from}
          now={trend.now}
          state={state}
          rest={rest}
          since={since}
          timeLeft={timeLeft}
          empty={emptyText(state, typed, waiting)}
        />
        <ul className="closing-list">
          {motions.map((m) => (
            <MotionRow key={m.key} motion={m} mode={mode} off={state === 'idle'} />
          ))}
        </ul>
      </div>
    </section>
  );
}

/** The band of the picture in small. Its name stands beside it here, where no line crosses it. */
function BandSwatch(): ReactNode {
  return (
    <svg width="26" height="12" aria-hidden="true">
      <rect x="0" y="1" width="26" height="10" fill="var(--still-wash)" />
      <path d="M0 1 H26 M0 11 H26" stroke="var(--still)" strokeWidth="2" />
    </svg>
  );
}

/** What stands in the picture while nothing is drawn in it. */
function emptyText(state: SteadinessState, typed: boolean, waiting: boolean): string {
  if (typed) return 'Single readings close in on nothing.';
  if (waiting) return 'Nothing has been read yet.';
  return state === 'idle'
    ? 'The unit is off: nothing closes in.'
    : 'Where it heads cannot be told yet.';
}

/** How near the whole is. One may step out for a moment without the whole leaving its rest. */
function countText(state: SteadinessState, rest: boolean, still: number, all: number): string {
  if (state === 'settled') return 'at rest';
  if (state === 'hunting' && rest) return 'mean at rest';
  // Without a needed reading, or at a standstill, nothing closes in on anything.
  if (state === 'blind' || state === 'idle') return '';
  if (all > 0 && still === all) return 'all inside, not yet sure';
  return all === 0 ? '' : `${still} of ${all} still`;
}

function MotionRow(p: {
  readonly motion: QuantityMotion;
  readonly mode: Mode;
  readonly off: boolean;
}): ReactNode {
  const { motion } = p;
  const system = useUnits();
  const heading = headingOf(motion);
  return (
    <li data-inside={motion.inside}>
      <Swatch style={quantityStyle(motion.key)} />
      <span className="motion-name">{quantityText(motion.key, p.mode)}</span>
      <span className="motion-where">{p.off ? ' ' : where(motion, system)}</span>
      <span className="motion-heading">
        {heading === null || motion.value === null
          ? ' '
          : `heads for ${figureValueText(motion.key, heading, p.mode, system)}`}
      </span>
    </li>
  );
}

function where(motion: QuantityMotion, system: UnitSystem): string {
  if (motion.value === null) return 'no value';
  if (motion.swing !== null && (motion.inside || motion.swing.amplitude > motion.tolerance)) {
    const { amplitude, period } = motion.swing;
    return `swings ±${differenceText(amplitude, system)} / ${durationText(period)}`;
  }
  if (motion.inside) return 'still';
  const distance = distanceOf(motion);
  if (distance === null) return 'not told yet';
  return Math.abs(distance) < 1 ? 'inside, not yet sure' : `${Math.abs(distance).toFixed(1)}× away`;
}
