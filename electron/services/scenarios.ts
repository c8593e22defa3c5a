import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { fail, ok, type Result } from '../../core/result.ts';
import { ScenarioSchema, type SplitScenario } from '../../core/plant/scenario.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import type { ScenarioRow } from '../bridge/views.ts';

const SUFFIX = '.json';

/** The invented units that come with the program. */
export interface Scenarios {
  /** Those of a running unit, by title; a file that cannot be read is reported and left out. */
  rows(): readonly ScenarioRow[];
  get(id: string): Result<SplitScenario, Failure>;
  /** The scenario of this title, which is how a session names it. */
  titled(title: string): Result<SplitScenario, Failure>;
}

/**
 * @param folder where the scenario files are; read at first use
 * @param report is told of files that cannot be read
 */
export function createScenarios(
  folder: string,
  report: (what: string, error: unknown) => void,
): Scenarios {
  let known: ReadonlyMap<string, SplitScenario> | null = null;

  const all = (): ReadonlyMap<string, SplitScenario> => {
    known ??= readFolder(folder, report);
    return known;
  };
  const missing = (detail: string) => fail(failure('SCENARIO_REFUSED', { detail }));

  return {
    rows: () =>
      [...all()]
        .map(([id, scenario]) => ({
          id,
          title: scenario.title,
          summary: scenario.description,
          units: Object.keys(scenario.units),
          duration_s: scenario.duration_s,
        }))
        .sort((a, b) => a.title.localeCompare(b.title)),
    get(id) {
      const scenario = all().get(id);
      return scenario === undefined ? missing(`there is none called ${id}`) : ok(scenario);
    },
    titled(title) {
      const scenario = [...all().values()].find((s) => s.title === title);
      return scenario === undefined ? missing(`there is none titled ${title}`) : ok(scenario);
    },
  };
}

function readFolder(
  folder: string,
  report: (what: string, error: unknown) => void,
): ReadonlyMap<string, SplitScenario> {
  const found = new Map<string, SplitScenario>();
  let names: string[] = [];
  try {
    names = readdirSync(folder).filter((name) => name.endsWith(SUFFIX));
  } catch (error) {
    report('scenarios', error);
  }
  for (const name of names) {
    try {
      const scenario = ScenarioSchema.parse(JSON.parse(readFileSync(join(folder, name), 'utf8')));
      // The others are tests of a circuit at rest, which no running check can be made of.
      if (scenario.kind === 'splitSystem') found.set(basename(name, SUFFIX), scenario);
    } catch (error) {
      report(`scenario ${name}`, error);
    }
  }
  return found;
}
