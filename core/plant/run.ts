import type { Sample, UnitKey } from '../stream/sample.ts';
import { atmosphereAtAltitude } from '../units/pressure.ts';
import { Weather } from './air.ts';
import { airAround, channelValue, holdValue } from './channels.ts';
import { commission } from './commission.ts';
import { PressureHold, VacuumHold } from './hold.ts';
import { splitTruth } from './observe.ts';
import type {
  PressureHoldScenario,
  Scenario,
  SensorSpec,
  SplitScenario,
  VacuumHoldScenario,
} from './scenario.ts';
import { Air, Sensor } from './sensors.ts';
import { plantFluid } from './sizing.ts';
import type { Truth } from './truth.ts';
import { UnitPlant } from './unit.ts';

/** Time step of the plant, s. Fixed: what comes out does not depend on how time is sliced. */
export const STEP_s = 0.1;
/** Running time of a unit that starts `settled`, s. */
const WARM_UP = 2400;

/** What one unit's sensors delivered. */
export interface UnitSamples {
  readonly unit: UnitKey;
  readonly samples: Sample[];
}

/** A scenario being played. */
export interface ScenarioRun {
  readonly units: readonly UnitKey[];
  readonly duration_s: number;
  /** Seconds of plant time played so far. */
  readonly t: number;
  /**
   * Plays on to time `t_s` (never back; at most to the duration) and returns what the receiver
   * got since the last call, one entry per unit, in order of arrival. A late sample keeps the time
   * of its measurement, so times may step back within a channel.
   */
  advanceTo(t_s: number): UnitSamples[];
  /**
   * The noise-free state of a unit now. For tests and benchmarks: no sample carries it.
   *
   * @throws RangeError for a unit the scenario does not have
   */
  truth(unit: UnitKey): Truth;
}

/** What a run steps: units or one hold. */
interface Plant {
  readonly units: readonly UnitKey[];
  step(t: number, dt: number): void;
  read(unit: UnitKey, channel: Sensor['channel']): { value: number; around: number };
  truth(unit: UnitKey): Truth;
  sensors(unit: UnitKey): readonly SensorSpec[];
}

/**
 * Plays a scenario. Same scenario, same samples, to the last bit, on any machine and however the
 * calls slice the time.
 */
export function createRun(scenario: Scenario): ScenarioRun {
  return new Player(scenario, plantOf(scenario));
}

function plantOf(s: Scenario): Plant {
  switch (s.kind) {
    case 'splitSystem':
      return splitPlant(s);
    case 'pressureHold':
      return holdPlant(s, (atmosphere) => new PressureHold(s, atmosphere));
    case 'vacuumHold':
      return holdPlant(s, (atmosphere) => new VacuumHold(s, atmosphere));
  }
}

function splitPlant(s: SplitScenario): Plant {
  const fluid = plantFluid(s.refrigerant);
  const p = atmosphereAtAltitude(s.site.altitude_m);
  const weather = new Weather(s.weather, p, s.seed, STEP_s);
  const plants = new Map<UnitKey, UnitPlant>();
  for (const [key, spec] of Object.entries(s.units)) {
    const { design, found } = commission(spec, s.refrigerant);
    const plant = new UnitPlant(spec, key, design, fluid, weather, found, s.seed, STEP_s);
    if (spec.initial === 'settled') warmUp(plant);
    plants.set(key, plant);
  }
  const unit = (key: UnitKey): UnitPlant => {
    const u = plants.get(key);
    if (u === undefined) throw new RangeError(`the scenario has no unit ${key}`);
    return u;
  };
  return {
    units: [...plants.keys()],
    step(t, dt) {
      weather.step(t);
      for (const u of plants.values()) u.step(t, dt);
    },
    read(key, channel) {
      const u = unit(key);
      return { value: channelValue(u, channel), around: airAround(u, channel) };
    },
    truth: (key) => splitTruth(unit(key)),
    sensors: (key) => s.units[key]?.sensors ?? [],
  };
}

/** Runs a unit in the air of time zero, its room held, before its clock starts. */
function warmUp(plant: UnitPlant): void {
  const { t, w } = plant.room;
  plant.control.call(true);
  for (let i = -Math.round(WARM_UP / STEP_s); i < 0; i += 1) {
    plant.step(i * STEP_s, STEP_s);
    plant.room.pin(t, w);
  }
}

function holdPlant(
  s: PressureHoldScenario | VacuumHoldScenario,
  holdAt: (atmosphere: number) => PressureHold | VacuumHold,
): Plant {
  const atmosphere = atmosphereAtAltitude(s.site.altitude_m);
  const hold = holdAt(atmosphere);
  return {
    units: ['A'],
    step: (t, dt) => hold.step(t, dt),
    read(_key, channel) {
      const h = hold.truth();
      return { value: holdValue(h, channel, atmosphere), around: h.tSurroundings };
    },
    truth: () => hold.truth(),
    sensors: () => s.sensors,
  };
}

class Player implements ScenarioRun {
  readonly units: readonly UnitKey[];
  readonly duration_s: number;
  private readonly plant: Plant;
  private readonly lines: { unit: UnitKey; sensors: Sensor[]; air: Air }[];
  private steps = 0;

  constructor(scenario: Scenario, plant: Plant) {
    this.plant = plant;
    this.units = plant.units;
    this.duration_s = scenario.duration_s;
    this.lines = plant.units.map((unit) => ({
      unit,
      sensors: plant
        .sensors(unit)
        .map((spec, i) => new Sensor(spec, i, unit, scenario.seed, STEP_s)),
      air: new Air(),
    }));
    this.sense(0);
  }

  get t(): number {
    return this.steps * STEP_s;
  }

  advanceTo(t_s: number): UnitSamples[] {
    const until = Math.min(t_s, this.duration_s);
    while ((this.steps + 1) * STEP_s <= until + 1e-9) {
      this.steps += 1;
      const t = this.steps * STEP_s;
      this.plant.step(t, STEP_s);
      this.sense(t);
    }
    return this.lines.map(({ unit, air }) => ({ unit, samples: air.arrived(until) }));
  }

  truth(unit: UnitKey): Truth {
    return this.plant.truth(unit);
  }

  private sense(t: number): void {
    for (const { unit, sensors, air } of this.lines) {
      for (const s of sensors) {
        const { value, around } = this.plant.read(unit, s.channel);
        s.follow(value, around, t, STEP_s);
        s.take(t, air.add);
      }
    }
  }
}
