import { createRun, type ScenarioRun } from '../../core/plant/run.ts';
import { ScenarioSchema, type FaultKind, type ScenarioInput } from '../../core/plant/scenario.ts';
import type { SplitTruth } from '../../core/plant/truth.ts';

type SplitInput = Extract<ScenarioInput, { kind: 'splitSystem' }>;
type UnitInput = SplitInput['units'][string];

/** A 3-ton unit in still air and in a room that hardly moves, started at time zero. */
export function splitInput(
  unit: Partial<UnitInput> = {},
  rest: Partial<SplitInput> = {},
): SplitInput {
  return {
    kind: 'splitSystem',
    title: 'test',
    demo: true,
    seed: 7,
    duration_s: 3600,
    refrigerant: 'R-410A',
    weather: { outdoorAir_K: 308.15, gust: { sigma_K: 0, time_s: 10 } },
    ...rest,
    units: {
      A: {
        designCapacity_W: 10_500,
        metering: { kind: 'txv' },
        room: {
          start_K: 299.85,
          airCapacity_J_K: 1e8,
          massCapacity_J_K: 1e9,
          draught: { sigma_K: 0, time_s: 10 },
        },
        events: [{ do: 'start', at_s: 0 }],
        ...unit,
      },
    },
  };
}

/** Parses and starts a run. */
export function play(input: ScenarioInput): ScenarioRun {
  return createRun(ScenarioSchema.parse(input));
}

/** Truth of a split unit. */
export function splitTruthOf(run: ScenarioRun, unit = 'A'): SplitTruth {
  const truth = run.truth(unit);
  if (truth.kind !== 'splitSystem') throw new Error('not a split system');
  return truth;
}

/** The seven features of Rossi and Braun 1997, K. */
export interface Features {
  readonly tEvap: number;
  readonly tSh: number;
  readonly tCond: number;
  readonly tSc: number;
  readonly tHg: number;
  readonly dTca: number;
  readonly dTea: number;
}

/** Order of the features in the sign strings of the published table. */
export const FEATURES = ['tEvap', 'tSh', 'tCond', 'tSc', 'tHg', 'dTca', 'dTea'] as const;

/** Features of a truth. */
export function featuresOf(x: SplitTruth): Features {
  return {
    tEvap: x.tEvaporating,
    tSh: x.superheat,
    tCond: x.tCondensing,
    tSc: x.subcooling,
    tHg: x.tDischargeLine,
    dTca: x.tOutdoorLeaving - x.tOutdoorAir,
    dTea: x.tReturnAir - x.tSupplyAir,
  };
}

/** Mean features of minutes 35 to 40 after a start (a valve may ring), at the rating point. */
export function steadyFeatures(
  metering: 'fixed' | 'txv',
  refrigerant: SplitInput['refrigerant'],
  fault: { kind: FaultKind; severity: number } | null,
): Features {
  const run = play(
    splitInput(
      { metering: { kind: metering }, faults: fault === null ? [] : [fault] },
      { refrigerant },
    ),
  );
  const sum = { tEvap: 0, tSh: 0, tCond: 0, tSc: 0, tHg: 0, dTca: 0, dTea: 0 };
  const n = 60;
  for (let i = 1; i <= n; i += 1) {
    run.advanceTo(2100 + i * 5);
    const f = featuresOf(splitTruthOf(run));
    for (const k of FEATURES) sum[k] += f[k] / n;
  }
  return sum;
}

/** Faulty minus healthy. */
export function residual(faulty: Features, expected: Features): Features {
  return Object.fromEntries(
    FEATURES.map((k) => [k, faulty[k] - expected[k]]),
  ) as unknown as Features;
}
