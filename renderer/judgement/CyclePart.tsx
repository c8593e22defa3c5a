import { useMemo, type ReactNode } from 'react';
import { freshChannel } from '../../core/diagnosis/conditions.ts';
import type { EngineConfig, SnapshotContent } from '../../core/engine-types.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import { channelUnit, type UnitSystem } from '../app/format.ts';
import { CycleChart } from '../charts/CycleChart.tsx';

interface Props {
  readonly content: SnapshotContent;
  readonly config: EngineConfig;
  readonly system: UnitSystem;
}

/** The cycle that the judged readings draw, within the saturation dome. */
export function CyclePart({ content, config, system }: Props): ReactNode {
  const input = useMemo(() => {
    const value = (key: ChannelKey): number | null => freshChannel(content, key)?.value ?? null;
    return {
      suctionPressure: value('suctionPressure'),
      highPressure: value('liquidPressure') ?? value('dischargePressure'),
      suctionLineTemp: value('suctionLineTemp'),
      liquidLineTemp: value('liquidLineTemp'),
      dischargeLineTemp: value('dischargeLineTemp'),
    };
  }, [content]);
  if (input.suctionPressure === null || input.highPressure === null) return null;
  const pressure = channelUnit('suctionPressure', system).text;
  return (
    <section className="judged-cycle" aria-label="Cycle">
      <h3>The cycle</h3>
      <CycleChart
        refrigerant={config.refrigerant}
        input={input}
        system={system}
        atmosphere={config.atmosphere.pressure}
      />
      <p className="muted">
        Pressure ({pressure}) over enthalpy; inside the grey dome liquid and vapour stand together.
        {input.dischargeLineTemp === null &&
          ' Dashed: a compression without loss, since no discharge temperature is read.'}
      </p>
    </section>
  );
}
