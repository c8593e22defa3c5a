import { useMemo, type ReactNode } from 'react';
import type { ChannelKey } from '../../core/stream/channels.ts';
import { CycleChart } from '../charts/CycleChart.tsx';
import { useConfig, useEngine, useUnits } from '../store/context.ts';
import type { Role } from '../store/store.ts';
import { Levels } from './Levels.tsx';

interface Props {
  readonly role: Role;
  readonly unit: string;
}

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
  const highPressure = liquidPressure ?? dischargePressure;
  const input = useMemo(
    () => ({ suctionPressure, highPressure, suctionLineTemp, liquidLineTemp, dischargeLineTemp }),
    [suctionPressure, highPressure, suctionLineTemp, liquidLineTemp, dischargeLineTemp],
  );
  if (config === null) return null;
  return (
    <section className="panel cycle" aria-label="Cycle">
      <header className="panel-head">
        <h2>Cycle</h2>
        <p>{config.refrigerant}</p>
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
