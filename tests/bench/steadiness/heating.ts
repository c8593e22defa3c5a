/**
 * Scenarios of the virtual heat pump in heating: frost-free and frosting weather, faults, a defrost by
 * its own control or asked for. Frost that grows never lets the unit rest in the strict sense; whether
 * the next five minutes stay within tolerance is what the truth says, frost or not.
 */
import type { FaultKind } from '../../../core/plant/scenario.ts';
import { createDice, type Dice } from './dice.ts';
import {
  eventOf,
  faulty,
  meteringOf,
  METERINGS,
  REFRIGERANTS,
  scenarioOf,
  sensorsOf,
  LENGTH_S,
  START_S,
  type Drawn,
  type MeteringKind,
  type UnitInput,
} from './plant.ts';
import { SENSOR_CLASSES } from './sensors.ts';

const FAULTS: readonly FaultKind[] = [
  'lowCharge',
  'overcharge',
  'lowIndoorAir',
  'fouledOutdoorCoil',
  'liquidLineRestriction',
  'nonCondensables',
  'compressorValveLeak',
  'reversingValveLeak',
];
const VALVE_FAULTS: readonly FaultKind[] = [
  'valveStuck',
  'valveStarved',
  'valveOverfeeding',
  'valveHunting',
];

/** A quarter of the sessions has no fault; valve faults need a thermostatic valve. */
function faultOf(dice: Dice, metering: MeteringKind): FaultKind | null {
  if (dice.chance(0.25)) return null;
  return dice.pick(metering === 'txv' ? [...FAULTS, ...VALVE_FAULTS] : FAULTS);
}

/** Outdoor air, K, and its humidity: mild, about freezing and damp (frost), or cold and dry. */
function weatherOf(dice: Dice): { outdoor: number; humidity: number; name: string } {
  const name = dice.pick(['mild', 'mild', 'damp cold', 'damp cold', 'dry cold'] as const);
  switch (name) {
    case 'mild':
      return { outdoor: dice.between(281, 291), humidity: dice.between(0.4, 0.85), name };
    case 'damp cold':
      return { outdoor: dice.between(270, 278), humidity: dice.between(0.75, 0.95), name };
    case 'dry cold':
      return { outdoor: dice.between(258, 270), humidity: dice.between(0.4, 0.75), name };
  }
}

/** The scenario of a seed. */
export function drawHeating(seed: number): Drawn {
  const dice = createDice(seed + 11_000_000);
  const metering = METERINGS[seed % METERINGS.length] ?? 'txv';
  const fault = faultOf(dice, metering);
  const sensors = dice.pick(SENSOR_CLASSES);
  const happening = eventOf(dice, true);
  const { outdoor, humidity, name: weather } = weatherOf(dice);
  const drift = dice.normal() * 0.8;
  const settledFirst = dice.chance(0.25);
  const designCapacity_W = dice.between(5000, 17_000);
  const unit: UnitInput = {
    mode: 'heating',
    heatPump: true,
    designCapacity_W,
    metering: meteringOf(dice, metering, fault === 'valveHunting' || dice.chance(0.1)),
    // A unit that has run 40 minutes defrosts by its own control within the session.
    defrost: { every_s: dice.between(1500, 5400), endsAt_K: 287.15, atMost_s: 600 },
    initial: settledFirst ? 'settled' : 'standing',
    room: {
      start_K: dice.between(289, 296),
      startHumidity: dice.between(0.3, 0.5),
      gain_W: -designCapacity_W * dice.between(0.1, 0.6),
    },
    faults: fault === null ? [] : [faulty(fault, dice.between(0.3, 1))],
    events: [
      ...(settledFirst ? [] : [{ do: 'start' as const, at_s: START_S }]),
      ...(happening === null ? [] : [happening.event]),
    ],
    sensors: sensorsOf(dice, sensors),
  };
  const outdoorAir_K: [number, number][] = [
    [0, outdoor],
    [LENGTH_S, outdoor + drift],
  ];
  return {
    family: 'heating',
    input: scenarioOf(
      seed,
      dice.pick(REFRIGERANTS),
      { outdoorAir_K, outdoorHumidity: humidity },
      unit,
    ),
    name: `${metering} ${weather} ${fault ?? 'no fault'}, ${sensors} sensors, ${happening?.what ?? 'no event'}`,
    metering,
    sensors,
  };
}
