import type { Metering, Mode } from '../circuit/types.ts';
import type { SuspectKey } from './suspects.ts';

/** Cautions that stand beside a step; their text is in `caution-text.ts`. */
export type CautionKey =
  | 'liveElectricity'
  | 'lockout'
  | 'rotating'
  | 'hotPipes'
  | 'refrigerantHandling'
  | 'frostbite'
  | 'flammable'
  | 'pressureTest'
  | 'runPumpedDown'
  | 'defrost';

/** One check a technician can make next. */
export interface CheckRow {
  /** What to do, as one would ask a colleague. */
  readonly label: string;
  readonly instruction: string;
  /** Minutes of work, our own estimate. */
  readonly minutes: number;
  /** What may come out, in words; the first outcome is the one that speaks for a fault. */
  readonly outcomes: Readonly<Record<string, string>>;
  /**
   * Probability of each outcome, in the order of `outcomes`, under suspects where it differs from
   * `otherwise`: our own estimates from common practice.
   */
  readonly given: Partial<Readonly<Record<SuspectKey, readonly number[]>>>;
  readonly otherwise: readonly number[];
  /** The same in heating, where the coils change places; absent where it is as in cooling. */
  readonly heating?: Partial<Readonly<Record<SuspectKey, readonly number[]>>>;
  /** The cause that the trade decides by this check and by no shorter one. */
  readonly decides?: SuspectKey;
  readonly cautions: readonly CautionKey[];
  /** Units it can be made on. */
  readonly fits?: (unit: {
    readonly metering: Metering;
    readonly mode: Mode;
    readonly heatPump: boolean;
  }) => boolean;
}

/** Every check, cheapest first. Outcomes already known are entered by their key. */
export const CHECKS = {
  drierDrop: {
    label: 'Temperature drop across the drier and along the liquid line',
    instruction:
      'Clamp both sides of the filter drier, then feel along the liquid line and at any valve or screen: liquid that is throttled turns colder there. The two clamps changed over must show the same drop.',
    minutes: 6,
    outcomes: { drop: 'a drop of 3 °F (1.7 K) or more somewhere', none: 'no drop' },
    given: {
      liquidLineRestriction: [0.75, 0.25],
      lowCharge: [0.08, 0.92],
      valveStarved: [0.06, 0.94],
      cannotTell: [0.15, 0.85],
    },
    otherwise: [0.03, 0.97],
    cautions: [],
  },
  filterStatic: {
    label: 'Filter, coil face, blower wheel and static pressure',
    instruction:
      'Look at the filter, the face of the indoor coil, the blower wheel and the dampers, and measure the external static pressure against the blower table of the maker.',
    minutes: 10,
    outcomes: { restricted: 'air is restricted', clear: 'air is as it should be' },
    given: {
      lowIndoorAir: [0.88, 0.12],
      icedCoil: [0.7, 0.3],
      cannotTell: [0.25, 0.75],
    },
    otherwise: [0.1, 0.9],
    // The coil that ices in heating stands outdoors.
    heating: { icedCoil: [0.1, 0.9] },
    cautions: ['lockout', 'rotating'],
  },
  blowerSpeed: {
    label: 'Blower speed',
    instruction:
      'See which speed tap or airflow setting is used for this mode, and whether the blower comes up to it (capacitor, belt, motor, control signal), against the blower table of the maker at the static pressure measured.',
    minutes: 10,
    outcomes: { slow: 'it runs slower than it should', right: 'it runs as it should' },
    given: {
      lowIndoorAir: [0.55, 0.45],
      icedCoil: [0.4, 0.6],
      cannotTell: [0.15, 0.85],
    },
    otherwise: [0.06, 0.94],
    heating: { icedCoil: [0.06, 0.94] },
    cautions: ['lockout', 'rotating', 'liveElectricity'],
  },
  outdoorCoil: {
    label: 'Outdoor coil and fan',
    instruction:
      'Look through the outdoor coil from the inside, check that the fan turns the right way at full speed, and that nothing makes the air come round again.',
    minutes: 8,
    outcomes: { blocked: 'dirty, blocked or a weak fan', clean: 'clean, air flows freely' },
    given: { fouledOutdoorCoil: [0.9, 0.1], cannotTell: [0.25, 0.75] },
    otherwise: [0.15, 0.85],
    heating: { icedCoil: [0.9, 0.1] },
    cautions: ['lockout', 'rotating'],
  },
  defrost: {
    label: 'Watch one defrost',
    instruction:
      'Let it defrost, or start a defrost as its maker says: the outdoor fan must stop, the coil must clear to the last row, and it must go back to heating. If not: coil sensor, defrost board, outdoor fan relay, reversing valve, drain.',
    minutes: 15,
    outcomes: { fails: 'it does not start, or ice stays', clears: 'the coil clears' },
    given: { icedCoil: [0.8, 0.2], cannotTell: [0.15, 0.85] },
    otherwise: [0.08, 0.92],
    cautions: ['defrost', 'rotating', 'hotPipes'],
    fits: (unit) => unit.mode === 'heating',
  },
  cleanOutdoorCoil: {
    label: 'Put the outdoor air right and measure again',
    instruction:
      'Clean the outdoor coil as its maker says, with gloves and goggles where a cleaner is used, and let it dry; a fan that is slow or turns the wrong way needs its capacitor, motor, blade or wiring put right. Then run the unit to rest again and compare condensing over outdoor air with what it was.',
    minutes: 55,
    outcomes: { falls: 'condensing comes down by 5 °F (2.8 K) or more', stays: 'it stays' },
    given: { fouledOutdoorCoil: [0.88, 0.12], nonCondensables: [0.06, 0.94] },
    otherwise: [0.08, 0.92],
    cautions: ['lockout', 'rotating'],
    fits: (unit) => unit.mode === 'cooling',
  },
  sensorCheck: {
    label: 'Instruments against each other',
    instruction:
      'Isolate the hoses and empty them as the rules allow, read both gauges open to the air (zero), put both clamps on one bare, clean, insulated pipe, then change them over.',
    minutes: 10,
    outcomes: { differ: 'an instrument is off', agree: 'they agree' },
    given: { sensorFault: [0.92, 0.08], cannotTell: [0.15, 0.85] },
    otherwise: [0.04, 0.96],
    cautions: ['frostbite', 'refrigerantHandling'],
  },
  amperes: {
    label: 'Compressor amperes at these pressures',
    instruction:
      'Measure the running current and compare it with what the maker gives for the present pressures and voltage.',
    minutes: 6,
    outcomes: { low: 'clearly lower', high: 'clearly higher', normal: 'as expected' },
    given: {
      compressorValveLeak: [0.72, 0.05, 0.23],
      reversingValveLeak: [0.3, 0.1, 0.6],
      lowCharge: [0.12, 0.03, 0.85],
      overcharge: [0.03, 0.12, 0.85],
      nonCondensables: [0.03, 0.17, 0.8],
      cannotTell: [0.1, 0.2, 0.7],
    },
    otherwise: [0.05, 0.07, 0.88],
    cautions: ['liveElectricity'],
  },
  touchReversing: {
    label: 'Temperatures across the reversing valve',
    instruction:
      'With the unit run to rest, measure the suction gas entering and leaving the reversing valve, a hand’s breadth from its body and insulated: it should gain no more than 3 °F (1.7 K).',
    minutes: 7,
    outcomes: { differ: 'they differ by more', equal: 'they are equal' },
    given: { reversingValveLeak: [0.88, 0.12], cannotTell: [0.1, 0.9] },
    otherwise: [0.02, 0.98],
    cautions: ['hotPipes'],
    fits: (unit) => unit.heatPump || unit.mode === 'heating',
  },
  bulbCheck: {
    label: 'Valve bulb and its response',
    instruction:
      'Check that the bulb is tight, insulated and rightly placed, then warm it in the hand and cool it in ice water, each for a moment: superheat must follow. An electronic valve: compare commanded and actual steps and its two sensors.',
    minutes: 12,
    outcomes: { wrong: 'loose, badly placed or no response', right: 'tight and responding' },
    given: {
      valveOpen: [0.75, 0.25],
      valveStarved: [0.6, 0.4],
      valveHunting: [0.55, 0.45],
      cannotTell: [0.15, 0.85],
    },
    otherwise: [0.06, 0.94],
    cautions: ['frostbite'],
    fits: (unit) => unit.metering !== 'fixed',
  },
  watchCycle: {
    label: 'Watch the contactor and its controls over several cycles',
    instruction:
      'Stay with the unit and note what opens: thermostat, a pressure switch, the overload, or a contactor that does not hold.',
    minutes: 25,
    outcomes: { cutsOut: 'it cuts out by itself', holds: 'it runs on' },
    given: { shortCycling: [0.93, 0.07], icedCoil: [0.2, 0.8] },
    otherwise: [0.05, 0.95],
    cautions: ['liveElectricity'],
  },
  pumpDown: {
    label: 'Can the compressor pump down',
    instruction:
      'Where its maker allows it, close the liquid service valve and watch the suction pressure fall, stop the unit and watch whether it stays down. Open the valve again.',
    minutes: 15,
    outcomes: {
      weak: 'it pulls down slowly or comes back at once',
      firm: 'it pulls down and holds',
    },
    given: {
      compressorValveLeak: [0.85, 0.15],
      reversingValveLeak: [0.65, 0.35],
      cannotTell: [0.12, 0.88],
    },
    otherwise: [0.05, 0.95],
    cautions: ['runPumpedDown', 'flammable'],
  },
  standing: {
    label: 'Standing pressure after equalising',
    instruction:
      'Stop the compressor and wait until everything has the temperature of its surroundings and both pressures are equal and at rest, then compare with saturation. The outdoor fan shortens the wait, if it can run with the compressor disconnected.',
    minutes: 30,
    outcomes: {
      above: 'above saturation at the warmest place',
      below: 'below saturation at the coldest place',
      agrees: 'it agrees',
    },
    given: {
      nonCondensables: [0.85, 0.01, 0.14],
      wrongRefrigerant: [0.45, 0.45, 0.1],
      lowCharge: [0.01, 0.12, 0.87],
      sensorFault: [0.2, 0.2, 0.6],
      cannotTell: [0.15, 0.1, 0.75],
    },
    otherwise: [0.03, 0.02, 0.95],
    decides: 'nonCondensables',
    cautions: ['lockout', 'frostbite'],
  },
  leakSearch: {
    label: 'Search for a leak and for oil',
    instruction:
      'Search joints, valve cores, both coils and the service ports with a detector for this refrigerant or with leak-test solution, and look for oil. Where nothing is left to find, pressure-test with dry nitrogen.',
    minutes: 30,
    outcomes: { found: 'a leak or fresh oil', none: 'nothing found' },
    given: { lowCharge: [0.65, 0.35], nonCondensables: [0.15, 0.85] },
    otherwise: [0.05, 0.95],
    cautions: ['flammable', 'refrigerantHandling', 'frostbite', 'pressureTest'],
  },
  identify: {
    label: 'Identify the refrigerant',
    instruction:
      'Sample the vapour with a refrigerant identifier that also reports air, and compare with the plate.',
    minutes: 45,
    outcomes: { differs: 'another refrigerant, a mixture or air', agrees: 'as on the plate' },
    given: { wrongRefrigerant: [0.95, 0.05], nonCondensables: [0.5, 0.5] },
    otherwise: [0.02, 0.98],
    cautions: ['refrigerantHandling', 'flammable', 'frostbite'],
  },
  recoverWeigh: {
    label: 'Recover and weigh the charge',
    instruction:
      'Recover the whole charge onto a scale and compare it with plate and line length: the only check that tells the amount for certain.',
    minutes: 120,
    outcomes: { low: 'less than it should be', high: 'more than it should be', right: 'right' },
    given: {
      lowCharge: [0.95, 0.005, 0.045],
      overcharge: [0.005, 0.95, 0.045],
      cannotTell: [0.1, 0.1, 0.8],
    },
    otherwise: [0.04, 0.04, 0.92],
    cautions: ['refrigerantHandling', 'flammable', 'frostbite'],
  },
} as const satisfies Record<string, CheckRow>;

export type CheckKey = keyof typeof CHECKS;
export const CHECK_KEYS = Object.keys(CHECKS) as readonly CheckKey[];

/** The row of a check, typed as the general row. */
export function checkRow(key: CheckKey): CheckRow {
  return CHECKS[key];
}

/** Probability of an outcome (by its position) under a suspect. */
export function outcomeGiven(
  row: CheckRow,
  outcome: number,
  suspect: SuspectKey,
  mode: Mode,
): number {
  const inHeating = mode === 'heating' ? row.heating?.[suspect] : undefined;
  return (inHeating ?? row.given[suspect] ?? row.otherwise)[outcome] ?? 0;
}
