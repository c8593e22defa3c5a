import { fahrenheitFromKelvin, differenceFromFahrenheit } from '../units/temperature.ts';
import { kelvin } from '../units/brands.ts';
import type { Conditions } from './conditions.ts';
import { CHARGING_CHART } from './data/charging-chart.ts';
import { TARGET_SPLIT_RA32 } from './data/target-split-ra32.ts';
import { TARGET_SUPERHEAT_RA32 } from './data/target-superheat-ra32.ts';
import { correction } from './expectations.ts';
import { makersConditions } from './maker-features.ts';
import { lookUp, type PrintedTable } from './table.ts';
import { STANDARDS } from './tolerances.ts';
import type { JudgementInput, Refusal, Target, TargetSource, Uncertain } from './types.ts';

/** The targets that apply, and why one that should apply cannot be had. */
export interface Targets {
  readonly targets: readonly Target[];
  readonly refusals: readonly Refusal[];
}

/**
 * Half-width (k = 2) of what a table prints, °F: the chart is in whole degrees and its copies
 * differ by one in places; the tables of RA3.2 print tenths.
 */
const PRINT_U = { chargingChart: 1, ra32: 0.1 } as const;

/**
 * What superheat, subcooling and the air temperature drop should be, each with its source. Cooling
 * only: in heating the maker's own chart or a weigh-in decides.
 */
export function targetsFor(input: JudgementInput, conditions: Conditions): Targets {
  if (input.config.mode === 'heating') return heatingTargets(input, conditions);
  const targets: Target[] = [];
  const refusals: Refusal[] = [];
  const take = (outcome: Target | Refusal): void => {
    if ('blocks' in outcome) refusals.push(outcome);
    else targets.push(outcome);
  };
  take(superheatTarget(input, conditions));
  if (input.config.metering !== 'fixed') take(subcoolingTarget(input, conditions));
  if (conditions.returnAir !== null) take(splitTarget(input, conditions));
  return { targets, refusals };
}

/**
 * In heating only the maker's heating chart speaks: what was typed in of it, and a word about the
 * charge only where it names the quantity that tells the charge.
 */
function heatingTargets(input: JudgementInput, conditions: Conditions): Targets {
  const superheat = makersTarget('superheat', input, conditions);
  const subcooling = makersTarget('subcooling', input, conditions);
  const deciding = input.config.metering === 'fixed' ? superheat : subcooling;
  return {
    targets: [superheat, subcooling].filter((t) => t !== null),
    refusals: deciding === null ? [{ blocks: 'charge', code: 'HEATING_BY_MAKER_ONLY' }] : [],
  };
}

/** A row of the maker's chart as a target: its own tolerance, and the doubt of carrying it here. */
function makersTarget(
  quantity: 'superheat' | 'subcooling',
  input: JudgementInput,
  conditions: Conditions,
): Target | null {
  const typed = input.maker[quantity];
  if (typed === undefined) return null;
  const from = makersConditions(input.maker, conditions);
  const moved =
    from === null ? null : correction(quantity, typed.value, input.config, from, conditions);
  const value = typed.value + (moved?.value ?? 0);
  return around(quantity, value, moved?.u ?? 0, typed.u, { code: 'makersChart' }, false);
}

function around(
  quantity: Target['quantity'],
  value: number,
  u: number,
  tolerance: number,
  source: TargetSource,
  fromMemory: boolean,
): Target {
  return {
    quantity,
    value,
    u,
    low: value - tolerance,
    high: value + tolerance,
    source,
    fromMemory,
  };
}

function subcoolingTarget(input: JudgementInput, conditions: Conditions): Target | Refusal {
  const chart = makersTarget('subcooling', input, conditions);
  if (chart !== null) return chart;
  const standard = STANDARDS[input.standard];
  const plate = input.nameplate.targetSubcooling_K;
  if (plate === null) return { blocks: 'charge', code: 'NO_SUBCOOLING_TARGET' };
  return around('subcooling', plate, 0, standard.subcooling, { code: 'nameplate' }, false);
}

/** The maker's own value first; then, for an orifice the chart, for a valve the accepted range. */
function superheatTarget(input: JudgementInput, conditions: Conditions): Target | Refusal {
  const standard = STANDARDS[input.standard];
  const chart = makersTarget('superheat', input, conditions);
  if (chart !== null) return chart;
  const plate = input.nameplate.targetSuperheat_K;
  if (plate !== null) {
    return around('superheat', plate, 0, standard.superheat, { code: 'nameplate' }, false);
  }
  if (input.config.metering !== 'fixed') {
    const [low, high] = standard.valveRange;
    const source = { code: 'ra32ValveRange' } as const;
    return { quantity: 'superheat', value: null, u: 0, low, high, source, fromMemory: false };
  }
  const { outdoor, returnWetBulb } = conditions;
  const blocks = 'superheatTarget';
  if (outdoor === null) return { blocks, code: 'OUTDOOR_UNKNOWN' };
  if (returnWetBulb === null) return wetBulbMissing(blocks, conditions);
  const ra32 = input.superheatChart === 'ra32';
  const found = entered(ra32 ? TARGET_SUPERHEAT_RA32 : CHARGING_CHART, outdoor, returnWetBulb);
  if (!found.ok) return { blocks, code: 'TABLE', table: 'superheat', why: found.error };
  return around(
    'superheat',
    found.value.value,
    Math.hypot(found.value.u, differenceFromFahrenheit(PRINT_U[input.superheatChart])),
    standard.superheat,
    { code: ra32 ? 'ra32Superheat' : 'chargingChart' },
    ra32,
  );
}

function splitTarget(input: JudgementInput, conditions: Conditions): Target | Refusal {
  const { returnAir, returnWetBulb } = conditions;
  const blocks = 'splitTarget';
  if (returnAir === null || returnWetBulb === null) return wetBulbMissing(blocks, conditions);
  const found = entered(TARGET_SPLIT_RA32, returnAir, returnWetBulb);
  if (!found.ok) return { blocks, code: 'TABLE', table: 'split', why: found.error };
  return around(
    'airDrop',
    found.value.value,
    Math.hypot(found.value.u, differenceFromFahrenheit(PRINT_U.ra32)),
    STANDARDS[input.standard].split,
    { code: 'ra32Split' },
    true,
  );
}

function wetBulbMissing(blocks: Refusal['blocks'], conditions: Conditions): Refusal {
  return conditions.airRefused === null
    ? { blocks, code: 'WET_BULB_UNKNOWN' }
    : { blocks, code: 'AIR_REFUSED', why: conditions.airRefused };
}

/** A table entered with two temperatures (K): its value in K, with what the entries' u makes of it. */
function entered(table: PrintedTable, row: Uncertain, column: Uncertain) {
  const found = lookUp(
    table,
    fahrenheitFromKelvin(kelvin(row.value)),
    fahrenheitFromKelvin(kelvin(column.value)),
  );
  if (!found.ok) return found;
  const { value, perRow, perColumn } = found.value;
  // The slopes are degrees per degree, so they hold in kelvin as well.
  return {
    ok: true as const,
    value: {
      value: differenceFromFahrenheit(value) as number,
      u: Math.hypot(perRow * row.u, perColumn * column.u),
    },
  };
}
