/** How a remembered sensor fares. A closed set, worst first where several hold. */
export const SENSOR_HEALTH = [
  'radioUnavailable',
  'failed',
  'notSeen',
  'connecting',
  'lost',
  'keyNeeded',
  'silent',
  'garbage',
  'batteryLow',
  'weakSignal',
  'good',
] as const;
export type SensorHealth = (typeof SENSOR_HEALTH)[number];

/** What to do about each state. */
export const SENSOR_TIPS: Readonly<Record<SensorHealth, string>> = {
  radioUnavailable: 'The computer’s Bluetooth is off or absent; see the source’s own message.',
  failed: 'It stopped the radio several times and is left alone now. Restart it, then the source.',
  notSeen: 'Switch it on and bring it within a few metres; some sleep until a button is pressed.',
  connecting: 'Wait a few seconds. If it stays, another phone or tablet may hold the sensor.',
  lost: 'Move closer or check its battery; the program keeps trying.',
  keyNeeded: 'Its broadcasts are encrypted: enter the 32-digit key that its maker gave you.',
  silent: 'It is linked but sends nothing. Wake it, or switch it off and on.',
  garbage: 'It sends what its format does not allow. Check its description, or restart it.',
  batteryLow: 'Change its battery before a long test.',
  weakSignal: 'Move the computer closer, or metal out of the way.',
  good: 'Nothing to do.',
};

/** Below this a battery is low (percent), and a signal weak (dBm); common practice, no source. */
const LOW_BATTERY = 20;
const WEAK_SIGNAL = -88;
/** A value is late after this many periods, but not before this many seconds. */
const LATE_PERIODS = 3;
const LATE_AT_LEAST_S = 15;

/** What is known of a sensor at a moment. Times in seconds by the same clock. */
export interface SensorFacts {
  readonly now: number;
  readonly radio: boolean;
  /** How it reaches us: over a link, or by broadcasts. */
  readonly link: 'broadcast' | 'none' | 'connecting' | 'connected' | 'lost' | 'failed';
  readonly lastSeen: number | null;
  /** Since when it is linked, or first heard where it broadcasts. */
  readonly since: number | null;
  readonly lastValue: number | null;
  /** The sensor's own period where known, else the nominal one. */
  readonly period_s: number;
  readonly battery_percent: number | null;
  readonly rssi_dBm: number | null;
  readonly keyNeeded: boolean;
  /** It sends on an event only (a weighing, a button), so that silence means nothing. */
  readonly onEvent: boolean;
  /** Packets refused since the last good one. */
  readonly refused: number;
}

/** The state of a sensor: the first in the order of {@link SENSOR_HEALTH} that holds. */
export function sensorHealth(f: SensorFacts): SensorHealth {
  if (!f.radio) return 'radioUnavailable';
  if (f.link === 'failed') return 'failed';
  if (f.link === 'connecting') return 'connecting';
  if (f.link === 'lost') return 'lost';
  if (f.lastSeen === null || f.link === 'none') return 'notSeen';
  if (f.keyNeeded) return 'keyNeeded';
  if (f.refused >= 3) return 'garbage';
  const latest = Math.max(f.lastValue ?? -Infinity, f.since ?? -Infinity);
  if (!f.onEvent && f.now - latest > lateAfter(f.period_s)) return 'silent';
  if (!f.onEvent && f.lastValue === null) return 'connecting';
  if (f.battery_percent !== null && f.battery_percent < LOW_BATTERY) return 'batteryLow';
  if (f.rssi_dBm !== null && f.rssi_dBm < WEAK_SIGNAL) return 'weakSignal';
  return 'good';
}

/** Seconds without a value after which a sensor counts as silent. */
export function lateAfter(period_s: number): number {
  return Math.max(LATE_AT_LEAST_S, LATE_PERIODS * period_s);
}
