import type { EngineConfig, SnapshotContent } from '../engine-types.ts';
import type { ChannelKey } from '../stream/channels.ts';
import type { ChannelReading } from '../circuit/types.ts';
import {
  moistAir,
  wetBulbFromHumidity,
  type PsychrometricRefusal,
} from '../circuit/psychrometrics.ts';
import { propagate } from '../circuit/uncertainty.ts';
import { kelvin, pascal } from '../units/brands.ts';
import type { Uncertain } from './types.ts';

/** What the unit works against: the air outdoors and the air that returns to it. K, k = 2. */
export interface Conditions {
  readonly outdoor: Uncertain | null;
  readonly returnAir: Uncertain | null;
  readonly returnWetBulb: Uncertain | null;
  readonly supplyAir: Uncertain | null;
  /** Why the humidity measured gives no wet bulb. */
  readonly airRefused: PsychrometricRefusal | null;
  /** Atmosphere the wet bulb was worked out at, Pa. */
  readonly atmosphere: number;
}

/** The reading of a channel, or null where it has none or a stale one. */
export function freshChannel(content: SnapshotContent, key: ChannelKey): ChannelReading | null {
  const reading = content.channels.find((c) => c.channel === key);
  return reading === undefined || reading.marks.includes('stale') ? null : reading;
}

/**
 * The conditions of a snapshot. The wet bulb is the measured one where there is one, else from dry
 * bulb, humidity and the atmosphere of the site (the barometer where there is one).
 */
export function conditionsOf(content: SnapshotContent, config: EngineConfig): Conditions {
  const returnAir = freshChannel(content, 'returnAirTemp');
  const atmosphere =
    freshChannel(content, 'barometricPressure')?.value ?? config.atmosphere.pressure;
  const wet = wetBulbOf(content, returnAir, atmosphere);
  return {
    outdoor: freshChannel(content, 'outdoorAirTemp'),
    returnAir,
    returnWetBulb: wet.value,
    supplyAir: freshChannel(content, 'supplyAirTemp'),
    airRefused: wet.refused,
    atmosphere,
  };
}

function wetBulbOf(
  content: SnapshotContent,
  returnAir: ChannelReading | null,
  atmosphere: number,
): { readonly value: Uncertain | null; readonly refused: PsychrometricRefusal | null } {
  const measured = freshChannel(content, 'returnAirWetBulb');
  if (measured !== null) {
    if (returnAir === null) return { value: measured, refused: null };
    const air = moistAir(
      kelvin(returnAir.value),
      { wetBulb: kelvin(measured.value) },
      pascal(atmosphere),
    );
    return air.ok ? { value: measured, refused: null } : { value: null, refused: air.error };
  }
  const humidity = freshChannel(content, 'returnAirHumidity');
  if (humidity === null || returnAir === null) return { value: null, refused: null };
  const air = moistAir(
    kelvin(returnAir.value),
    { relativeHumidity: humidity.value },
    pascal(atmosphere),
  );
  if (!air.ok) return { value: null, refused: air.error };
  // Slopes must not step outside 0..1, so the humidity is clamped inside the propagation only.
  const u =
    2 *
    propagate(
      ([t = NaN, rh = NaN]) => wetBulbFromHumidity(t, Math.min(1, Math.max(0, rh)), atmosphere),
      [
        { value: returnAir.value, u: returnAir.u / 2 },
        { value: humidity.value, u: humidity.u / 2 },
      ],
    );
  return { value: { value: air.value.wetBulb, u }, refused: null };
}
