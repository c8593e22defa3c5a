import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ScenarioSchema, type SensorSpec } from '../../../../core/plant/scenario.ts';
import type { Sample } from '../../../../core/stream/sample.ts';
import { play, splitInput, splitTruthOf } from '../../../support/plant.ts';

type SensorInput = Partial<SensorSpec> & Pick<SensorSpec, 'channel' | 'rate_Hz'>;

function samplesOf(
  sensors: SensorInput[],
  slices: readonly number[],
  duration_s = 120,
): { samples: Sample[]; run: ReturnType<typeof play> } {
  const run = play(splitInput({ sensors }, { duration_s }));
  const samples: Sample[] = [];
  for (const t of slices) for (const u of run.advanceTo(t)) samples.push(...u.samples);
  return { samples, run };
}

const ROUGH: SensorInput[] = [
  {
    channel: 'suctionPressure',
    rate_Hz: 4,
    noise: 800,
    quantum: 689.476,
    dropout: { chance: 0.03, mean_s: 2 },
    late: { chance: 0.1, mean_s: 3 },
    repeated: 0.05,
  },
  { channel: 'suctionLineTemp', rate_Hz: 1, lag_s: 8, noise: 0.05, stuck: 0.2 },
];

describe('scenario files', () => {
  const folder = new URL('../../../../fixtures/scenarios/', import.meta.url);
  const files = readdirSync(folder).filter((f) => f.endsWith('.json'));

  it('there are ten, each marked as a demo', () => {
    expect(files).toHaveLength(10);
    for (const f of files) {
      const s = ScenarioSchema.parse(JSON.parse(readFileSync(new URL(f, folder), 'utf8')));
      expect(s.demo).toBe(true);
      expect(s.site.name).toMatch(/^Demo/);
    }
  });

  it('refuse an unknown key, a course that runs back and a severity above 1', () => {
    const bad = (change: object): boolean =>
      ScenarioSchema.safeParse({ ...splitInput(), ...change }).success;
    expect(bad({})).toBe(true);
    expect(bad({ colour: 'red' })).toBe(false);
    expect(
      bad({
        weather: {
          outdoorAir_K: [
            [10, 300],
            [5, 301],
          ],
        },
      }),
    ).toBe(false);
    const worse = splitInput({ faults: [{ kind: 'lowCharge', severity: 1.2 }] });
    expect(ScenarioSchema.safeParse(worse).success).toBe(false);
  });
});

describe('a run', () => {
  it('gives the same samples to the last bit however time is sliced', () => {
    const whole = samplesOf(ROUGH, [120]).samples;
    const fine = samplesOf(
      ROUGH,
      Array.from({ length: 1200 }, (_, i) => (i + 1) * 0.1),
    ).samples;
    const odd = samplesOf(ROUGH, [0.03, 7.77, 7.78, 50.123, 119.99, 400]).samples;
    expect(whole.length).toBeGreaterThan(300);
    expect(fine).toEqual(whole);
    expect(odd).toEqual(whole);
  });

  it('differs with the seed', () => {
    const first = play(splitInput({ sensors: ROUGH }, { seed: 1, duration_s: 30 }));
    const second = play(splitInput({ sensors: ROUGH }, { seed: 2, duration_s: 30 }));
    expect(first.advanceTo(30)).not.toEqual(second.advanceTo(30));
  });

  it('ends at its duration', () => {
    const { samples, run } = samplesOf(ROUGH, [120, 500]);
    expect(Math.max(...samples.map((s) => s.t))).toBeLessThanOrEqual(120);
    expect(run.advanceTo(1000)).toEqual([{ unit: 'A', samples: [] }]);
    expect(run.t).toBeCloseTo(120, 6);
    expect(() => run.truth('B')).toThrow(RangeError);
  });

  it('lets the instruments do what they were told', () => {
    const plain: SensorInput = { channel: 'suctionPressure', rate_Hz: 5 };
    const clean = samplesOf([plain], [100], 100).samples;
    expect(clean).toHaveLength(500);
    expect(clean.map((s) => s.seq)).toEqual(clean.map((_, i) => i));
    const biased = samplesOf([{ ...plain, bias: 1000 }], [100], 100).samples;
    expect((biased[100]?.value ?? 0) - (clean[100]?.value ?? 0)).toBeCloseTo(1000, 6);
    const coarse = samplesOf([{ ...plain, quantum: 5000 }], [100], 100).samples;
    for (const s of coarse) expect(Math.abs((s.value ?? 0) % 5000)).toBeLessThan(1e-6);
    const late = samplesOf([{ ...plain, late: { chance: 0.2, mean_s: 2 } }], [100], 100).samples;
    expect(late.some((s, i) => i > 0 && s.t < (late[i - 1]?.t ?? 0))).toBe(true);
    const lost = samplesOf([{ ...plain, dropout: { chance: 0.02, mean_s: 5 } }], [100], 100);
    expect(lost.samples.length).toBeLessThan(480);
    const twice = samplesOf([{ ...plain, repeated: 0.2 }], [100], 100).samples;
    const numbers = twice.map((s) => s.seq);
    expect(new Set(numbers).size).toBeLessThan(numbers.length);
  });

  it('a clamp that falls off reads the air', () => {
    const { samples, run } = samplesOf(
      [{ channel: 'suctionLineTemp', rate_Hz: 1, lag_s: 6, fallsOffAt_s: 300 }],
      [600],
      600,
    );
    const truth = splitTruthOf(run);
    const last = samples.at(-1)?.value ?? 0;
    expect(Math.abs(last - truth.tOutdoorAir)).toBeLessThan(0.5);
    expect(Math.abs(last - truth.tSuctionLine)).toBeGreaterThan(5);
  });

  it('shows no current below nought, as a clamp meter does, however noisy', () => {
    const sensors = [
      { channel: 'compressorCurrent', rate_Hz: 10, noise: 0.2, quantum: 0.1 } as const,
    ];
    const samples = play(splitInput({ events: [], sensors }))
      .advanceTo(30)
      .flatMap((part) => part.samples);
    const least = Math.min(...samples.map((s) => s.value ?? NaN));
    expect(least).toBe(0);
  });

  it('lags by the time constant of the probe', () => {
    const { samples } = samplesOf(
      [
        { channel: 'compressorCurrent', rate_Hz: 10 },
        { channel: 'compressorCurrent', rate_Hz: 10, lag_s: 20 },
      ],
      [60],
      60,
    );
    const at = (t: number): number[] =>
      samples.filter((s) => Math.abs(s.t - t) < 0.051).map((s) => s.value ?? 0);
    const [fast = 0, slow = 0] = at(20).sort((a, b) => b - a);
    expect(slow / fast).toBeGreaterThan(0.4);
    expect(slow / fast).toBeLessThan(0.95);
  });
});
