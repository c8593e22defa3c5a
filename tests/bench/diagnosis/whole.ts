import { createEngine } from '../../../core/engine.ts';
import { defaultAccuracy, halfWidth } from '../../../core/circuit/accuracy.ts';
import { createRun } from '../../../core/plant/run.ts';
import { ScenarioSchema } from '../../../core/plant/scenario.ts';
import type { ChannelKey } from '../../../core/stream/channels.ts';
import { judgementInput } from '../../../electron/headless/judgement.ts';
import { createDice, type Dice } from '../steadiness/dice.ts';
import { scenarioOf, type Case, type SensorInput } from './cases.ts';
import { configFor, labelOf, type LabelledInput, type SensorClass } from './readings.ts';
import type { Truth } from './truths.ts';

/** Until when a session is recorded, s. */
const UNTIL_S = 3600;
const ATMOSPHERE = 101_325;

interface Probe {
  readonly channel: ChannelKey;
  readonly rate_Hz: number;
  readonly lag_s: number;
  readonly noise: number;
  readonly quantum: number;
}
const pressure = { rate_Hz: 1, lag_s: 0.3, noise: 700, quantum: 345 } as const;
const clamp = { rate_Hz: 0.5, lag_s: 10, noise: 0.03, quantum: 0.056 } as const;
const air = { rate_Hz: 0.5, lag_s: 20, noise: 0.05, quantum: 0.056 } as const;
/** Sensors of the stream: every channel the means have, at rates and with noise of common ones. */
const PROBES: readonly Probe[] = [
  { channel: 'suctionPressure', ...pressure },
  { channel: 'liquidPressure', ...pressure },
  { channel: 'suctionLineTemp', ...clamp },
  { channel: 'liquidLineTemp', ...clamp },
  { channel: 'dischargeLineTemp', ...clamp },
  { channel: 'drierInletTemp', ...clamp },
  { channel: 'drierOutletTemp', ...clamp },
  { channel: 'outdoorAirTemp', ...air },
  { channel: 'returnAirTemp', ...air },
  { channel: 'supplyAirTemp', ...air },
  { channel: 'returnAirHumidity', rate_Hz: 0.5, lag_s: 20, noise: 0.002, quantum: 0.001 },
  { channel: 'compressorCurrent', rate_Hz: 1, lag_s: 0.2, noise: 0.05, quantum: 0.01 },
];

/** Each instrument with an error of its own, drawn from its accuracy as for the means. */
function sensorsOf(truth: Truth, sensors: SensorClass, dice: Dice, c: Case): SensorInput[] {
  const { accuracy } = configFor(c, sensors);
  return PROBES.map((probe) => {
    const { channel } = probe;
    const zero = channel === 'suctionPressure' || channel === 'liquidPressure' ? ATMOSPHERE : 0;
    const value = truth.channels[channel] ?? 0;
    const half = halfWidth(accuracy[channel] ?? defaultAccuracy(channel), value, zero);
    return { ...probe, bias: dice.normal() * (half / 2) };
  });
}

/**
 * One case the whole way: the plant's stream with noise, lag and steps of the display through the
 * engine to the reading it would judge; null where the engine has nothing to read.
 */
export function wholeWay(c: Case, truth: Truth, sensors: SensorClass): LabelledInput | null {
  const dice = createDice(c.seed * 43 + (sensors === 'good' ? 1 : 2));
  const run = createRun(ScenarioSchema.parse(scenarioOf(c, sensorsOf(truth, sensors, dice, c))));
  const config = configFor(c, sensors);
  const engine = createEngine(config);
  for (let t = 10; t <= UNTIL_S; t += 10) {
    for (const { samples } of run.advanceTo(t)) engine.push(samples);
  }
  engine.finish();
  const taken = engine.snapshot();
  const session = {
    config,
    targets: { subcooling: c.subcooling_K, superheat: null },
    spans: engine.spans(),
    last: taken.ok ? taken.value : null,
    motions: engine.state().steadiness.motions,
    stood: null,
  };
  const input = judgementInput(session, {
    standard: 'ra32Installer',
    chart: 'chargingChart',
    airflow: { kind: 'unknown' },
    observations: [],
    outcomes: [],
    heatPump: c.mode === 'heating' || c.fault === 'reversingValveLeak',
    baseline: null,
    twin: null,
    displacement: null,
    maker: {},
  });
  return input === null ? null : { label: labelOf(c, truth), severity: c.severity, input };
}
