import { useMemo, type ReactNode } from 'react';
import { refrigerant } from '../../core/refrigerant/refrigerants.ts';
import { unitStands } from '../../core/steadiness/rest.ts';
import type { QuantityKey } from '../../core/steadiness/types.ts';
import { flammableCaution, flammableLabel } from '../app/cautions.ts';
import { METERING_TEXT } from '../../core/circuit/metering-text.ts';
import { MODE_TEXT } from '../app/text.ts';
import { useConfig, useEngine, useJobUnit } from '../store/context.ts';
import { useTrend } from '../store/trends.ts';
import type { Role } from '../store/store.ts';
import { BigFigure } from './BigFigure.tsx';
import { channelList, groupChannels } from './channel-groups.ts';
import { ClosingPanel } from './ClosingPanel.tsx';
import { CyclePanel } from './CyclePanel.tsx';
import { MarksLine } from './MarksLine.tsx';
import { StandingPanel } from './StandingPanel.tsx';
import { StateSlab } from './StateSlab.tsx';
import { TrendPanel } from './TrendPanel.tsx';

interface Props {
  readonly role: Role;
  readonly unit: string;
  /** Seconds of history drawn; null for all. */
  readonly range: number | null;
  /** What stands at the foot of the first column: snapshot controls, say. */
  readonly children?: ReactNode;
}

const JUDGED: readonly QuantityKey[] = [
  'suctionSaturation',
  'liquidSaturation',
  'superheat',
  'subcooling',
  'airDrop',
];

/**
 * All about one unit: the glance at the left, the picture and the trends at the right. While the
 * unit is off the standing pressures take the place of superheat and subcooling.
 */
export function UnitPanel({ role, unit, range, children }: Props): ReactNode {
  const list = useEngine(role, unit, channelList) ?? '';
  const groups = useMemo(() => groupChannels(list), [list]);
  const keys = useMemo(
    () => [...groups.pressures, ...groups.temperatures, ...groups.others, ...JUDGED],
    [groups],
  );
  const trend = useTrend(role, unit, keys, range);
  const off = useEngine(role, unit, (s) => unitStands(s.steadiness)) === true;
  return (
    <article className="unit" aria-label={`Unit ${unit}`}>
      <div className="unit-grid">
        <div className="glance">
          <UnitHead role={role} unit={unit} />
          <StateSlab role={role} unit={unit} />
          {off ? (
            <StandingPanel role={role} unit={unit} />
          ) : (
            <div className="bigs">
              <BigFigure role={role} unit={unit} figure="superheat" />
              <BigFigure role={role} unit={unit} figure="subcooling" />
            </div>
          )}
          <MarksLine role={role} unit={unit} />
          <div className="glance-foot">{children}</div>
        </div>
        <ClosingPanel role={role} unit={unit} trend={trend} />
        <CyclePanel role={role} unit={unit} />
        <div className="trends">
          <TrendPanel
            role={role}
            unit={unit}
            title="Pressures"
            channels={groups.pressures}
            also={groups.others}
            trend={trend}
          />
          <TrendPanel
            role={role}
            unit={unit}
            title="Temperatures"
            channels={groups.temperatures}
            trend={trend}
          />
        </div>
      </div>
    </article>
  );
}

function UnitHead({ role, unit }: { readonly role: Role; readonly unit: string }): ReactNode {
  const config = useConfig(role, unit);
  const name = useJobUnit(unit)?.name ?? '';
  if (config === null) return null;
  const { safetyClass } = refrigerant(config.refrigerant);
  const burns = flammableLabel(safetyClass);
  return (
    <header className="unit-head">
      <h1>
        <span className="unit-key">{unit}</span> {name}
      </h1>
      <p>
        {config.refrigerant} · {METERING_TEXT[config.metering]} · {MODE_TEXT[config.mode]}
        {burns !== null && (
          <>
            {' · '}
            <b title={flammableCaution(safetyClass) ?? ''}>{burns}</b>
          </>
        )}
      </p>
    </header>
  );
}
