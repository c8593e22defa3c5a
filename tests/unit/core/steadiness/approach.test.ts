import { describe, expect, it } from 'vitest';
import {
  createForecast,
  createWorkspace,
  fitApproach,
  type Forecast,
} from '../../../../core/steadiness/approach.ts';
import { createBasis, layBasis } from '../../../../core/steadiness/basis.ts';
import { appendBlock, createBlocks } from '../../../../core/steadiness/blocks.ts';
import { noise } from './driver.ts';

const TOLERANCE = 5 / 9;
const SCATTER = 0.05;

/** The forecast after so many seconds of a signal in 5 s blocks with white noise. */
function forecastOf(signal: (t: number) => number, watched: number): Forecast {
  const blocks = createBlocks(1);
  const random = noise(3);
  for (let t = 0; t < watched; t += 5) {
    const mean = signal(t + 2.5) + SCATTER * random();
    appendBlock(blocks, t, t + 5, new Float64Array([5 * mean]), new Float64Array([5]));
  }
  const basis = createBasis();
  layBasis(basis, blocks, { horizon: 300, period: 0, pace: 1 });
  const out = createForecast();
  const input = {
    quantity: 0,
    density: 5 * SCATTER ** 2,
    level: signal(watched),
    leastExcursion: 2 * TOLERANCE,
  };
  fitApproach(basis, blocks, input, createWorkspace(), out);
  return out;
}

const rush = (t: number): number => 10 * Math.exp(-t / 30);

describe('fitApproach', () => {
  it('finds the slow modes weak where nothing moves any more, and is the surer for it', () => {
    const { parts, future, futureSd } = forecastOf((t) => 6 + rush(t), 600);
    expect(parts.reduce((sum, part) => sum + part.weight, 0)).toBeCloseTo(1, 12);
    expect(parts[0]?.weight ?? 1).toBeLessThan(0.2);
    expect(futureSd).toBeLessThan(0.7 * Math.sqrt(parts[0]?.futureVariance ?? 0));
    expect(Math.abs(future - 6)).toBeLessThan(0.05);
  });

  it('finds them strong in a slow approach, and foretells its mean', () => {
    const slow = (t: number): number => 6 + rush(t) + 8 * Math.exp(-t / 700);
    const { parts, future, futureSd } = forecastOf(slow, 600);
    expect(parts[0]?.weight ?? 0).toBeGreaterThan(0.9);
    // Mean of the exponential over the horizon.
    const mean = 6 + (8 * 700 * (Math.exp(-600 / 700) - Math.exp(-900 / 700))) / 300;
    expect(Math.abs(future - mean)).toBeLessThan(3 * futureSd);
  });

  it('takes nothing for at rest just after a start', () => {
    const { parts } = forecastOf((t) => 6 + rush(t), 90);
    expect(parts[0]?.weight ?? 0).toBeGreaterThan(0.9);
  });
});
