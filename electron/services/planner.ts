import { fail, ok, type Result } from '../../core/result.ts';
import type { Unit } from '../../core/record/job.ts';
import type { SourceRow } from '../bridge/views.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import { planRadio, radioRow, resumeRadio } from '../radio/radio-plan.ts';
import type { Radio } from '../radio/radio.ts';
import { createFileSource } from '../sources/file.ts';
import { createManualSource } from '../sources/manual.ts';
import { createSimulatedSource } from '../sources/simulated.ts';
import type { Clock } from '../clock.ts';
import type { CsvStore } from './csv-store.ts';
import { atmosphereOf, engineConfigOf } from './engine-config.ts';
import { TYPED_GAUGE_CHANNELS } from './manual-values.ts';
import { planSimulated } from './plan-simulated.ts';
import type { Scenarios } from './scenarios.ts';
import type { JobFacts, SourceChoice, SourcePlan, SourcePlanner } from './source-planner.ts';

const ROWS: readonly SourceRow[] = [
  {
    kind: 'simulated',
    label: 'Simulated unit',
    hint: 'A modelled unit that starts, settles and is disturbed. Marked SIMULATED everywhere.',
    available: true,
  },
  {
    kind: 'file',
    label: 'Logged table',
    hint: 'A CSV file of logged channels, as it was logged or faster.',
    available: true,
  },
  {
    kind: 'manual',
    label: 'Typed by hand',
    hint: 'Numbers read from analogue gauges and thermometers.',
    available: true,
  },
];

interface PlannerOptions {
  readonly clock: Clock;
  readonly radio: Radio;
  readonly scenarios: Scenarios;
  readonly tables: CsvStore;
}

/** Makes sources from what a person chose. */
export function createPlanner({ clock, tables, radio, scenarios }: PlannerOptions): SourcePlanner {
  const planFile = (
    choice: Extract<SourceChoice, { kind: 'file' }>,
    job: JobFacts,
    unit: Unit,
  ): Result<SourcePlan, Failure> => {
    const loaded = tables.table(choice.csv, atmosphereOf(job.head.site).pressure);
    if (!loaded.ok) return loaded;
    const { name, table } = loaded.value;
    const config = engineConfigOf(unit, job.head.site, table.gaugeChannels, []);
    return ok({
      source: createFileSource({ table, unit: unit.key, speed: choice.speed, clock }),
      kind: 'file',
      label: name,
      notes: table.notes,
      origin: table.origin,
      units: [{ unit: unit.key, config }],
      newUnits: [],
      notices: [],
    });
  };

  const planManual = (job: JobFacts, unit: Unit): Result<SourcePlan, Failure> => {
    const config = engineConfigOf(unit, job.head.site, TYPED_GAUGE_CHANNELS, ['typedByHand']);
    return ok({
      source: createManualSource({ unit: unit.key, clock }),
      kind: 'manual',
      label: 'Typed by hand',
      origin: null,
      units: [{ unit: unit.key, config }],
      newUnits: [],
      notices: [],
    });
  };

  return {
    rows: () => [...ROWS, radioRow(radio)],
    scenarios: () => scenarios.rows(),
    plan(choice, job) {
      switch (choice.kind) {
        case 'file':
        case 'manual': {
          const unit = job.units.find((u) => u.key === choice.unit);
          if (unit === undefined) return fail(failure('UNKNOWN_UNIT', { unit: choice.unit }));
          return choice.kind === 'file' ? planFile(choice, job, unit) : planManual(job, unit);
        }
        case 'radio':
          return planRadio(radio, job);
        case 'simulated': {
          const scenario = scenarios.get(choice.scenario);
          if (!scenario.ok) return scenario;
          return ok(planSimulated(scenario.value, choice.speed, job, clock));
        }
      }
    },
    resume(session, at) {
      const { kind, label } = session.source;
      switch (kind) {
        case 'manual':
          return ok(createManualSource({ unit: session.units[0]?.unit ?? '', clock }));
        case 'radio':
          return ok(resumeRadio(radio, session, at));
        case 'simulated': {
          const scenario = scenarios.titled(label);
          if (!scenario.ok) return scenario;
          // The unit went on while nobody recorded.
          return ok(createSimulatedSource({ scenario: scenario.value, speed: 1, clock, from: at }));
        }
        case 'file':
        case 'replay': {
          const detail = `the table ${label} is not loaded any more. Close this session as it is and start a new one from the file.`;
          return fail(failure('CSV_REFUSED', { detail }));
        }
      }
    },
  };
}
