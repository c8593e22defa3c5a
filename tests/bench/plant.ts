/**
 * How much faster than real time the virtual plant runs on one core, with every sensor of a split
 * system at 4 Hz: `npm run bench:plant`. The yardstick, a fixed loop of Math.exp in the same process,
 * tells how fast the machine was meanwhile. CPU time, not wall time: the machine may be shared.
 */
import { createRun } from '../../core/plant/run.ts';
import { ScenarioSchema } from '../../core/plant/scenario.ts';
import { CHANNEL_KEYS } from '../../core/stream/channels.ts';

const DURATION_s = 3600;
const GOAL = 200;

function cpu(work: () => void): number {
  const from = process.cpuUsage();
  work();
  return process.cpuUsage(from).user / 1e6;
}

function yardstick(): number {
  return cpu(() => {
    let sum = 0;
    for (let i = 0; i < 2e7; i += 1) sum += Math.exp(-(i % 64) / 64);
    if (!Number.isFinite(sum)) throw new Error('the yardstick broke');
  });
}

function scenario(kind: 'txv' | 'fixed' | 'eev', mode: 'cooling' | 'heating') {
  return ScenarioSchema.parse({
    kind: 'splitSystem',
    title: 'bench',
    demo: true,
    seed: 1,
    duration_s: DURATION_s,
    refrigerant: 'R-410A',
    weather: { outdoorAir_K: mode === 'cooling' ? 307 : 276, outdoorHumidity: 0.8 },
    units: {
      A: {
        designCapacity_W: 10_500,
        mode,
        metering: { kind },
        room: { start_K: mode === 'cooling' ? 299.5 : 293.5 },
        events: [{ do: 'start', at_s: 30 }],
        sensors: CHANNEL_KEYS.map((channel) => ({
          channel,
          rate_Hz: 4,
          lag_s: 5,
          noise: 0.03,
          quantum: 0.05,
        })),
      },
    },
  });
}

const exp_s = yardstick();
console.log(`yardstick: 2e7 Math.exp in ${exp_s.toFixed(3)} s of CPU`);
let least = Number.POSITIVE_INFINITY;
for (const mode of ['cooling', 'heating'] as const) {
  for (const kind of ['txv', 'fixed', 'eev'] as const) {
    const s = scenario(kind, mode);
    const commissioning = cpu(() => void createRun(s));
    const run = createRun(s);
    let samples = 0;
    const spent = cpu(() => {
      for (let t = 1; t <= DURATION_s; t += 1) {
        for (const u of run.advanceTo(t)) samples += u.samples.length;
      }
    });
    const speed = DURATION_s / spent;
    least = Math.min(least, speed);
    console.log(
      `${mode} ${kind}: ${speed.toFixed(0)} x real time, ${samples} samples of ${CHANNEL_KEYS.length} channels, ` +
        `${((spent / DURATION_s) * 1e5).toFixed(1)} us per step, ${(spent / exp_s).toFixed(2)} yardsticks; ` +
        `commissioning ${commissioning.toFixed(2)} s`,
    );
  }
}
console.log(`slowest ${least.toFixed(0)} x real time; asked: ${GOAL}`);
if (least < GOAL) process.exitCode = 1;
