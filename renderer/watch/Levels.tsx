import type { ReactNode } from 'react';
import { figureRow } from '../../core/circuit/figures.ts';
import type { FigureKey } from '../../core/circuit/types.ts';
import { differenceNumber, differenceText, fixed, temperatureText } from '../app/format.ts';
import { useUnits } from '../store/context.ts';
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
  const row = figureRow(figure);
  if (reading === null) return null;
  const value =
    row.kind === 'temperature'
      ? temperatureText(reading.value, system)
      : differenceText(reading.value, system);
  return (
    <div>
      <dt title={row.explain}>{row.label}</dt>
      <dd>
        {value} <span>±{fixed(differenceNumber(reading.u, system), 1)}</span>
      </dd>
    </div>
  );
}
