import type { Metering, Mode } from '../../../core/circuit/types.ts';
import type { SuspectKey } from '../../../core/diagnosis/suspects.ts';
import type { FaultKind, ScenarioInput } from '../../../core/plant/scenario.ts';
import type { RefrigerantId } from '../../../core/refrigerant/types.ts';
import { kelvinFromFahrenheit } from '../../../core/units/temperature.ts';
import { createDice, type Dice } from '../steadiness/dice.ts';

/** The two halves: seeds apart, so weather, sizes and sensors of one are never seen by the other. */
export const HALVES = { tuning: 1000, verdict: 2000 } as const;
export type Half = keyof typeof HALVES;

export const SEVERITIES = [0.4, 0.7, 1] as const;

/** One labelled unit under one weather. */
export interface Case {
  readonly id: string;
  readonly label: SuspectKey;
  readonly fault: FaultKind | null;
  readonly severity: number;
  readonly refrigerant: RefrigerantId;
  readonly metering: Metering;
  readonly mode: Mode;
  readonly subcooling_K: number;
  readonly superheat_K: number;
  readonly capacity_W: number;
  readonly outdoor_K: number;
  readonly room_K: number;
  readonly humidity: number;
  /** Ice on the indoor coil at the beginning, kg. */
  readonly frost_kg: number;
  /** Outdoor air at time zero, where a stuck valve was set; it has come to `outdoor_K` in 15 minutes. */
  readonly outdoorBefore_K: number;
  readonly seed: number;
}

/** Which suspect each fault of the plant is. */
const LABEL: Readonly<Record<FaultKind, SuspectKey>> = {
  lowCharge: 'lowCharge',
  overcharge: 'overcharge',
  lowIndoorAir: 'lowIndoorAir',
  fouledOutdoorCoil: 'fouledOutdoorCoil',
  liquidLineRestriction: 'liquidLineRestriction',
  nonCondensables: 'nonCondensables',
  compressorValveLeak: 'compressorValveLeak',
  reversingValveLeak: 'reversingValveLeak',
  valveStuck: 'valveOpen',
  valveStarved: 'valveStarved',
  valveOverfeeding: 'valveOpen',
  valveHunting: 'valveHunting',
  shortCycling: 'shortCycling',
};
/** Of valves only. */
const VALVE_ONLY: readonly FaultKind[] = [
  'valveStarved',
  'valveOverfeeding',
  'valveHunting',
  'valveStuck',
];
const FAULTS = Object.keys(LABEL) as FaultKind[];

/** Weather of each case: two of cooling, one of heating. */
const MODES: readonly Mode[] = ['cooling', 'cooling', 'heating'];
/** Healthy units of each metering and mode, so that a false alarm of 2 % can be seen. */
const HEALTHY_EACH = 12;

/** All cases of one half. */
export function casesOf(half: Half): Case[] {
  const cases: Case[] = [];
  const dice = createDice(HALVES[half]);
  for (const metering of ['txv', 'fixed'] as const) {
    for (const mode of MODES) {
      for (let i = 0; i < HEALTHY_EACH; i += 1) {
        cases.push(draw(dice, half, cases.length, 'nothingWrong', null, 0, metering, mode));
      }
      for (const fault of FAULTS) {
        if (metering === 'fixed' && VALVE_ONLY.includes(fault)) continue;
        for (const severity of SEVERITIES) {
          cases.push(draw(dice, half, cases.length, LABEL[fault], fault, severity, metering, mode));
        }
      }
      if (mode === 'heating') continue;
      for (const severity of SEVERITIES) {
        const iced = draw(
          dice,
          half,
          cases.length,
          'icedCoil',
          'lowIndoorAir',
          severity,
          metering,
          mode,
        );
        cases.push({ ...iced, frost_kg: (0.3 + 0.3 * severity) * (iced.capacity_W / 10_000) });
      }
    }
  }
  return cases;
}

function draw(
  dice: Dice,
  half: Half,
  index: number,
  label: SuspectKey,
  fault: FaultKind | null,
  severity: number,
  metering: Metering,
  mode: Mode,
): Case {
  const cooling = mode === 'cooling';
  const degF = (a: number, b: number): number => kelvinFromFahrenheit(dice.between(a, b));
  const outdoor_K = cooling ? degF(76, 104) : degF(22, 52);
  // A stuck valve shows only when the weather has changed.
  const change_K = fault === 'valveStuck' ? dice.pick([-12, 12]) * (0.5 + 0.5 * severity) : 0;
  return {
    id: `${half}-${index}`,
    label,
    fault,
    severity,
    refrigerant: dice.pick(['R-410A', 'R-410A', 'R-22', 'R-454B'] as const),
    metering,
    mode,
    subcooling_K: dice.pick([4.4, 6.1]),
    superheat_K: metering === 'fixed' ? 6.1 : dice.pick([5, 6.7]),
    capacity_W: dice.pick([7000, 10_550]),
    outdoor_K,
    outdoorBefore_K: outdoor_K - change_K,
    frost_kg: 0,
    room_K: cooling ? degF(72, 80) : degF(66, 72),
    humidity: cooling ? dice.between(0.42, 0.6) : dice.between(0.3, 0.45),
    seed: HALVES[half] * 1000 + index,
  };
}

/** What makes two cases the same unit. */
export function designOf(c: Case): string {
  return [c.refrigerant, c.metering, c.mode, c.subcooling_K, c.superheat_K, c.capacity_W].join(' ');
}

/** For every unit among the cases one healthy visit, on a mild day of its own. */
export function visitsOf(cases: readonly Case[], half: Half): Case[] {
  const visits = new Map<string, Case>();
  for (const c of cases) {
    const design = designOf(c);
    if (visits.has(design)) continue;
    const cooling = c.mode === 'cooling';
    visits.set(design, {
      ...c,
      id: `visit ${half} ${design}`,
      label: 'nothingWrong',
      fault: null,
      severity: 0,
      frost_kg: 0,
      outdoorBefore_K: kelvinFromFahrenheit(cooling ? 86 : 40),
      outdoor_K: kelvinFromFahrenheit(cooling ? 86 : 40),
      room_K: kelvinFromFahrenheit(cooling ? 76 : 70),
      humidity: cooling ? 0.5 : 0.38,
      seed: HALVES[half] * 1000 + 900 + visits.size,
    });
  }
  return [...visits.values()];
}

/** A sensor as the scenario takes it. */
export type SensorInput = NonNullable<
  Extract<ScenarioInput, { kind: 'splitSystem' }>['units'][string]['sensors']
>[number];

/** Time over which the weather of a stuck valve changes, s. */
const CHANGE_S = 900;

/** The scenario of a case: a room that holds its air, the fault there from time zero. */
export function scenarioOf(c: Case, sensors: readonly SensorInput[] = []): ScenarioInput {
  const changes = c.outdoorBefore_K !== c.outdoor_K;
  const heatPump = c.mode === 'heating' || c.fault === 'reversingValveLeak';
  return {
    kind: 'splitSystem',
    title: c.id,
    demo: true,
    refrigerant: c.refrigerant,
    seed: c.seed,
    duration_s: 4000,
    weather: {
      outdoorAir_K: changes
        ? [
            [0, c.outdoorBefore_K],
            [CHANGE_S, c.outdoor_K],
          ]
        : c.outdoor_K,
      outdoorHumidity: 0.5,
    },
    units: {
      A: {
        mode: c.mode,
        designCapacity_W: c.capacity_W,
        metering: { kind: c.metering === 'fixed' ? 'fixed' : 'txv' },
        nameplate: { subcooling_K: c.subcooling_K, superheat_K: c.superheat_K },
        heatPump,
        initial: 'settled',
        // Walls that hold the air at its temperature: the driving conditions stay as labelled.
        room: {
          start_K: c.room_K,
          startHumidity: c.humidity,
          massCapacity_J_K: 1e9,
          massCoupling_W_K: 2e4,
          gain_W: 0,
          moistureGain_kg_s: c.mode === 'cooling' ? (0.25 * c.capacity_W) / 2.47e6 : 0,
        },
        defrost: { every_s: 20_000, endsAt_K: 288.15, atMost_s: 600 },
        initialFrost_kg: c.frost_kg,
        faults: c.fault === null ? [] : [{ kind: c.fault, severity: c.severity }],
        sensors: [...sensors],
      },
    },
  };
}
