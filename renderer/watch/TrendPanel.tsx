import type { ReactNode } from 'react';
import type { ChannelKey } from '../../core/stream/channels.ts';
import { TrendChart } from '../charts/TrendChart.tsx';
import { useConfig, useUnits } from '../store/context.ts';
import type { Trend } from '../store/trends.ts';
import type { Role } from '../store/store.ts';
import { Readout } from './Readout.tsx';

interface Props {
  readonly role: Role;
  readonly unit: string;
  readonly title: string;
  readonly channels: readonly ChannelKey[];
  /** Channels told beside the chart but not drawn in it. */
  readonly also?: readonly ChannelKey[];
  readonly trend: Trend;
}

/** A chart of channels of one kind, with the last values as its legend. */
export function TrendPanel({ role, unit, title, channels, also, trend }: Props): ReactNode {
  const system = useUnits();
  const atmosphere = useConfig(role, unit)?.atmosphere.pressure ?? 101_325;
  if (channels.length === 0) return null;
  return (
    <section className="panel trend" aria-label={title}>
      <TrendChart
        label={`${title} over time`}
        keys={channels}
        lines={trend.lines}
        from={trend.from}
        to={trend.to}
        system={system}
        atmosphere={atmosphere}
      />
      <ul className="readouts">
        {[...channels, ...(also ?? [])].map((channel) => (
          <Readout
            key={channel}
            role={role}
            unit={unit}
            channel={channel}
            drawn={channels.includes(channel)}
          />
        ))}
      </ul>
    </section>
  );
}
