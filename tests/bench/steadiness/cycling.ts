/**
 * Scenarios that stop again and again: a contactor that drops out, or a thermostat that calls for a
 * few minutes at a time. Most runs end before anything has come to rest; the truth says which.
 */
import { createDice, type Dice } from './dice.ts';
import {
  meteringOf,
  METERINGS,
  REFRIGERANTS,
  scenarioOf,
  sensorsOf,
  LENGTH_S,
  START_S,
  type Drawn,
  type EventInput,
  type UnitInput,
} from './plant.ts';
import { SENSOR_CLASSES } from './sensors.ts';

/** Calls of a thermostat, s: runs of two to eleven minutes, rests of one and a half to six. */
function calls(dice: Dice): EventInput[] {
  const events: EventInput[] = [];
  let at_s = START_S;
  while (at_s < LENGTH_S - 60) {
    events.push({ do: 'start', at_s });
    at_s += Math.round(dice.log(120, 660));
    events.push({ do: 'stop', at_s });
    at_s += Math.round(dice.log(90, 360));
  }
  return events;
}

/** The scenario of a seed. */
export function drawCycling(seed: number): Drawn {
  const dice = createDice(seed + 13_000_000);
  // By pairs of seeds, so that both halves see both kinds.
  const contactor = Math.floor(seed / 2) % 2 === 0;
  const heating = dice.chance(0.3);
  const metering = dice.pick(METERINGS);
  const sensors = dice.pick(SENSOR_CLASSES);
  const low = dice.chance(0.3);
  const designCapacity_W = dice.between(5000, 17_000);
  const unit: UnitInput = {
    mode: heating ? 'heating' : 'cooling',
    heatPump: heating,
    designCapacity_W,
    metering: meteringOf(dice, metering, dice.chance(0.1)),
    room: {
      start_K: heating ? dice.between(289, 296) : dice.between(294, 303),
      startHumidity: dice.between(0.35, 0.6),
      ...(heating ? { gain_W: -designCapacity_W * dice.between(0.1, 0.6) } : {}),
    },
    faults: [
      ...(contactor ? [{ kind: 'shortCycling' as const, severity: dice.between(0.02, 0.8) }] : []),
      ...(low ? [{ kind: 'lowCharge' as const, severity: dice.between(0.3, 1) }] : []),
    ],
    events: contactor ? [{ do: 'start', at_s: START_S }] : calls(dice),
    sensors: sensorsOf(dice, sensors),
  };
  const weather = {
    outdoorAir_K: heating ? dice.between(281, 291) : dice.between(291, 314),
    outdoorHumidity: 0.6,
  };
  const kind = contactor ? 'contactor' : 'thermostat';
  const mode = heating ? 'heating' : 'cooling';
  return {
    family: 'cycling',
    input: scenarioOf(seed, dice.pick(REFRIGERANTS), weather, unit),
    name: `${metering} ${mode} ${kind}${low ? ' lowCharge' : ''}, ${sensors} sensors`,
    metering,
    sensors,
  };
}
