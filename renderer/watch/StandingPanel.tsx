import type { ReactNode } from 'react';
import type { Standing } from '../../core/checks/standing.ts';
import { freshChannel } from '../../core/diagnosis/conditions.ts';
import { liveContent } from '../../core/diagnosis/live-content.ts';
import type { SnapshotContent } from '../../core/engine-types.ts';
import { channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import {
  channelDecimals,
  channelNumber,
  channelUnit,
  fixed,
  temperatureText,
} from '../app/format.ts';
import { StandingLines } from '../judgement/StandingPart.tsx';
import { useConfig, useEngine, useUnits } from '../store/context.ts';
import { useStanding } from '../store/use-standing.ts';
import type { Role } from '../store/store.ts';

interface Props {
  readonly role: Role;
  readonly unit: string;
}

/** The glance at a unit that is off: both pressures, and what their standing says. */
export function StandingPanel({ role, unit }: Props): ReactNode {
  const state = useEngine(role, unit, (s) => s);
  const config = useConfig(role, unit);
  const outcome = useStanding(role, unit);
  if (state === null || config === null) return null;
  const content = liveContent(state, config);
  const high: ChannelKey =
    state.channels.liquidPressure === undefined && state.channels.dischargePressure !== undefined
      ? 'dischargePressure'
      : 'liquidPressure';
  const rest = outcome?.ok === true && isAtRest(outcome.value);
  return (
    <section className="standing" aria-label="Standing pressures">
      <div className="standing-pair">
        <StandingPressure
          channel="suctionPressure"
          content={content}
          atmosphere={config.atmosphere.pressure}
          saturation="suctionSaturation"
          rest={rest}
        />
        <StandingPressure
          channel={high}
          content={content}
          atmosphere={config.atmosphere.pressure}
          saturation="liquidSaturation"
          rest={rest}
        />
      </div>
      {outcome !== null && (
        <StandingLines outcome={outcome} atmosphere={config.atmosphere.pressure} />
      )}
    </section>
  );
}

/** Equal and no longer moving: then it is worth judging. */
function isAtRest(standing: Standing): boolean {
  return standing.verdict !== null;
}

function StandingPressure(p: {
  readonly channel: ChannelKey;
  readonly content: SnapshotContent | null;
  readonly atmosphere: number;
  readonly saturation: 'suctionSaturation' | 'liquidSaturation';
  readonly rest: boolean;
}): ReactNode {
  const system = useUnits();
  const reading = p.content === null ? null : freshChannel(p.content, p.channel);
  const saturation = p.content?.figures[p.saturation] ?? null;
  const decimals = channelDecimals(p.channel, system);
  const shown = (pressure: number): number =>
    channelNumber(p.channel, pressure, system, p.atmosphere);
  return (
    <section
      className="big standing-big"
      data-rest={p.rest}
      aria-label={channelRow(p.channel).label}
    >
      <h3>{channelRow(p.channel).label}</h3>
      <p className="big-value">
        <span className="big-digits">
          {reading === null ? '—' : fixed(shown(reading.value), decimals)}
        </span>
        {reading !== null && (
          <span className="big-side">
            <span className="big-unit">{channelUnit(p.channel, system).text}</span>
            <span className="big-pm">
              ±&thinsp;{fixed(shown(reading.value + reading.u) - shown(reading.value), decimals)}
            </span>
          </span>
        )}
      </p>
      <p className="big-against">
        {saturation === null ? ' ' : `saturation ${temperatureText(saturation.value, system)}`}
      </p>
    </section>
  );
}
