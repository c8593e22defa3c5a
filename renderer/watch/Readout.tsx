import type { ReactNode } from 'react';
import { channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import { channelStyle } from '../charts/line-style.ts';
import { Swatch } from '../charts/Swatch.tsx';
import { channelDecimals, channelNumber, channelUnit, durationText, fixed } from '../app/format.ts';
import { GAP_TEXT } from '../app/text.ts';
import { useConfig, useEngine, useUnits } from '../store/context.ts';
import type { Role } from '../store/store.ts';

interface Props {
  readonly role: Role;
  readonly unit: string;
  readonly channel: ChannelKey;
  /** Whether it has a line in the chart beside it. */
  readonly drawn: boolean;
}

/** The last value of a channel, with its age where it is old and the reason where it is absent. */
export function Readout({ role, unit, channel, drawn }: Props): ReactNode {
  const system = useUnits();
  const value = useEngine(role, unit, (s) => s.channels[channel]?.value ?? null);
  const stale = useEngine(role, unit, (s) => s.channels[channel]?.stale ?? false) === true;
  const why = useEngine(role, unit, (s) => s.channels[channel]?.why ?? null);
  const age = useEngine(role, unit, (s) => {
    const view = s.channels[channel];
    return view === undefined || s.t === null || !view.stale ? 0 : Math.round(s.t - view.t);
  });
  const atmosphere = useConfig(role, unit)?.atmosphere.pressure ?? 101_325;
  const text =
    value === null
      ? '—'
      : fixed(channelNumber(channel, value, system, atmosphere), channelDecimals(channel, system));
  const amiss =
    why !== null ? GAP_TEXT[why] : stale ? `stale, ${durationText(age ?? 0)} old` : null;
  return (
    <li className="readout" data-stale={amiss !== null} data-channel={channel}>
      {drawn ? <Swatch style={channelStyle(channel)} /> : <span />}
      <span className="readout-name">{channelRow(channel).label}</span>
      <span className="readout-name short">{channelRow(channel).short}</span>
      <span className="readout-value">{text}</span>
      <span className="readout-unit">{channelUnit(channel, system).text}</span>
      {amiss !== null && <span className="readout-amiss">{amiss}</span>}
    </li>
  );
}
