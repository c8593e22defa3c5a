import { meanAtRest } from '../steadiness/rest.ts';
import { FREEZING_K, fahrenheitFromKelvin, kelvinFromFahrenheit } from '../units/temperature.ts';
import { kelvin } from '../units/brands.ts';
import type { ChannelKey } from '../stream/channels.ts';
import type { QuantityMotion } from '../steadiness/types.ts';
import { figureRow } from '../circuit/figures.ts';
import type { Conditions } from './conditions.ts';
import type { Hazard } from './hazards.ts';
import {
  LEAST_FLOW_PER_WATT,
  OUTDOOR_FLOOR_DEGF,
  RETURN_FLOOR_DEGF,
  STANDARDS,
} from './tolerances.ts';
import type { JudgementInput, Refusal, VerdictRow } from './types.ts';

/** The split passes as evidence of airflow while this little speaks for too high a split. */
const AIRFLOW_DOUBT = 0.2;

/** What forbids reading anything at all: state, missing or stale channels, ice. */
export function readingRefusals(input: JudgementInput): Refusal[] {
  const refusals: Refusal[] = [];
  const { state, reason } = input.content;
  if (state === 'idle') refusals.push({ blocks: 'all', code: 'NOT_RUNNING' });
  else if (coolsTheHouse(input)) refusals.push({ blocks: 'all', code: 'NOT_HEATING' });
  if (state === 'blind') {
    const missing = reason.code === 'missing' ? reason.channels : [];
    refusals.push({ blocks: pressuresStill(input) ? 'charge' : 'all', code: 'BLIND', missing });
  }
  if (state === 'starting' || state === 'moving' || state === 'disturbed') {
    refusals.push({ blocks: 'all', code: 'UNSTEADY', state });
  }
  if (state === 'hunting' && !meanAtRest(input.content)) {
    refusals.push({ blocks: 'all', code: 'UNSTEADY', state });
  }
  const stale = staleChannels(input);
  if (stale.length > 0) refusals.push({ blocks: 'all', code: 'STALE', channels: stale });
  const { mode } = input.config;
  if (input.observations.includes('icedCoil')) {
    refusals.push({ blocks: 'all', code: 'ICED_COIL', seen: 'byPerson', mode });
  } else if (iceInStream(input)) {
    refusals.push({ blocks: 'all', code: 'ICED_COIL', seen: 'inStream', mode });
  }
  return refusals;
}

/** How far beyond its uncertainty the house is being cooled before that is said, K. */
const COOLS_BEYOND_K = 1;

/**
 * A unit set to heat whose supply air is colder than its return air: it defrosts, or its reversing
 * valve stands in cooling. Whatever is read then belongs to neither coil as it is taken to be. The
 * liquid clamp in a defrost lies behind the other coil, so pressures alone do not tell.
 */
function coolsTheHouse({ config, content }: JudgementInput): boolean {
  const drop = content.figures.airDrop;
  if (config.mode !== 'heating' || drop === undefined || drop.marks.includes('stale')) return false;
  return drop.value - drop.u > COOLS_BEYOND_K;
}

/**
 * Frost growing on the outdoor coil in heating: below freezing, evaporating falls and the rise of the
 * air with it, each beyond its own uncertainty. Some frost is as it should be, so it forbids only a
 * word about the charge.
 */
function frostGrows({ config, content, motions }: JudgementInput): boolean {
  const evaporating = content.figures.suctionSaturation;
  if (config.mode !== 'heating' || evaporating === undefined) return false;
  if (evaporating.value + evaporating.u >= FREEZING_K) return false;
  return falls(motions, 'suctionSaturation') && rises(motions, 'airDrop');
}

/**
 * Two gauges on a unit whose pressures stand still: no superheat, no subcooling and no word about the
 * charge, but evaporating and condensing can be read.
 */
function pressuresStill({ content, motions }: JudgementInput): boolean {
  if (content.reason.code !== 'missing') return false;
  return (['suctionSaturation', 'liquidSaturation'] as const).every(
    (key) => content.figures[key] !== undefined && motions.some((m) => m.key === key && m.inside),
  );
}

/** Stale channels that superheat or subcooling are made of: without them there is no judgement. */
function staleChannels(input: JudgementInput): ChannelKey[] {
  const needed = new Set<ChannelKey>([
    ...figureRow('superheat').inputs.flat(),
    ...figureRow('subcooling').inputs.flat(),
  ]);
  return input.content.channels
    .filter((c) => c.marks.includes('stale') && needed.has(c.channel))
    .map((c) => c.channel);
}

/**
 * Ice growing on the indoor coil, in cooling: evaporating below freezing, superheat falling and the
 * supply air warming at the same time, each beyond its own uncertainty.
 */
export function iceInStream(input: JudgementInput): boolean {
  const evaporating = input.content.figures.suctionSaturation;
  if (input.config.mode !== 'cooling' || evaporating === undefined) return false;
  if (evaporating.value + evaporating.u >= FREEZING_K) return false;
  return falls(input.motions, 'superheat') && falls(input.motions, 'airDrop');
}

function falls(motions: readonly QuantityMotion[], key: QuantityMotion['key']): boolean {
  const motion = motions.find((m) => m.key === key);
  if (motion === undefined || motion.drift === null || motion.driftU === null) return false;
  return motion.drift + motion.driftU < 0;
}

function rises(motions: readonly QuantityMotion[], key: QuantityMotion['key']): boolean {
  const motion = motions.find((m) => m.key === key);
  if (motion === undefined || motion.drift === null || motion.driftU === null) return false;
  return motion.drift - motion.driftU > 0;
}

/**
 * What forbids charge advice although the readings stand: run time, weather, air, zero.
 *
 * @param hazards beside which nobody is told to let the unit run on
 */
export function chargeRefusals(
  input: JudgementInput,
  conditions: Conditions,
  split: VerdictRow | null,
  hazards: readonly Hazard[],
): Refusal[] {
  const refusals: Refusal[] = [];
  const blocks = 'charge';
  const asked = Math.max(STANDARDS[input.standard].runTime, input.config.minimumRun);
  const short = input.runTime !== null && input.runTime < asked ? input.runTime : null;
  const hazardous = hazards.length > 0;
  if (short !== null && !hazardous) {
    refusals.push({ blocks, code: 'RUN_TOO_SHORT', runTime: short, asked });
  }
  if (input.config.mode === 'cooling') refusals.push(...weather(conditions));
  if (frostGrows(input)) refusals.push({ blocks, code: 'FROST_GROWS' });
  refusals.push(...airflow(input, split));
  refusals.push(...coldCoil(input));
  const superheat = input.content.figures.superheat;
  const subcooling = input.content.figures.subcooling;
  if (superheat === undefined) {
    refusals.push({ blocks, code: 'MISSING_READING', figure: 'superheat' });
  }
  if (subcooling === undefined && input.config.metering !== 'fixed') {
    refusals.push({ blocks, code: 'MISSING_READING', figure: 'subcooling' });
  }
  if (
    superheat !== undefined &&
    subcooling !== undefined &&
    superheat.value <= 0 &&
    subcooling.value <= 0
  ) {
    refusals.push({
      blocks,
      code: 'BOTH_AT_ZERO',
      superheat: superheat.value,
      subcooling: subcooling.value,
    });
  }
  // What is to be put right comes before the time that it must run then.
  if (short !== null && hazardous) {
    refusals.push({ blocks, code: 'NOT_TO_RUN_ON', runTime: short, asked });
  }
  return refusals;
}

/**
 * A cooling coil below freezing ices sooner or later. Unless a person looked at coil and air, that
 * comes before any word about the charge.
 */
function coldCoil(input: JudgementInput): Refusal[] {
  const evaporating = input.content.figures.suctionSaturation;
  if (input.config.mode !== 'cooling' || input.airflow.kind !== 'unknown') return [];
  if (evaporating === undefined || evaporating.value + evaporating.u >= FREEZING_K) return [];
  return [{ blocks: 'charge', code: 'COIL_BELOW_FREEZING', evaporating: evaporating.value }];
}

function weather(conditions: Conditions): Refusal[] {
  const refusals: Refusal[] = [];
  const { outdoor, returnAir } = conditions;
  if (outdoor === null) refusals.push({ blocks: 'charge', code: 'OUTDOOR_UNKNOWN' });
  else if (fahrenheitFromKelvin(kelvin(outdoor.value)) < OUTDOOR_FLOOR_DEGF) {
    const floor = kelvinFromFahrenheit(OUTDOOR_FLOOR_DEGF);
    refusals.push({ blocks: 'charge', code: 'OUTDOOR_TOO_COLD', outdoor: outdoor.value, floor });
  }
  if (returnAir !== null && fahrenheitFromKelvin(kelvin(returnAir.value)) < RETURN_FLOOR_DEGF) {
    refusals.push({
      blocks: 'charge',
      code: 'RETURN_TOO_COLD',
      returnAir: returnAir.value,
      floor: kelvinFromFahrenheit(RETURN_FLOOR_DEGF),
    });
  }
  return refusals;
}

/**
 * Airflow is known when a person attested it, when it was measured and is enough, or when the
 * temperature split speaks for it (RA3.2: a split above target means low airflow, a split below it
 * passes the airflow although the capacity may be low). A split that is too high for what a person
 * says or measured is a contradiction, and the air is looked at again before the charge.
 */
function airflow(input: JudgementInput, split: VerdictRow | null): Refusal[] {
  const blocks = 'charge';
  if (input.airflow.kind === 'measured') {
    const { flow } = input.airflow;
    const capacity = input.nameplate.capacity_W;
    const floor = capacity === null ? 0 : capacity * LEAST_FLOW_PER_WATT;
    if (flow.value < floor) return [{ blocks, code: 'AIRFLOW_MEASURED_LOW', flow, floor }];
  }
  if (split?.verdict === 'above' && split.target.value !== null) {
    const over = { value: split.reading.value - split.target.value, u: split.u };
    return [{ blocks, code: 'AIRFLOW_LOW', over }];
  }
  if (input.airflow.kind !== 'unknown') return [];
  if (split !== null && split.probability.above < AIRFLOW_DOUBT) return [];
  return [{ blocks, code: 'AIRFLOW_UNKNOWN', mode: input.config.mode }];
}
