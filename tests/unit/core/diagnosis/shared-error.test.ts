import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
import { normalDensity, type Residual } from '../../../../core/diagnosis/likelihood.ts';
import { overSharedError } from '../../../../core/diagnosis/shared-error.ts';
import { differenceFromFahrenheit } from '../../../../core/units/temperature.ts';
import { inputOf, NO_PLATE, probabilityOf, SOUND } from './make.ts';

/** Density of a normal pair with zero means, sds a and b, and correlation r (textbook formula). */
function pairDensity(x: number, y: number, a: number, b: number, r: number): number {
  const [u, v] = [x / a, y / b];
  const q = (u * u - 2 * r * u * v + v * v) / (1 - r * r);
  return Math.exp(-q / 2) / (2 * Math.PI * a * b * Math.sqrt(1 - r * r));
}

describe('an error that residuals share', () => {
  it('makes of two normal residuals the normal pair of that covariance', () => {
    for (const [x, y] of [
      [0, 0],
      [5, 6],
      [4, -3],
      [-2, 3],
    ] as const) {
      const residuals: Residual[] = [
        { feature: 'condensing', value: x, sd: Math.hypot(2.5, 1.2), shared: 2.5 },
        { feature: 'liquidApproach', value: y, sd: Math.hypot(2.5, 1.5), shared: 2.5 },
      ];
      const mean = overSharedError(residuals).reduce(
        (sum, at) =>
          sum + at.residuals.reduce((p, r) => p * normalDensity(r.value, 0, r.sd), at.weight),
        0,
      );
      const [a, b] = [Math.hypot(2.5, 1.2), Math.hypot(2.5, 1.5)];
      const exact = pairDensity(x, y, a, b, 2.5 ** 2 / (a * b));
      expect(mean / exact).toBeGreaterThan(0.98);
      expect(mean / exact).toBeLessThan(1.02);
    }
  });

  it('leaves residuals without one as they are', () => {
    const residuals: Residual[] = [{ feature: 'subcooling', value: 3, sd: 1 }];
    expect(overSharedError(residuals)).toEqual([{ weight: 1, residuals }]);
  });
});

describe('a sound unit whose condensing coil is small', () => {
  it('is not accused of a fouled coil by one fact that three readings show', () => {
    // 30 °F over the air, as the trade gives old units (common practice, no source): the liquid line and
    // the discharge are as much warmer as condensing is.
    const nameplate = { ...NO_PLATE, targetSubcooling_K: differenceFromFahrenheit(10) };
    const small = { ...SOUND, outdoor: 85, liquid: 396, liquidLine: 105, discharge: 186 };
    const { answer, suspects } = judge(inputOf(small, {}, { nameplate })).diagnosis;
    expect(answer).not.toBe('suspect');
    expect(probabilityOf(suspects, 'fouledOutdoorCoil')).toBeLessThan(0.5);
  });

  it('is accused once the coil is further from the air than any sound unit', () => {
    const nameplate = { ...NO_PLATE, targetSubcooling_K: differenceFromFahrenheit(10) };
    const fouled = { ...SOUND, outdoor: 70, liquid: 417, liquidLine: 107, discharge: 190 };
    const { answer, suspects } = judge(inputOf(fouled, {}, { nameplate })).diagnosis;
    expect(answer).toBe('suspect');
    expect(suspects[0]?.key).toBe('fouledOutdoorCoil');
  });
});
