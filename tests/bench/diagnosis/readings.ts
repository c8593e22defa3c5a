import type { Accuracy } from '../../../core/circuit/types.ts';
import { defaultAccuracy, halfWidth } from '../../../core/circuit/accuracy.ts';
import type { EngineConfig } from '../../../core/engine-types.ts';
import type { SuspectKey } from '../../../core/diagnosis/suspects.ts';
import type { JudgementInput, ReferenceSnapshot } from '../../../core/diagnosis/types.ts';
import { refrigerant } from '../../../core/refrigerant/refrigerants.ts';
import type { RefrigerantId } from '../../../core/refrigerant/types.ts';
import type { Reason, SteadinessState } from '../../../core/steadiness/types.ts';
import type { ChannelKey } from '../../../core/stream/channels.ts';
import { contentOf } from '../../support/snapshot.ts';
import { createDice, type Dice } from '../steadiness/dice.ts';
import type { Case } from './cases.ts';
import type { Truth } from './truths.ts';

/** Sensor classes: good instruments whose accuracy is typed in, and what the trade is asked for. */
export const SENSOR_CLASSES = ['good', 'usual'] as const;
export type SensorClass = (typeof SENSOR_CLASSES)[number];

/** Which channels are there: all, or half of them. */
export const CHANNEL_SETS = {
  all: null,
  half: [
    'suctionPressure',
    'liquidPressure',
    'suctionLineTemp',
    'liquidLineTemp',
    'outdoorAirTemp',
    'returnAirTemp',
  ] as readonly ChannelKey[],
} as const;
export type ChannelSet = keyof typeof CHANNEL_SETS;

const ATMOSPHERE = 101_325;
const GOOD: Partial<Record<ChannelKey, Accuracy>> = {
  suctionPressure: { ofReading: 0.005, absolute: 2000 },
  liquidPressure: { ofReading: 0.005, absolute: 2000 },
  suctionLineTemp: { absolute: 0.5 },
  liquidLineTemp: { absolute: 0.5 },
  dischargeLineTemp: { absolute: 0.8 },
  outdoorAirTemp: { absolute: 0.3 },
  returnAirTemp: { absolute: 0.3 },
  returnAirHumidity: { absolute: 0.03 },
  supplyAirTemp: { absolute: 0.3 },
  compressorCurrent: { ofReading: 0.02 },
  drierInletTemp: { absolute: 0.3 },
  drierOutletTemp: { absolute: 0.3 },
};

/** One reading of one case by one set of instruments. */
export interface LabelledInput {
  readonly label: SuspectKey;
  readonly severity: number;
  readonly input: JudgementInput;
}

/** What a wrong instrument does: a clamp in the sun, a clamp half off, a gauge knocked. */
const WRONG: readonly {
  readonly channel: ChannelKey;
  readonly low: number;
  readonly high: number;
}[] = [
  { channel: 'suctionLineTemp', low: 5, high: 12 },
  { channel: 'suctionLineTemp', low: -12, high: -6 },
  { channel: 'liquidLineTemp', low: -9, high: -5 },
  { channel: 'liquidLineTemp', low: 5, high: 9 },
  { channel: 'suctionPressure', low: -2e5, high: -1e5 },
  { channel: 'suctionPressure', low: 1e5, high: 2e5 },
  { channel: 'liquidPressure', low: -5e5, high: -2.5e5 },
  { channel: 'liquidPressure', low: 2.5e5, high: 5e5 },
];

/** Taken for another refrigerant: what the program is told instead. */
const TAKEN_FOR: Partial<Record<RefrigerantId, RefrigerantId>> = {
  'R-410A': 'R-454B',
  'R-454B': 'R-32',
  'R-22': 'R-407C',
};

function measure(truth: Truth, accuracy: EngineConfig['accuracy'], dice: Dice, set: ChannelSet) {
  const kept = CHANNEL_SETS[set];
  const values = new Map<ChannelKey, number>();
  for (const [name, value] of Object.entries(truth.channels)) {
    const channel = name as ChannelKey;
    // The dice roll for every channel, so that leaving some out does not change the others.
    const zero = channel === 'suctionPressure' || channel === 'liquidPressure' ? ATMOSPHERE : 0;
    const half = halfWidth(accuracy[channel] ?? defaultAccuracy(channel), value, zero);
    const read = value + dice.normal() * (half / 2);
    if (kept === null || kept.includes(channel)) values.set(channel, read);
  }
  const humidity = values.get('returnAirHumidity');
  if (humidity !== undefined)
    values.set('returnAirHumidity', Math.min(0.99, Math.max(0.05, humidity)));
  return values;
}

export function configFor(
  c: Case,
  sensors: SensorClass,
  refrigerant = c.refrigerant,
): EngineConfig {
  return {
    refrigerant,
    metering: c.metering,
    mode: c.mode,
    atmosphere: { pressure: ATMOSPHERE, kind: 'measured' },
    gauge: { channels: ['suctionPressure', 'liquidPressure'], convertedWith: ATMOSPHERE },
    accuracy: sensors === 'good' ? GOOD : {},
    offsets: {},
    minimumRun: 600,
    tolerances: {},
    marks: ['simulated'],
  };
}

/** A swing of the superheat this large is called hunting by the detector, K. */
const HUNTS_K = 2.5;

function stateOf(truth: Truth): SteadinessState {
  if (truth.ran < 0.98) return 'moving';
  return truth.swing_K > HUNTS_K ? 'hunting' : 'settled';
}

/** Another truth of the same unit when it was healthy, for readings judged by a baseline. */
export interface HealthyVisit {
  readonly case: Case;
  readonly truth: Truth;
}

function reasonOf(truth: Truth, state: SteadinessState): Reason | undefined {
  if (state !== 'hunting') return undefined;
  const amplitude = truth.swing_K / 2;
  return { code: 'swinging', quantity: 'superheat', amplitude, period: 120 };
}

interface Options {
  readonly sensors: SensorClass;
  readonly set: ChannelSet;
  /** Rolls the instruments: another number, other instruments. */
  readonly draw: number;
  readonly visit: HealthyVisit | null;
}

/** Superheat of a stuck valve this far from its design tells which way it is wrong, K. */
const STUCK_K = 2;

/** The cause to be found: a stuck valve is one that feeds too little or too much, or shows nothing. */
export function labelOf(c: Case, truth: Truth): SuspectKey {
  if (c.fault !== 'valveStuck') return c.label;
  const { suctionPressure = NaN, suctionLineTemp = NaN } = truth.channels;
  const superheat = suctionLineTemp - refrigerant(c.refrigerant).curves.tDew(suctionPressure);
  const off = superheat - c.superheat_K;
  if (Math.abs(off) < STUCK_K) return 'nothingWrong';
  return off > 0 ? 'valveStarved' : 'valveOpen';
}

/** One labelled reading of a case. */
export function labelledInput(c: Case, truth: Truth, options: Options): LabelledInput {
  const { sensors, set, draw } = options;
  const dice = createDice(c.seed * 31 + draw * 7 + (sensors === 'good' ? 0 : 3));
  const config = configFor(c, sensors);
  const values = measure(truth, config.accuracy, dice, set);
  const input = inputOf(c, truth, config, values, options, dice);
  return { label: labelOf(c, truth), severity: c.severity, input };
}

/** A healthy case read with one instrument wrong. */
export function wrongInstrument(c: Case, truth: Truth, options: Options): LabelledInput {
  const dice = createDice(c.seed * 37 + options.draw * 11 + 5);
  const config = configFor(c, options.sensors);
  const values = measure(truth, config.accuracy, dice, options.set);
  const wrong = dice.pick(WRONG);
  const value = values.get(wrong.channel);
  if (value !== undefined) values.set(wrong.channel, value + dice.between(wrong.low, wrong.high));
  const input = inputOf(c, truth, config, values, options, dice);
  return { label: 'sensorFault', severity: 0, input };
}

/** A healthy case whose refrigerant is taken for another. */
export function wrongRefrigerant(c: Case, truth: Truth, options: Options): LabelledInput {
  const dice = createDice(c.seed * 41 + options.draw * 13 + 9);
  const config = configFor(c, options.sensors, TAKEN_FOR[c.refrigerant] ?? c.refrigerant);
  const values = measure(truth, config.accuracy, dice, options.set);
  const input = inputOf(c, truth, config, values, options, dice);
  return { label: 'wrongRefrigerant', severity: 0, input };
}

function inputOf(
  c: Case,
  truth: Truth,
  config: EngineConfig,
  values: ReadonlyMap<ChannelKey, number>,
  options: Options,
  dice: Dice,
): JudgementInput {
  const state = stateOf(truth);
  const cycling = truth.starts >= 3;
  return {
    config,
    content: contentOf(values, config, state, reasonOf(truth, state)),
    runTime: 3600,
    nameplate: {
      targetSubcooling_K: c.subcooling_K,
      targetSuperheat_K: null,
      capacity_W: c.capacity_W,
      displacement_m3_s: null,
    },
    standard: 'ra32Installer',
    superheatChart: 'chargingChart',
    airflow: { kind: 'unknown' },
    // Ice on the indoor coil is seen by whoever looks there: one in two does.
    observations:
      truth.frost > 0.1 && c.mode === 'cooling' && options.draw === 0 ? ['icedCoil'] : [],
    outcomes: [],
    motions: [],
    pattern: { starts: cycling ? truth.starts : 0, medianRun: truth.medianRun, span: 2000 },
    stood: null,
    heatPump: c.mode === 'heating' || c.fault === 'reversingValveLeak' || dice.chance(0.3),
    baseline: options.visit === null ? null : visitSnapshot(options.visit, options, dice),
    twin: null,
    maker: {},
  };
}

function visitSnapshot(visit: HealthyVisit, options: Options, dice: Dice): ReferenceSnapshot {
  const config = configFor(visit.case, options.sensors);
  const values = measure(visit.truth, config.accuracy, dice, options.set);
  return { label: 'healthy', config, content: contentOf(values, config, 'settled') };
}
