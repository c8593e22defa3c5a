/**
 * Sessions from formulas, not from a simulator of refrigerant: approaches of one to four modes,
 * ringing, overshoot, swings, ramps and steps. They know nothing of the physics the plant assumes,
 * and so guard the detector against being fitted to one simulator.
 */
import type { EngineConfig } from '../../../core/engine-types.ts';
import { createDice, type Dice } from './dice.ts';
import { channelsOf, measure, SENSOR_CLASSES } from './sensors.ts';
import type { Session, Truth } from './session.ts';

const KINDS = [
  'plain',
  'plain',
  'slow tail',
  'overshoot',
  'ringing',
  'hunting',
  'hunting',
  'mild swing',
  'ramp',
  'pull-down',
  'step',
  'step',
  'unseen start',
] as const;
type Kind = (typeof KINDS)[number];

/** How strongly each quantity moves relative to superheat. */
const SHARE = [0.35, 0.45, 1, 0.55, 0.35] as const;
/** Values at rest, K. */
const REST = [280, 315, 6, 6, 11] as const;

interface Mode {
  readonly tau: number;
  /** Seconds a whole ring takes; Infinity for a plain decay. */
  readonly ring: number;
  readonly amplitudes: readonly number[];
  readonly from: number;
}

/** Rates of the sensors, Hz; the usual ones more often than the extremes. */
const RATES = [0.2, 0.5, 1, 1, 1, 2, 4, 10] as const;

/** Engine settings of the analytic set. */
export function analyticConfig(minimumRun: number): EngineConfig {
  return {
    refrigerant: 'R-410A',
    metering: 'txv',
    mode: 'cooling',
    atmosphere: { pressure: 101325, kind: 'assumed' },
    gauge: { channels: [], convertedWith: 101325 },
    accuracy: {},
    offsets: {},
    minimumRun,
    tolerances: {},
    marks: ['simulated'],
  };
}

/** Makes the session of a seed. */
export function analyticSession(seed: number, minimumRun: number): Session {
  const dice = createDice(seed);
  const kind: Kind = KINDS[seed % KINDS.length] ?? 'plain';
  const { truth, start } = analyticTruth(dice, kind);
  const run = truth.runs[0] ?? { from: 0, to: truth.length };
  const channels = channelsOf(truth.series, start, run.to, dice.chance(0.5));
  const sensors = dice.pick(SENSOR_CLASSES);
  const rate = dice.pick(RATES);
  const samples = measure(dice, channels, rate, sensors);
  const config = analyticConfig(minimumRun);
  const name = `${kind}, ${sensors} sensors, ${rate} Hz`;
  return { family: 'analytic', seed, kind: name, sensors, config, samples, truth };
}

function analyticTruth(dice: Dice, kind: Kind): { truth: Truth; start: number } {
  const length = Math.round(dice.between(1800, 3000));
  const start = kind === 'unseen start' ? -Math.round(dice.between(60, 600)) : 60;
  const modes = startModes(dice, kind, start);
  const events: { at: number; what: string }[] = [];
  if (kind === 'step') {
    const at = Math.round(dice.between(900, length - 800));
    const size = dice.log(1.2, 6) * (dice.chance(0.5) ? 1 : -1);
    const second = -size * dice.between(-0.3, 0.6);
    modes.push(modeOf(dice, -size, dice.log(6, 30), Infinity, at));
    modes.push(modeOf(dice, second, dice.log(60, 240), Infinity, at));
    events.push({ at, what: 'step' });
  }
  const swings = kind === 'hunting' || kind === 'mild swing';
  const period = swings ? dice.log(25, 480) : 0;
  const amplitude = kind === 'hunting' ? dice.log(0.9, 4) : swings ? dice.between(0.1, 0.4) : 0;
  const swing = SHARE.map((s, q) => (q === 2 ? amplitude : 0.6 * s * amplitude * dice.uniform()));
  const phases = SHARE.map(() => dice.between(0, 2 * Math.PI));
  const ramp = kind === 'ramp' ? dice.between(-1, 1) * 3e-3 : dice.normal() * 2e-4;
  const slopes = SHARE.map((s) => ramp * s * dice.between(-1, 1.4));
  const harmonics = dice.between(0, 0.35);
  const series = SHARE.map((_, q) => {
    const values = new Float64Array(length + 1);
    const rest = (REST[q] ?? 0) + 2 * dice.normal();
    for (let t = 0; t <= length; t += 1) {
      let y = rest + (slopes[q] ?? 0) * (t - start);
      for (const mode of modes) y += modeAt(mode, q, t);
      const angle = ((2 * Math.PI) / period) * t + (phases[q] ?? 0);
      if (period > 0) y += (swing[q] ?? 0) * (Math.sin(angle) + harmonics * Math.sin(2 * angle));
      values[t] = y;
    }
    return values;
  });
  return {
    truth: { length, series, runs: [{ from: start, to: Infinity }], events, period },
    start,
  };
}

function modeOf(dice: Dice, amplitude: number, tau: number, ring: number, from: number): Mode {
  const amplitudes = SHARE.map((s, q) =>
    q === 2 ? amplitude : amplitude * s * (dice.chance(0.3) ? -1 : 1) * dice.between(0.2, 1.4),
  );
  return { tau, ring, amplitudes, from };
}

function startModes(dice: Dice, kind: Kind, start: number): Mode[] {
  const sign = dice.chance(0.5) ? 1 : -1;
  const modes = [
    modeOf(dice, sign * dice.log(4, 20), dice.log(8, 40), Infinity, start),
    modeOf(
      dice,
      (dice.chance(0.6) ? sign : -sign) * dice.log(1.5, 8),
      dice.log(60, 260),
      Infinity,
      start,
    ),
  ];
  if (kind === 'slow tail' || dice.chance(0.3)) {
    modes.push(modeOf(dice, sign * dice.log(0.7, 4), dice.log(300, 1300), Infinity, start));
  }
  if (kind === 'overshoot') {
    const tau = dice.log(90, 300);
    const a = sign * dice.log(3, 12);
    modes.push(
      modeOf(dice, a, tau, Infinity, start),
      modeOf(dice, -a * dice.between(0.8, 1.3), tau * dice.between(1.5, 3), Infinity, start),
    );
  }
  if (kind === 'ringing') {
    modes.push(modeOf(dice, dice.log(2, 8), dice.log(120, 420), dice.log(100, 600), start));
  }
  if (kind === 'pull-down') {
    modes.push(modeOf(dice, dice.log(2, 6), dice.log(1500, 3600), Infinity, start));
  }
  return modes;
}

function modeAt(mode: Mode, q: number, t: number): number {
  const a = mode.amplitudes[q] ?? 0;
  const age = t - mode.from;
  // Before a step its modes are at their full distance: the new rest is where they end.
  if (age < 0) return a;
  const turn = mode.ring === Infinity ? 1 : Math.cos((2 * Math.PI * age) / mode.ring);
  return a * Math.exp(-age / mode.tau) * turn;
}
