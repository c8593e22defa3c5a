import { useMemo, type ReactNode } from 'react';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { CycleInput } from '../charts/cycle.ts';
import { isUnheard } from '../app/text.ts';
import { CycleChart } from '../charts/CycleChart.tsx';
import { useConfig, useEngine, useUnits } from '../store/context.ts';
import type { Role } from '../store/store.ts';
import { useOnlyTyped } from '../store/typed.ts';
import { Levels } from './Levels.tsx';

interface Props {
  readonly role: Role;
  readonly unit: string;
}

/** Nothing flows: the readings of a unit that is off are corners of no cycle. */
const STANDING: CycleInput = {
  suctionPressure: null,
  highPressure: null,
  suctionLineTemp: null,
  liquidLineTemp: null,
  dischargeLineTemp: null,
};

/** The cycle as it stands now. */
export function CyclePanel({ role, unit }: Props): ReactNode {
  const config = useConfig(role, unit);
  const system = useUnits();
  const suctionPressure = useValue(role, unit, 'suctionPressure');
  const liquidPressure = useValue(role, unit, 'liquidPressure');
  const dischargePressure = useValue(role, unit, 'dischargePressure');
  const suctionLineTemp = useValue(role, unit, 'suctionLineTemp');
  const liquidLineTemp = useValue(role, unit, 'liquidLineTemp');
  const dischargeLineTemp = useValue(role, unit, 'dischargeLineTemp');
  const waiting = useEngine(role, unit, isUnheard) === true;
  const typed = useOnlyTyped(role, unit);
  const off = useEngine(role, unit, (s) => s.steadiness.state === 'idle' && !typed) === true;
  const highPressure = liquidPressure ?? dischargePressure;
  const input = useMemo(
    () =>
      off
        ? STANDING
        : { suctionPressure, highPressure, suctionLineTemp, liquidLineTemp, dischargeLineTemp },
    [off, suctionPressure, highPressure, suctionLineTemp, liquidLineTemp, dischargeLineTemp],
  );
  if (config === null) return null;
  return (
    <section className="panel cycle" aria-label="Cycle">
      <header className="panel-head">
        <h2>Cycle</h2>
        <p>
          {off && !waiting
            ? `${config.refrigerant}: no cycle while it does not run`
            : config.refrigerant}
        </p>
      </header>
      <CycleChart
        refrigerant={config.refrigerant}
        input={input}
        system={system}
        atmosphere={config.atmosphere.pressure}
      />
      <Levels role={role} unit={unit} />
    </section>
  );
}

function useValue(role: Role, unit: string, channel: ChannelKey): number | null {
  return useEngine(role, unit, (s) => s.channels[channel]?.value ?? null);
}
