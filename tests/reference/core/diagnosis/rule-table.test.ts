import { describe, expect, it } from 'vitest';
import { residualLikelihood } from '../../../../core/diagnosis/evidence.ts';
import { SIGNIFICANT, type Residual } from '../../../../core/diagnosis/likelihood.ts';
import { signTable } from '../../../../core/diagnosis/signs.ts';
import {
  priors,
  SUSPECT_KEYS,
  updated,
  type SuspectKey,
} from '../../../../core/diagnosis/suspects.ts';
import type { FeatureKey } from '../../../../core/diagnosis/types.ts';

/**
 * Rossi & Braun 1997, Table 1-1 as reprinted in Li & Braun 2003: signs of evaporating temperature,
 * superheat, condensing temperature, subcooling, discharge temperature and evaporator air drop. Its
 * column of the condenser air rise has no channel here.
 */
const PUBLISHED: readonly (readonly [SuspectKey, string])[] = [
  ['lowCharge', '-+--+-'],
  ['compressorValveLeak', '+-----'],
  ['liquidLineRestriction', '-+-++-'],
  ['fouledOutdoorCoil', '+-+-+-'],
  ['lowIndoorAir', '-----+'],
];
const COLUMNS: readonly FeatureKey[] = [
  'evaporating',
  'superheat',
  'condensing',
  'subcooling',
  'discharge',
  'airChange',
];

function ranked(signs: string, sizes: number, hidden: readonly FeatureKey[] = []): SuspectKey[] {
  const residuals: Residual[] = COLUMNS.map((feature, i) => ({
    feature,
    value: (signs[i] === '+' ? sizes : -sizes) * SIGNIFICANT[feature],
    sd: 0.3 * SIGNIFICANT[feature],
  })).filter((r) => !hidden.includes(r.feature));
  const posterior = updated(
    priors('fixed', 'cooling', false),
    residualLikelihood(residuals, signTable('fixed', 'cooling')),
  );
  return [...SUSPECT_KEYS].sort((a, b) => posterior[b] - posterior[a]);
}

describe('the published rule table of a fixed orifice in cooling', () => {
  it('stands in the sign table, sign by sign', () => {
    const table = signTable('fixed', 'cooling');
    for (const [fault, signs] of PUBLISHED) {
      const [row] = table[fault];
      expect(COLUMNS.map((c) => row?.signs[c].charAt(0)).join('')).toBe(signs);
    }
  });

  it('leads each of its rows to its own fault', () => {
    for (const [fault, signs] of PUBLISHED) {
      const first = ranked(signs, 2.5)[0];
      // A fouled coil and the iced coil of low air show alike until the ice is seen.
      expect(first).toBe(fault);
    }
  });

  it('separates low charge from a restriction by the sign of the subcooling alone', () => {
    expect(ranked('-+--+-', 2.5)[0]).toBe('lowCharge');
    expect(ranked('-+-++-', 2.5).slice(0, 2)).toContain('liquidLineRestriction');
  });

  it('keeps the fault among the first two with the discharge clamp and the air side missing', () => {
    for (const [fault, signs] of PUBLISHED) {
      expect(ranked(signs, 2.5, ['discharge', 'airChange']).slice(0, 2)).toContain(fault);
    }
  });

  it('calls no residual nothing wrong', () => {
    expect(ranked('++++++', 0)[0]).toBe('nothingWrong');
  });
});
