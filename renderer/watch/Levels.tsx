import type { ReactNode } from 'react';
import { figureTold } from '../../core/circuit/figures.ts';
import { unitStands } from '../../core/steadiness/rest.ts';
import type { FigureKey } from '../../core/circuit/types.ts';
import { differenceNumber, figureValueText, fixed } from '../app/format.ts';
import { useConfig, useEngine, useUnits } from '../store/context.ts';
import type { Role } from '../store/store.ts';
import { useFigure } from '../store/typed.ts';

interface Props {
  readonly role: Role;
  readonly unit: string;
}

const SHOWN: readonly FigureKey[] = [
  'suctionSaturation',
  'liquidSaturation',
  'airDrop',
  'condensingOverOutdoor',
  'condensingOverReturn',
];

/** The other figures worth a glance, each with its uncertainty. */
export function Levels({ role, unit }: Props): ReactNode {
  return (
    <dl className="levels">
      {SHOWN.map((figure) => (
        <Level key={figure} role={role} unit={unit} figure={figure} />
      ))}
    </dl>
  );
}

function Level({ role, unit, figure }: Props & { readonly figure: FigureKey }): ReactNode {
  const reading = useFigure(role, unit, figure);
  const system = useUnits();
  const config = useConfig(role, unit);
  const off = useEngine(role, unit, (s) => unitStands(s.steadiness)) === true;
  if (reading === null || config === null) return null;
  const { label, explain } = figureTold(figure, config.mode, off);
  return (
    <div>
      <dt title={explain}>{label}</dt>
      <dd>
        {figureValueText(figure, reading.value, config.mode, system)}{' '}
        <span>±{fixed(differenceNumber(reading.u, system), 1)}</span>
      </dd>
    </div>
  );
}
