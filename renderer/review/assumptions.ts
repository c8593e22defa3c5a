import { METERING_KINDS } from '../../core/circuit/types.ts';
import type { EngineConfig } from '../../core/engine-types.ts';
import { REFRIGERANT_IDS } from '../../core/refrigerant/types.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import { METRE_PER_FOOT } from '../../core/units/length.ts';
import { atmosphereAtAltitude } from '../../core/units/pressure.ts';
import { channelNumber, type UnitSystem } from '../app/format.ts';
import { typedNumber } from '../app/numbers.ts';

const ALTITUDE = { min: -500, max: 6000 } as const;

/** The texts of the form of other assumptions. */
export interface AssumptionDraft {
  readonly refrigerant: string;
  readonly metering: string;
  /** Empty: as recorded. */
  readonly altitude: string;
  readonly offsets: Readonly<Partial<Record<ChannelKey, string>>>;
}

/** The form as recorded. */
export function assumptionDraft(config: EngineConfig): AssumptionDraft {
  return { refrigerant: config.refrigerant, metering: config.metering, altitude: '', offsets: {} };
}

/** SI of a correction typed in the unit a channel is shown in. */
function offsetSI(key: ChannelKey, shown: number, system: UnitSystem): number {
  return shown / (channelNumber(key, 1, system, 0) - channelNumber(key, 0, system, 0));
}

/** The config with other assumptions, or what is wrong with a field. Offsets add to recorded ones. */
export function assumed(
  draft: AssumptionDraft,
  recorded: EngineConfig,
  system: UnitSystem,
): { readonly config: EngineConfig } | { readonly errors: Readonly<Record<string, string>> } {
  const errors: Record<string, string> = {};
  const offsets: Partial<Record<ChannelKey, number>> = { ...recorded.offsets };
  for (const [channel, text] of Object.entries(draft.offsets)) {
    const key = channel as ChannelKey;
    const value = typedNumber(text);
    if (value === null) continue;
    if (!Number.isFinite(value)) errors[key] = 'not a number';
    offsets[key] = (recorded.offsets[key] ?? 0) + offsetSI(key, value, system);
  }
  const typed = typedNumber(draft.altitude);
  const altitude = typed === null ? null : typed * (system === 'us' ? METRE_PER_FOOT : 1);
  if (altitude !== null && !(altitude >= ALTITUDE.min && altitude <= ALTITUDE.max)) {
    errors['altitude'] = `from ${ALTITUDE.min} to ${ALTITUDE.max} m (19,685 ft)`;
  }
  if (Object.keys(errors).length > 0) return { errors };
  return {
    config: {
      ...recorded,
      refrigerant: REFRIGERANT_IDS.find((id) => id === draft.refrigerant) ?? recorded.refrigerant,
      metering: METERING_KINDS.find((kind) => kind === draft.metering) ?? recorded.metering,
      atmosphere:
        altitude === null
          ? recorded.atmosphere
          : { pressure: atmosphereAtAltitude(altitude), kind: 'altitude' },
      offsets,
    },
  };
}
