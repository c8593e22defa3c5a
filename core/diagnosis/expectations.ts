import type { Metering, Mode } from '../circuit/types.ts';
import { refrigerant } from '../refrigerant/refrigerants.ts';
import { dischargeTemperature } from '../circuit/compressor-heat.ts';
import { kelvin } from '../units/brands.ts';
import {
  differenceFromFahrenheit,
  fahrenheitFromKelvin,
  kelvinFromFahrenheit,
} from '../units/temperature.ts';
import { conditionsOf, type Conditions } from './conditions.ts';
import { CHARGING_CHART } from './data/charging-chart.ts';
import { TARGET_SUPERHEAT_RA32 } from './data/target-superheat-ra32.ts';
import { compressorHeatDoubt, featuresOf } from './features.ts';
import { makersConditions, makersFeatures } from './maker-features.ts';
import { lookUp } from './table.ts';
import { USUAL_VALVE_SUPERHEAT } from './tolerances.ts';
import type { FeatureKey, JudgementInput, Target, Uncertain } from './types.ts';
import { FEATURE_KEYS } from './types.ts';

/**
 * Where an expectation comes from, best first. 'dash' is what a superheat chart says by printing none,
 * 'rule' a general rule of the trade. A like unit gives
 * none: it may be the faulty one, so the two are held against each other (`differences.ts`).
 */
export type ExpectationSource = 'baseline' | 'maker' | 'target' | 'dash' | 'rule';

/** What a healthy unit would show here and now. SI; `u` expanded, k = 2. */
export interface Expectation extends Uncertain {
  readonly source: ExpectationSource;
  /**
   * The part of `u` that is the size of the condensing coil, which a rule of cooling does not know, K: common
   * to all expectations that have it. In heating the charge and the accumulator widen the rule as well, so
   * that its width is no one error.
   */
  readonly ofCoil?: number | undefined;
}
export type Expectations = Partial<Readonly<Record<FeatureKey, Expectation>>>;

const degF = differenceFromFahrenheit;

/**
 * How features of a healthy unit follow the weather and the return air, K per K, with the
 * half-width (k = 2) of that slope (of the current as a share of it): general rules (common practice,
 * no source), used only to carry a reference from its conditions to the present ones.
 */
interface Slope {
  readonly outdoor: readonly [slope: number, u: number];
  readonly indoor: readonly [slope: number, u: number];
}
const COOLING_SLOPES: Partial<Readonly<Record<FeatureKey, Slope>>> = {
  evaporating: { outdoor: [0.16, 0.14], indoor: [0.65, 0.4] },
  condensing: { outdoor: [0.95, 0.12], indoor: [0.25, 0.25] },
  superheat: { outdoor: [0, 0.15], indoor: [0, 0.3] },
  subcooling: { outdoor: [-0.05, 0.15], indoor: [0.05, 0.2] },
  liquidApproach: { outdoor: [0, 0.12], indoor: [0.2, 0.25] },
  discharge: { outdoor: [1.2, 0.5], indoor: [0, 0.8] },
  airChange: { outdoor: [-0.1, 0.1], indoor: [-0.3, 0.5] },
  current: { outdoor: [0.015, 0.01], indoor: [0.005, 0.01] },
};
/** A fixed orifice lets superheat and evaporating follow the weather: slopes of the chart itself. */
const FIXED_SUPERHEAT: Slope = { outdoor: [-0.55, 0.3], indoor: [1.7, 0.8] };
const FIXED_EVAPORATING: Slope = { outdoor: [0.25, 0.2], indoor: [0.5, 0.4] };
/**
 * Heating: after the same makers' lines and the same cycle as the general rules (heatingRules), whose
 * spread among makes is the half-width; the others common practice.
 */
const HEATING_SLOPES: Partial<Readonly<Record<FeatureKey, Slope>>> = {
  evaporating: { outdoor: [0.84, 0.18], indoor: [0.05, 0.15] },
  condensing: { outdoor: [0.45, 0.3], indoor: [0.95, 0.2] },
  superheat: { outdoor: [0, 0.3], indoor: [0, 0.2] },
  subcooling: { outdoor: [-0.1, 0.3], indoor: [0, 0.25] },
  liquidApproach: { outdoor: [0.45, 0.4], indoor: [0, 0.25] },
  discharge: { outdoor: [-0.1, 0.7], indoor: [1, 0.6] },
  airChange: { outdoor: [0.3, 0.25], indoor: [-0.1, 0.25] },
  current: { outdoor: [0.012, 0.01], indoor: [0.012, 0.01] },
};
/** Behind an orifice heating readings follow the weather by much more, and differently by make. */
const FIXED_HEATING: Partial<Readonly<Record<FeatureKey, Slope>>> = {
  evaporating: { outdoor: [0.75, 0.35], indoor: [0.05, 0.15] },
  superheat: { outdoor: [0.3, 0.9], indoor: [0, 0.3] },
  subcooling: { outdoor: [0.3, 0.6], indoor: [0, 0.3] },
  liquidApproach: { outdoor: [0.1, 0.6], indoor: [0, 0.25] },
  condensing: { outdoor: [0.45, 0.4], indoor: [0.95, 0.2] },
  discharge: { outdoor: [0, 2], indoor: [1, 0.6] },
};

/** Half-width (k = 2) by which two healthy units of one make differ beyond their instruments, K. */
const LIKE_UNITS: Readonly<Record<FeatureKey, number>> = {
  evaporating: 1.2,
  superheat: 1.6,
  condensing: 1.2,
  subcooling: 1.4,
  liquidApproach: 1.4,
  discharge: 4,
  compressorHeat: 4,
  airChange: 1.2,
  drierDrop: 0.4,
  current: 0,
};
/** ... and by which one unit differs from itself a season later. */
const SAME_UNIT_SHARE = 0.6;
/** Current of like units, as a fraction (k = 2); compared only at nearly the same pressures. */
const LIKE_CURRENT = 0.1;

/** Slopes of a feature for this kind of unit. */
export function slopeOf(feature: FeatureKey, metering: Metering, mode: Mode): Slope | null {
  if (mode === 'heating') {
    const fixed = metering === 'fixed' ? FIXED_HEATING[feature] : undefined;
    return fixed ?? HEATING_SLOPES[feature] ?? null;
  }
  if (metering === 'fixed' && feature === 'superheat') return FIXED_SUPERHEAT;
  if (metering === 'fixed' && feature === 'evaporating') return FIXED_EVAPORATING;
  return COOLING_SLOPES[feature] ?? null;
}

/** A correction from one set of conditions to another: what was added, and its u (k = 2). */
export interface Correction extends Uncertain {
  /** Whether both conditions were measured on both sides; otherwise equal weather is assumed. */
  readonly complete: boolean;
}

/** Half-width assumed (k = 2) for a difference of conditions that was not measured, K. */
export interface Unmeasured {
  readonly outdoor: number;
  readonly indoor: number;
}
/** Units beside each other at one time, or a line of a chart read for the present weather. */
const SAME_WEATHER: Unmeasured = { outdoor: 2, indoor: 2 };
/** One unit on two days: 15 °F outdoors and 6 °F indoors (our own choice). */
const ANOTHER_DAY: Unmeasured = { outdoor: degF(15), indoor: degF(6) };

/**
 * What a feature changes by from the conditions `from` to the conditions `to`.
 *
 * @param reading of the feature at `from`: the current changes in proportion to it
 * @param unmeasured what is assumed of conditions that were not measured at both
 */
export function correction(
  feature: FeatureKey,
  reading: number,
  unit: { readonly metering: Metering; readonly mode: Mode },
  from: Conditions,
  to: Conditions,
  unmeasured: Unmeasured = SAME_WEATHER,
): Correction {
  const slope = slopeOf(feature, unit.metering, unit.mode);
  if (slope === null) return { value: 0, u: 0, complete: true };
  const outdoor = conditionChange(from.outdoor, to.outdoor, unmeasured.outdoor);
  const wet = from.returnWetBulb !== null && to.returnWetBulb !== null && unit.mode === 'cooling';
  const indoor = wet
    ? conditionChange(from.returnWetBulb, to.returnWetBulb, unmeasured.indoor)
    : conditionChange(from.returnAir, to.returnAir, unmeasured.indoor);
  const parts = [
    [slope.outdoor, outdoor],
    [slope.indoor, indoor],
  ] as const;
  let value = 0;
  let square = 0;
  for (const [[s, sU], change] of parts) {
    value += s * change.value;
    square += (s * change.u) ** 2 + (sU * change.value) ** 2;
  }
  const scale = feature === 'current' ? reading : 1;
  return {
    value: scale * value,
    u: scale * Math.sqrt(square),
    complete: outdoor.measured && indoor.measured,
  };
}

function conditionChange(from: Uncertain | null, to: Uncertain | null, unmeasured: number) {
  if (from === null || to === null) return { value: 0, u: unmeasured, measured: false };
  return { value: to.value - from.value, u: Math.hypot(from.u, to.u), measured: true };
}

/**
 * Expectations in the order of their worth: the unit's own healthy snapshot, the maker's data typed in,
 * the target that applies, the general rules.
 */
export function expectationsFor(
  input: JudgementInput,
  conditions: Conditions,
  targets: readonly Target[],
): Expectations {
  const rules = fromRules(input, conditions, targets);
  const own = fromBaseline(input, conditions, rules);
  const maker = fromMaker(input, conditions);
  const expectations: Partial<Record<FeatureKey, Expectation>> = {};
  for (const feature of FEATURE_KEYS) {
    const expected = own[feature] ?? maker[feature] ?? rules[feature];
    if (expected !== undefined) expectations[feature] = expected;
  }
  const approach = approachRule(input, conditions, expectations);
  return approach === null ? expectations : { liquidApproach: approach, ...expectations };
}

/** Liquid line over the air of the condensing coil, as condensing and subcooling make it. */
function approachRule(
  input: JudgementInput,
  conditions: Conditions,
  { condensing, subcooling }: Expectations,
): Expectation | null {
  const air = input.config.mode === 'cooling' ? conditions.outdoor : conditions.returnAir;
  if (condensing === undefined || subcooling === undefined || air === null) return null;
  return {
    value: Math.max(0, condensing.value - subcooling.value - air.value),
    u: Math.hypot(condensing.u, subcooling.u),
    source: condensing.source === subcooling.source ? condensing.source : 'rule',
    ofCoil: condensing.ofCoil,
  };
}

function fromBaseline(
  { config, baseline: reference }: JudgementInput,
  to: Conditions,
  rules: Expectations,
): Expectations {
  // Another refrigerant, valve or mode is another machine: it is no reference.
  if (
    reference?.config.refrigerant !== config.refrigerant ||
    reference.config.metering !== config.metering ||
    reference.config.mode !== config.mode
  ) {
    return {};
  }
  const from = conditionsOf(reference.content, reference.config);
  const features = featuresOf(reference.content, reference.config);
  const expectations: Partial<Record<FeatureKey, Expectation>> = {};
  for (const feature of FEATURE_KEYS) {
    const reading = features[feature];
    if (reading === undefined) continue;
    const moved = correction(feature, reading.value, config, from, to, ANOTHER_DAY);
    const unlike = SAME_UNIT_SHARE * unlikeness(feature, reading);
    const u = Math.hypot(reading.u, moved.u, unlike);
    // A reading from a day of unknown weather may tell less than the rule for today's.
    if (!moved.complete && u > (rules[feature]?.u ?? Infinity)) continue;
    expectations[feature] = { value: reading.value + moved.value, u, source: 'baseline' };
  }
  return expectations;
}

/** The maker's values, carried from the conditions of their chart to the present ones. */
function fromMaker(input: JudgementInput, to: Conditions): Expectations {
  const from = makersConditions(input.maker, to);
  const features = makersFeatures(input.maker, input.config);
  const expectations: Partial<Record<FeatureKey, Expectation>> = {};
  for (const feature of FEATURE_KEYS) {
    const typed = features[feature];
    if (typed === undefined) continue;
    const moved =
      from === null ? NOT_MOVED : correction(feature, typed.value, input.config, from, to);
    expectations[feature] = {
      value: typed.value + moved.value,
      u: Math.hypot(typed.u, moved.u),
      source: 'maker',
    };
  }
  return expectations;
}
const NOT_MOVED = { value: 0, u: 0 } as const;

/** Half-width (k = 2) by which like units differ. */
export function unlikeness(feature: FeatureKey, reading: Uncertain): number {
  return feature === 'current' ? LIKE_CURRENT * reading.value : LIKE_UNITS[feature];
}

/** Return air assumed where none was measured: a lived-in house, 75 °F ± 6 °F, half humid. */
const USUAL_RETURN: Uncertain = { value: kelvinFromFahrenheit(75), u: degF(6) };
const USUAL_WET_BULB: Uncertain = { value: kelvinFromFahrenheit(63), u: degF(5) };
/** Outdoor air assumed where none was measured, in cooling weather: 85 °F ± 15 °F. */
const USUAL_OUTDOOR: Uncertain = { value: kelvinFromFahrenheit(85), u: degF(15) };

/**
 * The general rules of the trade, wide on purpose (and what a superheat chart says by its dashes). Cooling: condensing 19.5 °F over outdoor air and
 * evaporating 47 °F at a wet bulb of 67 °F, centre and width after the typical pressures Lennox
 * prints for sound units (LRP14AC, 10ACB, 12HPB, SPB*H4, XP16, LG/LC manuals: 14 to 21 °F, sd 2 to 5
 * °F; 46 to 52 °F at 95 °F outdoors) and the 30 °F of old units in textbooks. Superheat 11 °F
 * (with a valve 5 to 17 °F: 8 to 12 °F at the coil and what the suction line adds) and
 * subcooling 10 °F where no target stands (behind an orifice the field formula), no drop across a
 * drier: common practice, no source. Heating: see heatingRules.
 */
function fromRules(
  input: JudgementInput,
  conditions: Conditions,
  targets: readonly Target[],
): Expectations {
  const rules: Partial<Record<FeatureKey, Expectation>> = {};
  const rule: AddRule = (feature, value, u, more) => {
    rules[feature] = { value, u, source: 'rule', ...more };
  };
  rule('drierDrop', 0, degF(1.5));
  rule('compressorHeat', 0, Math.hypot(degF(4), compressorHeatDoubt(input.content, input.config)));
  if (input.config.mode === 'heating') heatingRules(input, conditions, rule);
  else coolingRules(input, conditions, rule);
  for (const target of targets) {
    const feature = target.quantity === 'airDrop' ? 'airChange' : target.quantity;
    if (target.value === null) continue;
    // Healthy units stand about their targets with the tolerance of the trade.
    const u = Math.hypot(target.u, target.high - target.value);
    rules[feature] = { value: target.value, u, source: 'target' };
  }
  dischargeRule(input, rules);
  return rules;
}

/** A chart prints a dash where its target is under 5 °F; the makers that print it allow ± 5 °F. */
const DASH_DEGF = { under: 5, middle: 2.5, tolerance: 5 };

/**
 * Whether the superheat chart in use prints a dash for this weather and the superheat is above what that
 * allows: a sound orifice then shows hardly any. Of a superheat that small a dash says nothing, since no
 * fault can take it lower.
 */
function aboveADash({ superheatChart, content }: JudgementInput, conditions: Conditions): boolean {
  const { outdoor, returnWetBulb } = conditions;
  if (outdoor === null || returnWetBulb === null) return false;
  if ((content.figures.superheat?.value ?? 0) <= degF(DASH_DEGF.under)) return false;
  const found = lookUp(
    superheatChart === 'ra32' ? TARGET_SUPERHEAT_RA32 : CHARGING_CHART,
    fahrenheitFromKelvin(kelvin(outdoor.value)),
    fahrenheitFromKelvin(kelvin(returnWetBulb.value)),
  );
  return !found.ok && found.error.code === 'IN_THE_DASHES';
}

/** Outdoor air in heating where none was measured, K. */
const MILD = kelvinFromFahrenheit(40);

type AddRule = (
  feature: FeatureKey,
  value: number,
  u: number,
  more?: Partial<Pick<Expectation, 'source' | 'ofCoil'>>,
) => void;

/** Condensing over outdoor air in cooling, °F: larger coils come nearer to the air. */
const COIL = { over: 19.5, u: 9 };

function coolingRules(input: JudgementInput, conditions: Conditions, rule: AddRule): void {
  const wet =
    conditions.returnWetBulb ??
    (conditions.returnAir === null
      ? USUAL_WET_BULB
      : { value: conditions.returnAir.value - degF(12), u: degF(8) });
  const outdoor = conditions.outdoor;
  const slope = slopeOf('evaporating', input.config.metering, 'cooling')?.outdoor[0] ?? 0;
  const warmth = outdoor === null ? 0 : slope * (outdoor.value - kelvinFromFahrenheit(90));
  rule(
    'evaporating',
    kelvinFromFahrenheit(44.5) + 0.65 * (wet.value - kelvinFromFahrenheit(63)) + warmth,
    Math.hypot(degF(7.5), 0.65 * wet.u),
  );
  if (outdoor !== null) {
    const ofCoil = degF(COIL.u);
    rule('condensing', outdoor.value + degF(COIL.over), Math.hypot(ofCoil, outdoor.u), { ofCoil });
  }
  const fixed = input.config.metering === 'fixed';
  if (!fixed) {
    const { low, high } = USUAL_VALVE_SUPERHEAT;
    rule('superheat', (low + high) / 2, (high - low) / 2);
  }
  if (fixed) {
    const air = outdoor ?? USUAL_OUTDOOR;
    // The field formula of the trade, (3 WB - 80 - DB) / 2 in °F, held within what orifices show.
    const inF = (t: number): number => fahrenheitFromKelvin(kelvin(t));
    const formula = (3 * inF(wet.value) - 80 - inF(air.value)) / 2;
    const entries = Math.hypot(1.5 * wet.u, 0.5 * air.u);
    if (aboveADash(input, conditions)) {
      const u = degF(DASH_DEGF.under - DASH_DEGF.middle + DASH_DEGF.tolerance);
      rule('superheat', degF(DASH_DEGF.middle), Math.hypot(u, entries), { source: 'dash' });
    } else {
      const value = degF(Math.min(40, Math.max(3, formula)));
      rule('superheat', value, Math.hypot(degF(9), entries));
    }
  }
  rule('subcooling', degF(10), fixed ? degF(9) : degF(7));
  if (conditions.returnAir !== null) rule('airChange', degF(19), degF(7));
}

/**
 * Behind a valve in heating, °F: how far up depends on how much smaller the indoor coil is; but as long as
 * the charge is there, liquid stands before the valve, so that it never falls below some 5 °F.
 */
const HEATING_SUBCOOLING = { value: 18, up: 18, down: 13 };

/**
 * Heating: evaporating under outdoor air and condensing over return air after the heating pressures
 * makers print (Heat Controller tables 9 and 10, Lennox SPB*H4 table 14: 29 lines; their fit is 10.5 °F
 * and 0.15 °F per °F under, sd 3.5 °F; 20.5 °F and 0.6 °F per °F over at 20 °F, sd 5.7 °F; Goodman
 * SSZ14-030 at 70 °F indoors: 21 to 30 °F over at 20 °F outdoors, 41 to 46 °F at 60 °F). A cycle of
 * CoolProp with two coils, a valve or an orifice and one charge made for cooling gives the same: 10.5 °F
 * and 0.17 °F per °F under. Colder air makes the machine draw less, so the coil needs less difference.
 * That cycle also gives what the others are: the charge was made for cooling, so behind a valve, with
 * the small indoor coil condensing, 12 to 42 °F of subcooling, and none once a sixth to a third is gone; behind an orifice
 * the accumulator takes what the cold lets through, and subcooling falls from 17 °F at 47 °F outdoors
 * to none at 17 °F, superheat from some to none. Air rise: common practice, no source.
 */
function heatingRules(input: JudgementInput, conditions: Conditions, rule: AddRule): void {
  const { outdoor } = conditions;
  const returnAir = conditions.returnAir ?? USUAL_RETURN;
  if (outdoor !== null) {
    const under = degF(10.5) + 0.16 * Math.max(0, outdoor.value - kelvinFromFahrenheit(17));
    rule('evaporating', outdoor.value - under, Math.hypot(degF(8), outdoor.u));
    rule('airChange', degF(18) + 0.35 * (outdoor.value - kelvinFromFahrenheit(17)), degF(9));
  }
  if (outdoor !== null) {
    const over = degF(24) + 0.5 * (outdoor.value - kelvinFromFahrenheit(20));
    rule('condensing', returnAir.value + over, Math.hypot(degF(13), returnAir.u));
  } else {
    rule('condensing', returnAir.value + degF(34), Math.hypot(degF(22), returnAir.u));
  }
  if (input.config.metering !== 'fixed') {
    rule('superheat', degF(8), degF(11));
    const little =
      (input.content.figures.subcooling?.value ?? Infinity) < degF(HEATING_SUBCOOLING.value);
    const { value, up, down } = HEATING_SUBCOOLING;
    rule('subcooling', degF(value), degF(little ? down : up));
    return;
  }
  const warmth = Math.max(0, (outdoor?.value ?? MILD) - kelvinFromFahrenheit(17));
  rule('superheat', degF(3) + 0.2 * warmth, degF(9) + 0.15 * warmth);
  rule('subcooling', degF(4) + 0.4 * warmth, degF(17));
}

/** Discharge temperature from the expected states on both sides, where they are all expected. */
function dischargeRule(
  input: JudgementInput,
  rules: Partial<Record<FeatureKey, Expectation>>,
): void {
  const { evaporating, condensing, superheat } = rules;
  if (evaporating === undefined || condensing === undefined || superheat === undefined) return;
  const fluid = refrigerant(input.config.refrigerant);
  const low = fluid.curves.pDew(evaporating.value);
  const high = fluid.curves.pBubble(condensing.value);
  const value = dischargeTemperature(
    {
      suctionPressure: low,
      suctionTemp: evaporating.value + Math.max(0, superheat.value),
      dischargePressure: high,
    },
    0.72,
    fluid,
  );
  if (Number.isNaN(value)) return;
  // In heating the suction is wet or not as the accumulator has it: no rule for the discharge.
  if (input.config.mode === 'heating') return;
  // Condensing and superheat pass on one for one, evaporating with about half, efficiency the rest.
  const u = Math.hypot(condensing.u, superheat.u, 0.5 * evaporating.u, degF(16));
  rules.discharge = { value, u, source: 'rule', ofCoil: condensing.ofCoil };
}
