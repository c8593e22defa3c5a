import { fail, ok, type Result } from '../../core/result.ts';
import type { Session } from '../../core/record/session.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import type { SourceRow } from '../bridge/views.ts';
import { engineConfigOf } from '../services/engine-config.ts';
import type { JobFacts, SourcePlan } from '../services/source-planner.ts';
import type { Source } from '../sources/source.ts';
import { assignments, sensorConfig } from './assignments.ts';
import type { Radio } from './radio.ts';

/** The radio's row in the list of sources. */
export function radioRow(radio: Radio): SourceRow {
  const count = new Set(assignments(radio.memory).map((a) => a.record.id)).size;
  return {
    kind: 'radio',
    label: 'Sensors',
    hint:
      count === 0
        ? 'Bluetooth sensors: find and assign them in the Sensors room first.'
        : `${count} Bluetooth ${count === 1 ? 'sensor is' : 'sensors are'} assigned.`,
    available: true,
  };
}

/**
 * The plan of a session over the radio: the units of the job that have sensors, each with the gauge
 * channels and the accuracies of its sensors. Refused where the job's units have none.
 */
export function planRadio(radio: Radio, job: JobFacts): Result<SourcePlan, Failure> {
  const assigned = assignments(radio.memory);
  const units = job.units.filter((unit) => assigned.some((a) => a.unit === unit.key));
  if (units.length === 0) {
    const keys = job.units.map((unit) => unit.key).join(', ');
    const detail = `none is assigned to a unit of this job (${keys}); do so in the Sensors room`;
    return fail(failure('SENSOR_REFUSED', { detail }));
  }
  const planned = units.map((unit) => {
    const { gaugeChannels, accuracy } = sensorConfig(radio.memory, unit.key);
    const config = engineConfigOf(unit, job.head.site, gaugeChannels, []);
    return { unit: unit.key, config: { ...config, accuracy: { ...config.accuracy, ...accuracy } } };
  });
  const names = new Set(
    assigned.filter((a) => units.some((u) => u.key === a.unit)).map((a) => a.record.name),
  );
  const source = radio.source({ atmosphereOf: atmosphereFrom(planned) });
  return ok({
    source,
    kind: 'radio',
    label: [...names].join(', '),
    origin: null,
    units: planned,
    newUnits: [],
    notices: [],
  });
}

/** A source that goes on with a session, with the atmosphere its record was made with. */
export function resumeRadio(radio: Radio, session: Session, at: number): Source {
  return radio.source({ startAt_s: at, atmosphereOf: atmosphereFrom(session.units) });
}

/** What gauge pressures of each unit are raised by: as the session's record says, to its end. */
function atmosphereFrom(
  units: readonly {
    readonly unit: string;
    readonly config: { readonly gauge: { readonly convertedWith: number } };
  }[],
): (unit: string) => number | null {
  const known = new Map(units.map((u) => [u.unit, u.config.gauge.convertedWith]));
  return (unit) => known.get(unit) ?? null;
}
