import { SIGNIFICANT, type Residual } from '../../../core/diagnosis/likelihood.ts';
import { bySuspect, SUSPECT_KEYS, type SuspectKey } from '../../../core/diagnosis/suspects.ts';
import type { FeatureKey } from '../../../core/diagnosis/types.ts';

/**
 * The yardstick: published rule tables with plain thresholds, as a technician would use them with a
 * sheet of paper. Rossi & Braun 1997 (as reprinted in Li & Braun 2003) for a fixed orifice; for a
 * valve the rows of Chen & Braun 2001 and NIST SP 1087 (from memory). Columns: evaporating,
 * superheat, condensing, subcooling, discharge, air drop.
 */
const COLUMNS: readonly FeatureKey[] = [
  'evaporating',
  'superheat',
  'condensing',
  'subcooling',
  'discharge',
  'airChange',
];
type Rules = readonly (readonly [SuspectKey, string])[];
const FIXED: Rules = [
  ['lowCharge', '-+--+-'],
  ['compressorValveLeak', '+-----'],
  ['liquidLineRestriction', '-+-++-'],
  ['fouledOutdoorCoil', '+-+-+-'],
  ['lowIndoorAir', '-----+'],
  ['overcharge', '+-++-0'],
];
const VALVE: Rules = [
  ['lowCharge', '000-00'],
  ['lowCharge', '-+--+-'],
  ['overcharge', '00+++0'],
  ['nonCondensables', '00+++-'],
  ['lowIndoorAir', '-0-0-+'],
  ['reversingValveLeak', '+0--+-'],
  ['liquidLineRestriction', '-+-++-'],
];

/** Signs by plain thresholds: `factor` times what is significant. */
function signs(residuals: readonly Residual[], factor: number): Map<FeatureKey, string> {
  return new Map(
    residuals.map(({ feature, value }) => {
      const limit = factor * SIGNIFICANT[feature];
      return [feature, value > limit ? '+' : value < -limit ? '-' : '0'];
    }),
  );
}

/** Whether the rule table has a row for a fault in a unit of this metering. */
export function inRuleTable(suspect: SuspectKey, metering: string): boolean {
  return (metering === 'fixed' ? FIXED : VALVE).some(([key]) => key === suspect);
}

/** The answers of the rule table, best match first; nothing wrong where every sign is zero. */
export function ruleTable(
  residuals: readonly Residual[],
  metering: string,
  factor: number,
): readonly SuspectKey[] {
  const seen = signs(residuals, factor);
  const present = COLUMNS.filter((c) => seen.has(c));
  if (present.every((c) => seen.get(c) === '0')) {
    return ['nothingWrong', ...SUSPECT_KEYS.filter((k) => k !== 'nothingWrong')];
  }
  const score = bySuspect(() => -Infinity) as Record<SuspectKey, number>;
  for (const [suspect, rule] of metering === 'fixed' ? FIXED : VALVE) {
    const matches = present.filter((c) => seen.get(c) === rule[COLUMNS.indexOf(c)]).length;
    score[suspect] = Math.max(score[suspect], matches / present.length);
  }
  score.nothingWrong = -1;
  return [...SUSPECT_KEYS].sort((a, b) => score[b] - score[a]);
}
