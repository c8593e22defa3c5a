import { beforeAll, describe, expect, it } from 'vitest';
import type { FaultKind } from '../../../../core/plant/scenario.ts';
import { FEATURES, residual, steadyFeatures, type Features } from '../../../support/plant.ts';

/**
 * Outside truth of the plant: the signs of the residuals (faulty minus healthy at the same driving
 * conditions) of Rossi and Braun 1997 for a fixed orifice, cooling, R-22, as reprinted by Li and
 * Braun 2003, Table 1-1. A sign counts when the residual is at least half the display step of a
 * pocket thermometer away from zero, 0.3 K; at 60 % severity.
 */
const SIGNIFICANT_K = 0.3;
const SEVERITY = 0.6;

const TABLE: readonly (readonly [FaultKind, string])[] = [
  ['lowCharge', '- + - - + - -'],
  ['compressorValveLeak', '+ - - - - - -'],
  ['liquidLineRestriction', '- + - + + - -'],
  ['fouledOutdoorCoil', '+ - + - + + -'],
  ['lowIndoorAir', '- - - - - - +'],
];

const signs = (r: Features): string =>
  FEATURES.map((k) => (r[k] > SIGNIFICANT_K ? '+' : r[k] < -SIGNIFICANT_K ? '-' : '0')).join(' ');

describe('Rossi and Braun 1997, fixed orifice, R-22', () => {
  let healthy: Features;
  beforeAll(() => {
    healthy = steadyFeatures('fixed', 'R-22', null);
  });

  it.each(TABLE)('%s gives the seven published signs', (kind, expected) => {
    const faulty = steadyFeatures('fixed', 'R-22', { kind, severity: SEVERITY });
    expect(signs(residual(faulty, healthy))).toBe(expected);
  });

  it('overcharge floods: more condensing pressure and subcooling, less superheat and discharge heat', () => {
    // Row from memory of Chen and Braun 2001: + - + + - +, air drop about nil.
    const faulty = steadyFeatures('fixed', 'R-22', { kind: 'overcharge', severity: SEVERITY });
    const r = residual(faulty, healthy);
    expect(signs({ ...r, dTea: 0 })).toBe('+ - + + - + 0');
    expect(r.dTea).toBeLessThan(SIGNIFICANT_K);
  });
});

/**
 * With a thermostatic valve (rows from memory: Chen and Braun 2001, NISTIR 7350, NIST SP 1087). '~'
 * means small: within 30 % of the largest residual of that feature among the fixed-orifice faults
 * of the published table at the same severity.
 */
const SMALL_SHARE = 0.3;
const TXV: readonly (readonly [FaultKind, number, string])[] = [
  ['overcharge', 0.6, '~ ~ + + + ? ~'],
  ['lowCharge', 0.35, '~ ~ ~ - ~ ~ ~'],
  ['lowCharge', 0.9, '- + - - + - -'],
  ['nonCondensables', 1, '? ~ + + + ? -'],
  ['liquidLineRestriction', 0.35, '~ ~ ~ ~ ~ ~ ~'],
  ['lowIndoorAir', 0.6, '- ~ - ~ ~ - +'],
  ['reversingValveLeak', 0.8, '+ ~ - - + - -'],
];

describe('expansion valve, R-410A', () => {
  let healthy: Features;
  let scale: Features;
  beforeAll(() => {
    healthy = steadyFeatures('txv', 'R-410A', null);
    const orifice = steadyFeatures('fixed', 'R-410A', null);
    const all = TABLE.map(([kind]) =>
      residual(steadyFeatures('fixed', 'R-410A', { kind, severity: SEVERITY }), orifice),
    );
    scale = Object.fromEntries(
      FEATURES.map((k) => [k, Math.max(...all.map((r) => Math.abs(r[k])))]),
    ) as unknown as Features;
  });

  it.each(TXV)('%s at %s', (kind, severity, expected) => {
    const r = residual(steadyFeatures('txv', 'R-410A', { kind, severity }), healthy);
    const wanted = expected.split(' ');
    FEATURES.forEach((k, i) => {
      const note = `${kind} ${k} = ${r[k].toFixed(2)} K, scale ${scale[k].toFixed(2)} K`;
      const small = SMALL_SHARE * scale[k];
      if (wanted[i] === '+') expect(r[k], note).toBeGreaterThan(SIGNIFICANT_K);
      else if (wanted[i] === '-') expect(r[k], note).toBeLessThan(-SIGNIFICANT_K);
      else if (wanted[i] === '~') expect(Math.abs(r[k]), note).toBeLessThan(small);
      // '~/+': small or rising, never clearly falling.
      else expect(r[k], note).toBeGreaterThan(-small);
    });
  });
});
