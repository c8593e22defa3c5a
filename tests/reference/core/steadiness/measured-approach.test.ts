import { describe, expect, it } from 'vitest';
import { play, splitInput, splitTruthOf } from '../../../support/plant.ts';
import { COMPANION, mean, median, minutesOf, running } from './measured.ts';

/**
 * The first quarter of an hour of the supply air after a start, as the share of its way still to
 * go: measured starts of a real heat pump (source beside the rows) against the plant the bench of
 * steadiness draws its sessions from. Nothing in the plant was fitted to these starts.
 */
const MINUTES = 14;
/** The minutes whose mean is taken for rest. */
const REST = [9, 14] as const;

/** Share of the way still to go, by minute; from the last value before the start to rest. */
function toGo(before: number, supply: readonly number[]): number[] {
  const rest = mean(supply.slice(...REST));
  return supply.slice(0, MINUTES).map((t) => (t - rest) / (before - rest));
}

/**
 * Starts seen, without the one whose stage changes and the one whose room ran away by 10 °F in the
 * first quarter of an hour (both named in the notes beside the rows).
 */
const STARTS = COMPANION.runs
  .filter((r) => r.startSeen && !['atlanta-2', 'newyork-1'].includes(r.run))
  .map((r) => r.run);

function measured(run: string): number[] {
  const [first] = running(run);
  const minutes = minutesOf(run);
  const before = minutes[minutes.findIndex((m) => m === first) - 1];
  return toGo(
    before?.supply ?? NaN,
    running(run).map((m) => m.supply),
  );
}

/** The first measured minute ends half a minute after the start on average: so here too. */
function simulated(kind: 'txv' | 'fixed', outdoor: number, start: number): number[] {
  const run = play(
    splitInput(
      { metering: { kind }, room: { start_K: start, airCapacity_J_K: 4e6 } },
      { weather: { outdoorAir_K: outdoor } },
    ),
  );
  const before = splitTruthOf(run).tSupplyAir;
  const supply = Array.from({ length: MINUTES }, (_, i) => {
    run.advanceTo(i * 60 + 30);
    return splitTruthOf(run).tSupplyAir;
  });
  return toGo(before, supply);
}

/** Median over starts, by minute. */
function typical(starts: readonly (readonly number[])[]): number[] {
  return Array.from({ length: MINUTES }, (_, i) => median(starts.map((s) => s[i] ?? NaN)));
}

/** Share of the way still to go that a minute leaves. */
function kept(approach: readonly number[], minute: number): number {
  return (approach[minute] ?? NaN) / (approach[minute - 1] ?? NaN);
}

describe('the approach of the supply air to rest', () => {
  const real = typical(STARTS.map(measured));
  const ours = typical(
    [300, 308].flatMap((outdoor) =>
      [297.5, 299, 300].flatMap((room) =>
        (['txv', 'fixed'] as const).map((kind) => simulated(kind, outdoor, room)),
      ),
    ),
  );

  it('has a steep first and a slow second part in both', () => {
    expect(STARTS).toHaveLength(6);
    for (const approach of [real, ours]) {
      expect(approach[0]).toBeGreaterThan(0.35);
      expect(approach[1]).toBeLessThan(0.35);
      expect(approach[2]).toBeLessThan(0.2);
      // Of what is left after four minutes a smaller share goes in a minute than at first.
      expect(kept(approach, 4)).toBeGreaterThan(kept(approach, 1));
    }
  });

  // A sample a minute leaves the start unknown by half a minute either way. Until minute 2 the
  // measured way still to go falls by up to 0.4 a minute, later by less than 0.1.
  it('goes alike in the plant as far as one sample a minute can tell', () => {
    real.forEach((left, i) => {
      expect(Math.abs((ours[i] ?? NaN) - left), `minute ${i + 1}`).toBeLessThan(i < 2 ? 0.2 : 0.05);
    });
  });
});
