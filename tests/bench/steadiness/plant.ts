/** Sessions of the virtual split system: every fault, valve, weather, sensor and rate, by seed. */
import type { EngineConfig } from '../../../core/engine-types.ts';
import { createRun, type ScenarioRun } from '../../../core/plant/run.ts';
import {
  FAULT_KINDS,
  ScenarioSchema,
  type FaultKind,
  type ScenarioInput,
} from '../../../core/plant/scenario.ts';
import type { ChannelKey } from '../../../core/stream/channels.ts';
import type { Sample } from '../../../core/stream/sample.ts';
import { analyticConfig } from './analytic.ts';
import { createDice, type Dice } from './dice.ts';
import { qualityOf, SENSOR_CLASSES, type SensorClass } from './sensors.ts';
import { QUANTITIES, type Session, type Truth } from './session.ts';

type SplitInput = Extract<ScenarioInput, { kind: 'splitSystem' }>;
type UnitInput = NonNullable<SplitInput['units'][string]>;
type EventInput = NonNullable<UnitInput['events']>[number];

const METERINGS = ['txv', 'eev', 'fixed'] as const;
type MeteringKind = (typeof METERINGS)[number];
const REFRIGERANTS = ['R-410A', 'R-32', 'R-454B', 'R-22', 'R-407C'] as const;
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
const LENGTH_S = 2100;
const START_S = 30;

/** Faults that may be met with a kind of metering; a fifth of the sessions have none. */
function faultOf(dice: Dice, metering: MeteringKind): FaultKind | null {
  if (dice.chance(0.2)) return null;
  const valve = (kind: FaultKind): boolean => kind.startsWith('valve');
  const fits = FAULT_KINDS.filter(
    (kind) =>
      kind !== 'shortCycling' &&
      kind !== 'reversingValveLeak' &&
      (!valve(kind) || metering === 'txv'),
  );
  return dice.pick(fits);
}

/** Something done to the unit while it runs; none in half of the sessions. */
function eventOf(dice: Dice): { event: EventInput; what: string } | null {
  const at_s = Math.round(dice.between(1000, 1300));
  const kind = dice.pick(['none', 'none', 'none', 'door', 'fan', 'add', 'remove', 'stop'] as const);
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
  }
}

function meteringOf(dice: Dice, kind: MeteringKind, hunting: boolean): UnitInput['metering'] {
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

function sensorsOf(dice: Dice, kind: SensorClass): NonNullable<UnitInput['sensors']> {
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

interface Drawn {
  readonly input: SplitInput;
  readonly name: string;
  readonly metering: MeteringKind;
  readonly what: string | null;
}

function drawScenario(seed: number): Drawn {
  const dice = createDice(seed + 7_000_000);
  const metering = METERINGS[seed % METERINGS.length] ?? 'txv';
  const fault = faultOf(dice, metering);
  const sensors = dice.pick(SENSOR_CLASSES);
  const happening = eventOf(dice);
  const outdoor = dice.between(291, 314);
  const drift = dice.normal() * 1.2; // over the session
  const room = dice.between(294, 303);
  const severity = dice.between(0.3, 1);
  const settledFirst = dice.chance(0.15);
  const unit: UnitInput = {
    designCapacity_W: dice.between(5000, 17_000),
    metering: meteringOf(dice, metering, fault === 'valveHunting' || dice.chance(0.15)),
    initial: settledFirst ? 'settled' : 'standing',
    room: { start_K: room, startHumidity: dice.between(0.35, 0.65) },
    faults: fault === null ? [] : [{ kind: fault, severity }],
    events: [
      ...(settledFirst ? [] : [{ do: 'start' as const, at_s: START_S }]),
      ...(happening === null ? [] : [happening.event]),
    ],
    sensors: sensorsOf(dice, sensors),
  };
  const input: SplitInput = {
    kind: 'splitSystem',
    title: `Bench ${seed}`,
    demo: true,
    seed,
    duration_s: LENGTH_S,
    refrigerant: dice.pick(REFRIGERANTS),
    weather: {
      outdoorAir_K: [
        [0, outdoor],
        [LENGTH_S, outdoor + drift],
      ],
    },
    units: { A: unit },
  };
  const name = `${metering} ${fault ?? 'no fault'}, ${sensors} sensors, ${happening?.what ?? 'no event'}`;
  return { input, name, metering, what: happening?.what ?? null };
}

/** Makes the session of a seed. */
export function plantSession(seed: number, minimumRun: number): Session {
  const drawn = drawScenario(seed);
  const scenario = ScenarioSchema.parse(drawn.input);
  if (scenario.kind !== 'splitSystem') throw new Error('not a split system');
  const { samples, truth } = playOut(createRun(scenario), drawn);
  const config: EngineConfig = {
    ...analyticConfig(minimumRun),
    refrigerant: scenario.refrigerant,
    metering: drawn.metering,
  };
  return { set: 'plant', seed, kind: drawn.name, config, samples, truth };
}

function playOut(run: ScenarioRun, drawn: Drawn): { samples: Sample[]; truth: Truth } {
  const samples: Sample[] = [];
  const series = QUANTITIES.map(() => new Float64Array(LENGTH_S + 1).fill(NaN));
  const runs: { from: number; to: number }[] = [];
  let from = NaN;
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
    if (now.running && Number.isNaN(from)) from = t;
    if (!now.running && !Number.isNaN(from)) {
      runs.push({ from, to: t });
      from = NaN;
    }
  }
  if (!Number.isNaN(from)) runs.push({ from, to: LENGTH_S });
  const events = drawn.input.units['A']?.events ?? [];
  return {
    samples,
    truth: {
      length: LENGTH_S,
      series,
      runs,
      events: events
        .filter((e) => e.do !== 'start' && e.do !== 'stop')
        .map((e) => ({ at: e.at_s, what: e.do })),
      period: swingPeriod(series[2] ?? new Float64Array()),
    },
  };
}

/** Part of the session, counted from its end, that a swing is looked for in, s. */
const SWING_PART_S = 900;

/**
 * Period of an undamped swing in the noise-free superheat: by the crossings of the mean over the
 * last quarter hour; 0 where the swing is under 0.15 K or dies away.
 */
function swingPeriod(series: Float64Array): number {
  const tail = series.subarray(series.length - SWING_PART_S);
  const smooth = Array.from(tail);
  const mean = smooth.reduce((a, b) => a + b, 0) / smooth.length;
  const half = Math.floor(smooth.length / 2);
  const spread = (part: readonly number[]): number => Math.max(...part) - Math.min(...part);
  const late = spread(smooth.slice(half));
  if (late < 0.3 || late < 0.7 * spread(smooth.slice(0, half))) return 0;
  const ups: number[] = [];
  for (let i = 1; i < smooth.length; i += 1) {
    if ((smooth[i - 1] ?? 0) < mean && (smooth[i] ?? 0) >= mean) ups.push(i);
  }
  const first = ups[0];
  const last = ups.at(-1);
  if (first === undefined || last === undefined || ups.length < 3) return 0;
  return (last - first) / (ups.length - 1);
}
