/**
 * How long a chart waits for its lines: an hour of eight channels at 4 Hz, asked for at 600 points
 * a line. Yardstick in the same run: one plain walk over the same numbers for their extremes, which
 * no way of thinning can be quicker than.
 */
import { MIN_BUDGET } from '../../core/stream/decimate.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Sample } from '../../core/stream/sample.ts';
import { UnitTrends } from '../../electron/services/trends.ts';

const SECONDS = 3600;
const RATE = 4;
const POINTS = 600;
const ROUNDS = 60;
const KEYS = [
  'suctionPressure',
  'liquidPressure',
  'suctionLineTemp',
  'liquidLineTemp',
  'outdoorAirTemp',
  'returnAirTemp',
  'supplyAirTemp',
  'compressorCurrent',
] as const satisfies readonly ChannelKey[];

function timed(fn: () => void): number {
  const start = performance.now();
  fn();
  return performance.now() - start;
}

/** Median and 90th percentile of the time of many rounds, ms. */
function measure(fn: () => void): { median_ms: number; p90_ms: number } {
  for (let i = 0; i < 10; i += 1) fn();
  const times = Array.from({ length: ROUNDS }, () => timed(fn)).sort((a, b) => a - b);
  const at = (share: number): number =>
    Number((times[Math.floor(share * ROUNDS)] ?? NaN).toFixed(3));
  return { median_ms: at(0.5), p90_ms: at(0.9) };
}

const raw = KEYS.map(() => new Float64Array(SECONDS * RATE));
const trends = new UnitTrends();
const batches: Sample[][] = [];
for (let i = 0; i < SECONDS * RATE; i += 1) {
  const t = i / RATE;
  batches.push(
    KEYS.map((channel, k): Sample => {
      const value = 300 + 10 * Math.exp(-t / 900) + Math.sin(t / (5 + k)) + (i % 977 === 0 ? 5 : 0);
      raw[k]![i] = value;
      return { channel, t, value };
    }),
  );
}
const samples = SECONDS * RATE * KEYS.length;
const pushing = timed(() => {
  for (const batch of batches) trends.push(batch);
});

let sink = 0;
const walk = (): void => {
  for (const line of raw) {
    let low = Infinity;
    let high = -Infinity;
    for (const value of line) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
    sink += high - low;
  }
};
const whole = { keys: KEYS, from: 0, to: SECONDS, points: POINTS };
const query = (): void => {
  for (const line of trends.query(whole)) sink += line.points.length;
};

const yardstick = measure(walk);
const asked = measure(query);
const zoomed = measure(() => {
  for (const line of trends.query({ ...whole, from: 1800, to: 1860 })) sink += line.points.length;
});
const most = Math.max(...trends.query(whole).map((line) => line.points.length));
if (most > POINTS || most < MIN_BUDGET || !Number.isFinite(sink)) throw new Error(`${most} points`);

console.log(
  JSON.stringify(
    {
      samples,
      push_us_per_sample: Number(((1000 * pushing) / samples).toFixed(3)),
      hour: asked,
      minute: zoomed,
      yardstick_walk: yardstick,
      times_yardstick: Number((asked.median_ms / yardstick.median_ms).toFixed(1)),
      most_points: most,
    },
    null,
    2,
  ),
);
