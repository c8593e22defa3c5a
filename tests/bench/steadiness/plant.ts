/** What the families of the virtual split system share: parts to draw from, and playing them out. */
import type { EngineConfig } from '../../../core/engine-types.ts';
import { createRun, type ScenarioRun } from '../../../core/plant/run.ts';
import {
  ScenarioSchema,
  type FaultKind,
  type ScenarioInput,
} from '../../../core/plant/scenario.ts';
import type { SplitTruth } from '../../../core/plant/truth.ts';
import type { ChannelKey } from '../../../core/stream/channels.ts';
import type { Sample } from '../../../core/stream/sample.ts';
import { analyticConfig } from './analytic.ts';
import { createDice, type Dice } from './dice.ts';
import { qualityOf, type SensorClass } from './sensors.ts';
import { QUANTITIES, SUPERHEAT, type Family, type Session, type Truth } from './session.ts';
import { longestStretch, swingPeriod } from './swing-truth.ts';

type SplitInput = Extract<ScenarioInput, { kind: 'splitSystem' }>;
export type UnitInput = NonNullable<SplitInput['units'][string]>;
export type EventInput = NonNullable<UnitInput['events']>[number];

export const METERINGS = ['txv', 'eev', 'fixed'] as const;
export type MeteringKind = (typeof METERINGS)[number];
export const REFRIGERANTS = ['R-410A', 'R-32', 'R-454B', 'R-22', 'R-407C'] as const;
const RATES = [0.2, 0.5, 1, 1, 2, 4] as const;
const CHANNELS = [
  'suctionPressure',
  'liquidPressure',
  'suctionLineTemp',
  'liquidLineTemp',
  'returnAirTemp',
  'supplyAirTemp',
  'outdoorAirTemp',
] as const satisfies readonly ChannelKey[];
/** Session length, s, and the second of the start. */
export const LENGTH_S = 2100;
export const START_S = 30;

const HAPPENINGS = ['none', 'none', 'none', 'door', 'fan', 'add', 'remove', 'stop'] as const;

/** Something done to the unit while it runs; nothing in three of eight sessions. */
export function eventOf(
  dice: Dice,
  mayDefrost: boolean,
): { event: EventInput; what: string } | null {
  const at_s = Math.round(dice.between(1000, 1300));
  const kind = dice.pick(mayDefrost ? ([...HAPPENINGS, 'defrost'] as const) : HAPPENINGS);
  switch (kind) {
    case 'none':
      return null;
    case 'door':
      return { event: { do: 'door', at_s, for_s: 900 }, what: 'door' };
    case 'fan': {
      const speed = dice.pick([0.6, 0.75, 1.25]);
      return { event: { do: 'fanSpeed', at_s, speed }, what: 'fan' };
    }
    case 'add':
      return { event: { do: 'charge', at_s, mass_kg: dice.between(0.1, 0.4) }, what: 'charge' };
    case 'remove':
      return { event: { do: 'charge', at_s, mass_kg: -dice.between(0.1, 0.4) }, what: 'charge' };
    case 'stop':
      return { event: { do: 'stop', at_s }, what: 'stop' };
    case 'defrost':
      return { event: { do: 'defrost', at_s }, what: 'defrost' };
  }
}

/** A valve of a kind; one that hunts has a large port and a slow bulb. */
export function meteringOf(
  dice: Dice,
  kind: MeteringKind,
  hunting: boolean,
): UnitInput['metering'] {
  switch (kind) {
    case 'txv': {
      const oversize = hunting ? dice.between(2.2, 4.5) : dice.between(1.2, 2.2);
      return { kind, oversize, bulbLag_s: dice.between(8, hunting ? 45 : 30) };
    }
    case 'eev':
      return { kind, reset_s: dice.between(60, 200) };
    case 'fixed':
      return { kind };
  }
}

/** Sensors of a class on every channel the judge uses, all at one rate. */
export function sensorsOf(dice: Dice, kind: SensorClass): NonNullable<UnitInput['sensors']> {
  const rate_Hz = dice.pick(RATES);
  return CHANNELS.map((channel) => {
    const quality = qualityOf(dice, kind, channel.endsWith('Pressure'), rate_Hz);
    return {
      channel,
      rate_Hz,
      lag_s: channel.endsWith('LineTemp') ? dice.between(3, 12) : 0,
      noise: quality.noise,
      quantum: quality.quantum,
      stuck: quality.stuck,
      dropout: dice.chance(0.1) ? { chance: 0.002, mean_s: 4 } : { chance: 0, mean_s: 0 },
      late: dice.chance(0.1) ? { chance: 0.01, mean_s: 1 } : { chance: 0, mean_s: 0 },
    };
  });
}

/** A stuck valve stays where it was: it sticks while it runs, or it would be shut from the start, s. */
const STUCK_AT_S = 300;

/** A fault of a severity. */
export function faulty(
  kind: FaultKind,
  severity: number,
): NonNullable<UnitInput['faults']>[number] {
  return { kind, severity, from_s: kind === 'valveStuck' ? STUCK_AT_S : 0 };
}

/** A scenario of the bench and what it is called. */
export interface Drawn {
  readonly family: Family;
  readonly input: SplitInput;
  readonly name: string;
  readonly metering: MeteringKind;
  readonly sensors: SensorClass;
}

/**
 * Wandering of the air at the outdoor coil. In the surface layer of a convective day the standard
 * deviation of temperature is 0.95 (0.05 + z/|L|)^(-1/3) times its scale T* (Tillman 1972, J. Appl.
 * Meteorol. 11:783, constants from memory; the power confirmed by Tampieri et al. 2009,
 * doi:10.1007/s10546-009-9383-5). At a metre above ground that is 0.2 K for a heat flux of 30 W/m2
 * (dull) and 1.1 K for 200 W/m2 (midsummer noon) with a friction velocity of 0.3 m/s. A coil of a few
 * square metres, shaded and beside a wall, averages part of it: 0.1 to 0.8 K, and 10 to 60 s, are our
 * own estimate. Drawn apart from all else, so that the rest of a session stays what its seed gave.
 */
function gustOf(seed: number): { sigma_K: number; time_s: number } {
  const dice = createDice(seed + 19_000_000);
  return { sigma_K: dice.log(0.1, 0.8), time_s: dice.log(10, 60) };
}

/** A scenario of one unit in a weather. */
export function scenarioOf(
  seed: number,
  refrigerant: SplitInput['refrigerant'],
  weather: SplitInput['weather'],
  unit: UnitInput,
): SplitInput {
  return {
    kind: 'splitSystem',
    title: `Bench ${seed}`,
    demo: true,
    seed,
    duration_s: LENGTH_S,
    refrigerant,
    weather: { gust: gustOf(seed), ...weather },
    units: { A: unit },
  };
}

/** Plays a scenario: the session of a seed. */
export function plantSession(drawn: Drawn, seed: number, minimumRun: number): Session {
  const scenario = ScenarioSchema.parse(drawn.input);
  if (scenario.kind !== 'splitSystem') throw new Error('not a split system');
  const { samples, truth } = playOut(createRun(scenario), drawn);
  const config: EngineConfig = {
    ...analyticConfig(minimumRun),
    refrigerant: scenario.refrigerant,
    metering: drawn.metering,
    mode: scenario.units['A']?.mode ?? 'cooling',
  };
  const { family, name, sensors } = drawn;
  return { family, seed, kind: name, sensors, config, samples, truth };
}

/** Follows the compressor and the defrost: the stretches of running, and the turns of the valve. */
class Watch {
  readonly runs: { from: number; to: number }[] = [];
  readonly turns: { at: number; what: string }[] = [];
  #from = NaN;
  #defrosting = false;

  push(t: number, now: SplitTruth): void {
    if (now.running && Number.isNaN(this.#from)) this.#from = t;
    if (!now.running) this.end(t);
    if (now.defrosting !== this.#defrosting && t > 0) {
      this.turns.push({ at: t, what: now.defrosting ? 'defrost' : 'defrost over' });
    }
    this.#defrosting = now.defrosting;
  }

  end(t: number): void {
    if (!Number.isNaN(this.#from)) this.runs.push({ from: this.#from, to: t });
    this.#from = NaN;
  }
}

function playOut(run: ScenarioRun, drawn: Drawn): { samples: Sample[]; truth: Truth } {
  const samples: Sample[] = [];
  const series = QUANTITIES.map(() => new Float64Array(LENGTH_S + 1).fill(NaN));
  const watch = new Watch();
  for (let t = 0; t <= LENGTH_S; t += 1) {
    for (const part of run.advanceTo(t)) samples.push(...part.samples);
    const now = run.truth('A');
    if (now.kind !== 'splitSystem') throw new Error('not a split system');
    const airDrop = now.tReturnAir - now.tSupplyAir;
    const values = [now.tEvaporating, now.tCondensing, now.superheat, now.subcooling, airDrop];
    values.forEach((value, q) => {
      const one = series[q];
      if (one !== undefined) one[t] = value;
    });
    watch.push(t, now);
  }
  watch.end(LENGTH_S);
  const { runs } = watch;
  const events = [...eventsOf(drawn.input), ...watch.turns].sort((a, b) => a.at - b.at);
  const superheat = series[SUPERHEAT] ?? new Float64Array();
  const { from, to } = longestStretch(runs, events);
  // An orifice cannot hunt: what swings there is the weather.
  const period = drawn.metering === 'fixed' ? 0 : swingPeriod(superheat.subarray(from, to));
  return { samples, truth: { length: LENGTH_S, series, runs, events, period } };
}

/** Sudden changes that the scenario orders; a defrost is known by when it was really done. */
function eventsOf(input: SplitInput): { at: number; what: string }[] {
  return (input.units['A']?.events ?? []).flatMap((e) => {
    switch (e.do) {
      case 'door':
        return [
          { at: e.at_s, what: 'door' },
          { at: e.at_s + e.for_s, what: 'door shut' },
        ].filter((edge) => edge.at < LENGTH_S);
      case 'fanSpeed':
      case 'charge':
        return [{ at: e.at_s, what: e.do }];
      default:
        return [];
    }
  });
}
