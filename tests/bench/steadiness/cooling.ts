/** Scenarios of the virtual split system in cooling: every fault, valve, weather, event and sensor. */
import { FAULT_KINDS, type FaultKind } from '../../../core/plant/scenario.ts';
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

/** Faults that may be met with a kind of metering; a fifth of the sessions have none. */
function faultOf(dice: Dice, metering: MeteringKind): FaultKind | null {
  if (dice.chance(0.2)) return null;
  const valve = (kind: FaultKind): boolean => kind.startsWith('valve');
  const fits = FAULT_KINDS.filter(
    (kind) =>
      kind !== 'shortCycling' &&
      kind !== 'reversingValveLeak' &&
      (!valve(kind) || metering === 'txv'),
  );
  return dice.pick(fits);
}

/** Seeds from here on are drawn by {@link drawSpecial}: iced coils, heat pumps, forced defrosts. */
export const SPECIAL_FROM = 280;

/** The scenario of a seed. */
export function drawCooling(seed: number): Drawn {
  return seed < SPECIAL_FROM ? drawOrdinary(seed) : drawSpecial(seed);
}

function drawOrdinary(seed: number): Drawn {
  const dice = createDice(seed + 7_000_000);
  const metering = METERINGS[seed % METERINGS.length] ?? 'txv';
  const fault = faultOf(dice, metering);
  const sensors = dice.pick(SENSOR_CLASSES);
  const happening = eventOf(dice, false);
  const outdoor = dice.between(291, 314);
  const drift = dice.normal() * 1.2; // over the session
  const room = dice.between(294, 303);
  const severity = dice.between(0.3, 1);
  const settledFirst = dice.chance(0.15);
  const unit: UnitInput = {
    designCapacity_W: dice.between(5000, 17_000),
    metering: meteringOf(dice, metering, fault === 'valveHunting' || dice.chance(0.15)),
    initial: settledFirst ? 'settled' : 'standing',
    room: { start_K: room, startHumidity: dice.between(0.35, 0.65) },
    faults: fault === null ? [] : [faulty(fault, severity)],
    events: [
      ...(settledFirst ? [] : [{ do: 'start' as const, at_s: START_S }]),
      ...(happening === null ? [] : [happening.event]),
    ],
    sensors: sensorsOf(dice, sensors),
  };
  const refrigerant = dice.pick(REFRIGERANTS);
  return {
    family: 'cooling',
    input: scenarioOf(seed, refrigerant, { outdoorAir_K: course(outdoor, drift) }, unit),
    name: `${metering} ${fault ?? 'no fault'}, ${sensors} sensors, ${happening?.what ?? 'no event'}`,
    metering,
    sensors,
  };
}

const SPECIALS = ['iced coil', 'iced coil, defrost', 'reversing-valve leak', 'heat pump'] as const;

/** What the ordinary draw leaves out: coils that carry ice, and heat pumps in cooling. */
function drawSpecial(seed: number): Drawn {
  const dice = createDice(seed + 7_500_000);
  // The kind turns over by pairs of seeds, so that both halves see every kind.
  const special = SPECIALS[Math.floor(seed / 2) % SPECIALS.length] ?? 'iced coil';
  const metering = dice.pick(METERINGS);
  const sensors = dice.pick(SENSOR_CLASSES);
  const iced = special.startsWith('iced');
  const outdoor = iced ? dice.between(288, 299) : dice.between(291, 314);
  const severity = dice.between(0.3, 1);
  const happening = iced ? null : eventOf(dice, false);
  const unit: UnitInput = {
    designCapacity_W: dice.between(5000, 17_000),
    metering: meteringOf(dice, metering, dice.chance(0.15)),
    heatPump: !iced,
    initialFrost_kg: iced ? dice.log(0.1, 1.5) : 0,
    room: {
      start_K: iced ? dice.between(290, 296) : dice.between(294, 303),
      startHumidity: dice.between(0.35, 0.65),
      ...(iced ? { gain_W: 2000 } : {}),
    },
    faults: [
      ...(iced ? [{ kind: 'lowIndoorAir' as const, severity: dice.between(0.5, 1) }] : []),
      ...(special === 'reversing-valve leak'
        ? [{ kind: 'reversingValveLeak' as const, severity }]
        : []),
    ],
    events: [
      { do: 'start', at_s: START_S },
      ...(special === 'iced coil, defrost'
        ? [{ do: 'defrost' as const, at_s: Math.round(dice.between(700, 1300)) }]
        : []),
      ...(happening === null ? [] : [happening.event]),
    ],
    sensors: sensorsOf(dice, sensors),
  };
  const weather = { outdoorAir_K: course(outdoor, dice.normal() * 1.2) };
  return {
    family: 'cooling',
    input: scenarioOf(seed, dice.pick(REFRIGERANTS), weather, unit),
    name: `${metering} ${special}, ${sensors} sensors, ${happening?.what ?? 'no event'}`,
    metering,
    sensors,
  };
}

function course(start: number, drift: number): [number, number][] {
  return [
    [0, start],
    [LENGTH_S, start + drift],
  ];
}
