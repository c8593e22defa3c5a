import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import type { QuantityMotion } from '../../../core/steadiness/types.ts';
import {
  closingLine,
  depthOf,
  distanceOf,
  FAR,
  pathOf,
  spread,
  timeTicks,
} from '../../../renderer/charts/closing-in.ts';

const MOTION: QuantityMotion = {
  key: 'superheat',
  tolerance: 0.5,
  value: 8,
  heading: 6,
  headingU: 0.3,
  drift: -1,
  driftU: 0.2,
  inside: false,
  swing: null,
};

describe('the distance from where a quantity heads', () => {
  it('is counted in its own tolerances, with its sign', () => {
    expect(distanceOf(MOTION)).toBe(4);
    expect(distanceOf({ ...MOTION, value: 5 })).toBe(-2);
  });

  it('falls back on the drift, and is unknown without either', () => {
    expect(distanceOf({ ...MOTION, heading: null })).toBe(2);
    expect(distanceOf({ ...MOTION, heading: null, drift: null })).toBeNull();
    expect(distanceOf({ ...MOTION, value: null })).toBeNull();
  });

  it('makes a line of the history, gaps kept', () => {
    const line = closingLine({ ...MOTION, swing: { amplitude: 1, period: 60 } }, [
      [0, 10],
      [1, null],
      [2, 6.5],
    ]);
    expect(line?.points).toEqual([
      [0, 8],
      [1, null],
      [2, 1],
    ]);
    expect(line?.swing).toBe(2);
  });
});

describe('the depth of a distance', () => {
  it('puts rest in the middle and runs from bottom to top without a turn', () => {
    expect(depthOf(0)).toBe(0.5);
    expect(depthOf(FAR)).toBeCloseTo(0, 12);
    expect(depthOf(-FAR * 10)).toBeCloseTo(1, 12);
    const distance = fc.double({ min: -FAR, max: FAR, noNaN: true });
    fc.assert(
      fc.property(distance, distance, (a, b) => {
        if (a < b) expect(depthOf(a)).toBeGreaterThanOrEqual(depthOf(b));
      }),
    );
  });

  it('gives the band a fifth of the height, so that it can be seen from afar', () => {
    expect(depthOf(-1) - depthOf(1)).toBeGreaterThan(0.18);
  });
});

describe('labels', () => {
  it('are moved apart, in order, within their limits', () => {
    const wanted = fc.array(fc.double({ min: -50, max: 350, noNaN: true }), {
      minLength: 1,
      maxLength: 5,
    });
    fc.assert(
      fc.property(wanted, (ys) => {
        const placed = spread(ys, 19, 0, 300);
        const sorted = [...placed].sort((a, b) => a - b);
        sorted.forEach((y, i) => {
          expect(y).toBeGreaterThanOrEqual(-1e-9);
          expect(y).toBeLessThanOrEqual(300);
          if (i > 0) expect(y - (sorted[i - 1] ?? 0)).toBeGreaterThan(19 - 1e-9);
        });
        ys.forEach((a, i) =>
          ys.forEach((b, j) => {
            if (a < b) expect(placed[i]).toBeLessThan(placed[j]!);
          }),
        );
      }),
    );
  });
});

describe('paths and time marks', () => {
  it('lift the pen at a gap', () => {
    const same = (v: number) => v;
    expect(
      pathOf(
        [
          [0, 1],
          [1, 2],
          [2, null],
          [3, 4],
        ],
        same,
        same,
      ),
    ).toBe('M0.0 1.0L1.0 2.0M3.0 4.0');
  });

  it('stand at round times', () => {
    expect(timeTicks(130, 1930, 6)).toEqual([300, 600, 900, 1200, 1500, 1800]);
    expect(timeTicks(0, 120, 4)).toEqual([0, 30, 60, 90, 120]);
  });
});
