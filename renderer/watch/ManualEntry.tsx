import { useState, type SyntheticEvent, type ReactNode } from 'react';
import { CHANNELS, channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import { channelSI, channelText, channelUnit, type UnitSystem } from '../app/format.ts';
import { useCommand, useConfig, useUnits } from '../store/context.ts';

const ASKED: readonly ChannelKey[] = [
  'suctionPressure',
  'liquidPressure',
  'suctionLineTemp',
  'liquidLineTemp',
  'outdoorAirTemp',
  'returnAirTemp',
  'supplyAirTemp',
];

/** Numbers typed from gauges and thermometers; empty fields are left out. */
export function ManualEntry({ unit }: { readonly unit: string }): ReactNode {
  const system = useUnits();
  const command = useCommand();
  const atmosphere = useConfig('live', unit)?.atmosphere.pressure ?? 101_325;
  const [typed, setTyped] = useState<Partial<Record<ChannelKey, string>>>({});
  const [errors, setErrors] = useState<Partial<Record<ChannelKey, string>>>({});

  const submit = async (event: SyntheticEvent) => {
    event.preventDefault();
    const filled = ASKED.filter((key) => (typed[key] ?? '').trim() !== '');
    const wrong = Object.fromEntries(
      filled
        .map((key) => [key, fault(key, typed[key] ?? '', system, atmosphere)] as const)
        .filter(([, text]) => text !== null),
    ) as Partial<Record<ChannelKey, string>>;
    setErrors(wrong);
    if (filled.length === 0 || Object.keys(wrong).length > 0) return;
    const values = filled.map((channel) => ({
      channel,
      value: number(typed[channel] ?? ''),
      unit: channelUnit(channel, system).symbol,
    }));
    await command('manual.enter', { values });
  };

  return (
    <form
      className="manual panel"
      onSubmit={(event) => void submit(event)}
      aria-label="Enter readings"
    >
      {ASKED.map((key) => (
        <label key={key}>
          <span>
            {CHANNELS[key].label}, {channelUnit(key, system).text}
          </span>
          <input
            inputMode="decimal"
            value={typed[key] ?? ''}
            aria-invalid={errors[key] !== undefined}
            onChange={(event) => setTyped({ ...typed, [key]: event.target.value })}
          />
          {errors[key] !== undefined && <span className="field-error">{errors[key]}</span>}
        </label>
      ))}
      <button type="submit" className="primary">
        Enter readings
      </button>
    </form>
  );
}

/** A decimal comma is what half the world types. */
function number(text: string): number {
  return Number(text.trim().replace(',', '.'));
}

function fault(
  key: ChannelKey,
  text: string,
  system: UnitSystem,
  atmosphere: number,
): string | null {
  const value = number(text);
  if (!Number.isFinite(value)) return 'not a number';
  const si = channelSI(key, value, system, atmosphere);
  const { min, max } = channelRow(key);
  if (si >= min && si <= max) return null;
  const low = channelText(key, min, system, atmosphere);
  return `outside ${low} to ${channelText(key, max, system, atmosphere)}`;
}
