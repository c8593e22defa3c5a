import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createEngine } from '../../../core/engine.ts';
import type { Sample } from '../../../core/stream/sample.ts';
import { drawnSession, testConfig } from '../../support/session.ts';

const base = drawnSession({
  seed: 5,
  duration: 1500,
  rate: 1,
  tau: 90,
  start: 60,
  noise: 0.1,
  steps: [{ at: 1200, by: 6 }],
});

function run(batches: readonly (readonly Sample[])[]) {
  const engine = createEngine(testConfig());
  batches.forEach((batch) => engine.push(batch));
  engine.finish();
  return JSON.stringify([engine.state(), engine.spans(), engine.snapshot()]);
}

/** Cuts a list into batches at the given sizes, cycling through them. */
function cut(samples: readonly Sample[], sizes: readonly number[]): Sample[][] {
  const batches: Sample[][] = [];
  for (let i = 0, k = 0; i < samples.length; k += 1) {
    const size = sizes[k % sizes.length] ?? 1;
    batches.push(samples.slice(i, i + size));
    i += size;
  }
  return batches;
}

describe('engine', () => {
  it('gives the same state to the last bit however the samples were batched', () => {
    const whole = run([base]);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 500 }), { minLength: 1 }), (sizes) => {
        expect(run(cut(base, sizes))).toBe(whole);
      }),
      { numRuns: 12 },
    );
  });

  it('gives the same state whether or not it was looked at on the way', () => {
    const engine = createEngine(testConfig());
    for (const batch of cut(base, [37])) {
      engine.push(batch);
      engine.state();
      engine.snapshot();
      engine.spans();
    }
    engine.finish();
    expect(JSON.stringify([engine.state(), engine.spans(), engine.snapshot()])).toBe(run([base]));
  });

  it('takes any plausible or implausible values, gaps and times without failing', () => {
    const channel = fc.constantFrom(
      'suctionPressure' as const,
      'liquidPressure' as const,
      'suctionLineTemp' as const,
      'liquidLineTemp' as const,
      'supplyAirTemp' as const,
      'barometricPressure' as const,
    );
    const t = fc.double({ min: 0, max: 5000, noNaN: true });
    const sample: fc.Arbitrary<Sample> = fc.oneof(
      fc.record({ channel, t, value: fc.double({ min: -1e9, max: 1e9, noNaN: true }) }),
      fc.record({ channel, t, value: fc.double({ min: 270, max: 320, noNaN: true }) }),
      fc.record({ channel, t, value: fc.double({ min: 5e5, max: 3e6, noNaN: true }) }),
      fc.record({
        channel,
        t,
        value: fc.constant(null),
        why: fc.constantFrom('lost' as const, 'empty' as const, 'silent' as const),
      }),
    );
    fc.assert(
      fc.property(fc.array(sample, { maxLength: 300 }), (samples) => {
        const engine = createEngine(testConfig());
        engine.push(samples);
        engine.finish();
        const { counts, t: latest } = engine.state();
        expect(counts.samples).toBe(samples.length);
        expect(latest).toBe(samples.length === 0 ? null : Math.max(...samples.map((s) => s.t)));
        const spans = engine.spans();
        spans.forEach((span, i) => {
          if (i > 0) expect(span.from).toBe(spans[i - 1]!.to);
        });
      }),
      { numRuns: 200 },
    );
  });

  it('never lets a figure leave without a finite value and uncertainty', () => {
    const engine = createEngine(testConfig());
    for (const batch of cut(base, [6])) {
      engine.push(batch);
      for (const reading of Object.values(engine.state().figures)) {
        expect(Number.isFinite(reading.value)).toBe(true);
        expect(Number.isFinite(reading.u)).toBe(true);
        expect(reading.u).toBeGreaterThanOrEqual(reading.uSystematic);
      }
    }
  });
});
