import { METERING_TEXT } from '../../core/circuit/metering-text.ts';
import { WATT_PER_BTUH } from '../../core/units/power.ts';
import { differenceFromFahrenheit } from '../../core/units/temperature.ts';
import type { EngineConfig } from '../../core/engine-types.ts';
import type { SplitScenario, UnitSpec } from '../../core/plant/scenario.ts';
import { newUnit, type Unit } from '../../core/record/job.ts';
import { channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import { createSimulatedSource } from '../sources/simulated.ts';
import type { Clock } from '../clock.ts';
import { engineConfigOf } from './engine-config.ts';
import type { JobFacts, SourcePlan } from './source-planner.ts';

const MINIMUM_RUN_S = 600;

/**
 * The plan of a simulated session. What the unit is comes from the scenario, since that is what its
 * samples speak of; a unit the job does not have is added, and one that the job describes otherwise
 * is left as it is and the difference told.
 */
export function planSimulated(
  scenario: SplitScenario,
  speed: number,
  job: JobFacts,
  clock: Clock,
): SourcePlan {
  const units = Object.entries(scenario.units).map(([key, spec]) => {
    const known = job.units.find((unit) => unit.key === key);
    return { spec, known, simulated: unitOf(key, spec, scenario) };
  });
  return {
    source: createSimulatedSource({ scenario, speed, clock }),
    kind: 'simulated',
    label: scenario.title,
    origin: null,
    units: units.map(({ spec, known, simulated }) => ({
      unit: simulated.key,
      config: configOf({ ...simulated, ...ownSettings(known) }, spec, scenario),
    })),
    newUnits: units.flatMap(({ known, simulated }) => (known === undefined ? [simulated] : [])),
    notices: units.flatMap(({ known, simulated }) =>
      known === undefined || isAlike(known, simulated) ? [] : [differenceText(known, simulated)],
    ),
  };
}

/** What a person set for the unit that holds for the simulation too. */
function ownSettings(known: Unit | undefined): Partial<Unit> {
  return known === undefined ? {} : { accuracy: known.accuracy, minimumRun_s: known.minimumRun_s };
}

/** As a plate prints it: whole degrees Fahrenheit, whole thousands of Btu an hour. */
function wholePlate(value: number, unit: number): number {
  return Math.round(value / unit) * unit;
}

function unitOf(key: string, spec: UnitSpec, scenario: SplitScenario): Unit {
  const blank = newUnit(key);
  return {
    ...blank,
    name: spec.name,
    refrigerant: scenario.refrigerant,
    metering: spec.metering.kind,
    mode: spec.mode,
    nameplate: {
      ...blank.nameplate,
      capacity_W: wholePlate(spec.designCapacity_W, 1000 * WATT_PER_BTUH),
      targetSubcooling_K: wholePlate(spec.nameplate.subcooling_K, differenceFromFahrenheit(1)),
      targetSuperheat_K: wholePlate(spec.nameplate.superheat_K, differenceFromFahrenheit(1)),
    },
    minimumRun_s: MINIMUM_RUN_S,
  };
}

function configOf(unit: Unit, spec: UnitSpec, scenario: SplitScenario): EngineConfig {
  const gauges = spec.sensors
    .map((sensor) => sensor.channel)
    .filter((key): key is ChannelKey => key !== 'barometricPressure' && isPressure(key));
  const site = { name: '', address: '', altitude_m: scenario.site.altitude_m };
  return engineConfigOf(unit, site, gauges, ['simulated']);
}

function isPressure(key: string): key is ChannelKey {
  return channelRow(key as ChannelKey).quantity === 'pressure';
}

function isAlike(a: Unit, b: Unit): boolean {
  return a.refrigerant === b.refrigerant && a.metering === b.metering && a.mode === b.mode;
}

function differenceText(known: Unit, simulated: Unit): string {
  const what = (unit: Unit): string =>
    `${unit.refrigerant}, ${METERING_TEXT[unit.metering].toLowerCase()}, ${unit.mode}`;
  return `The simulation of unit ${known.key} is of ${what(simulated)}; the job says ${what(known)}. The session goes by the simulation.`;
}
