/**
 * Sessions from formulas, not from a simulator of refrigerant: approaches of one to four modes,
 * ringing, overshoot, swings, ramps and steps. They know nothing of the physics the plant assumes,
 * and so guard the detector against being fitted to one simulator.
 */
import { createDice, type Dice } from './dice.ts';

/** The order of the quantities everywhere in the bench. */
export const QUANTITIES = [
  'suctionSaturation',
  'liquidSaturation',
  'superheat',
  'subcooling',
  'airDrop',
] as const;

/** A noise-free session: quantities over time, K, and what happens in it. */
export interface TrueSession {
  readonly seed: number;
  readonly kind: string;
  /** Length, s; truth is given for each second 0..length. */
  readonly length: number;
  /** By quantity, by second. The unit does not run before `start`. */
  readonly truth: readonly Float64Array[];
  /** When the compressor starts, s; negative when it already ran. */
  readonly start: number;
  /** When it stops, s; Infinity when not. */
  readonly stop: number;
  /** Times of sudden changes, s. */
  readonly events: readonly { readonly at: number; readonly size: number }[];
  /** Whole period of an undamped swing, s, and its amplitude by quantity; 0 without. */
  readonly period: number;
  readonly swing: readonly number[];
}

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

/** Makes the noise-free session of a seed. */
export function analyticSession(seed: number): TrueSession {
  const dice = createDice(seed);
  const kind: Kind = KINDS[seed % KINDS.length] ?? 'plain';
  const length = Math.round(dice.between(1800, 3000));
  const start = kind === 'unseen start' ? -Math.round(dice.between(60, 600)) : 60;
  const modes = startModes(dice, kind, start);
  const events: { at: number; size: number }[] = [];
  if (kind === 'step') {
    const at = Math.round(dice.between(900, length - 800));
    const tau = dice.log(6, 30);
    const size = dice.log(1.2, 6) * (dice.chance(0.5) ? 1 : -1);
    modes.push(
      modeOf(dice, -size, tau, Infinity, at),
      modeOf(dice, -size * dice.between(-0.3, 0.6), dice.log(60, 240), Infinity, at),
    );
    events.push({ at, size });
  }
  const swings = kind === 'hunting' || kind === 'mild swing';
  const period = swings ? dice.log(25, 480) : 0;
  const amplitude = kind === 'hunting' ? dice.log(0.9, 4) : swings ? dice.between(0.1, 0.4) : 0;
  const swing = SHARE.map((s, q) => (q === 2 ? amplitude : 0.6 * s * amplitude * dice.uniform()));
  const phases = SHARE.map(() => dice.between(0, 2 * Math.PI));
  const ramp = kind === 'ramp' ? dice.between(-1, 1) * 3e-3 : dice.normal() * 2e-4;
  const slopes = SHARE.map((s) => ramp * s * dice.between(-1, 1.4));
  const harmonics = dice.between(0, 0.35);
  const truth = SHARE.map((_, q) => {
    const series = new Float64Array(length + 1);
    const rest = (REST[q] ?? 0) + 2 * dice.normal();
    for (let t = 0; t <= length; t += 1) {
      let y = rest + (slopes[q] ?? 0) * (t - start);
      for (const mode of modes) y += modeAt(mode, q, t);
      const angle = ((2 * Math.PI) / period) * t + (phases[q] ?? 0);
      if (period > 0) y += (swing[q] ?? 0) * (Math.sin(angle) + harmonics * Math.sin(2 * angle));
      series[t] = t < start ? rest : y;
    }
    return series;
  });
  return { seed, kind, length, truth, start, stop: Infinity, events, period, swing };
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
