import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Sample, UnitKey } from '../../core/stream/sample.ts';
import { createRun } from '../../core/plant/run.ts';
import { atmosphereAtAltitude } from '../../core/units/pressure.ts';
import { TABLE_UNITS, writeCsv } from '../sources/csv-writer.ts';
import { readScenarioFile } from '../sources/scenario-file.ts';
import { oneOf, readArgs, UserError } from './args.ts';
import { inOrderOfTime, GAUGE_CHANNELS } from './table-order.ts';
import { OUTPUT_OPTIONS, readOutput, writeOutput } from './output-file.ts';

/**
 * `simulate SCENARIO.json --out FILE.csv [--force] [--unit A] [--units us|si]`: the measured stream of a virtual unit, the
 * first where none is named, as a table. The table holds measurements only; that they are
 * simulated, and of which units, is in the answer.
 */
export function simulate(args: readonly string[]): unknown {
  const { values, positionals } = readArgs(args, {
    ...OUTPUT_OPTIONS,
    unit: { type: 'string' },
    units: { type: 'string' },
  });
  const [file, extra] = positionals;
  if (file === undefined)
    throw new UserError('which scenario? simulate SCENARIO.json --out FILE.csv');
  if (extra !== undefined) throw new UserError(`one scenario at a time: ${extra} is one too many`);
  const out = readOutput(values, file);
  const units = oneOf(values.units ?? 'us', TABLE_UNITS, '--units');
  const read = readScenarioFile(file);
  if (!read.ok) throw new UserError(`${file}: ${read.error}`);
  const scenario = read.value;
  const run = createRun(scenario);
  const unit = chooseUnit(run.units, values.unit);
  const samples = run.advanceTo(scenario.duration_s).find((part) => part.unit === unit)?.samples;
  if (samples === undefined || samples.length === 0) {
    throw new UserError(`${file}: unit ${unit} has no sensor, so there is nothing to write`);
  }
  const atmosphere_Pa = atmosphereAtAltitude(scenario.site.altitude_m);
  const gauge = { channels: gaugeOf(samples), convertedWith: atmosphere_Pa };
  writeOutput(out, writeCsv(inOrderOfTime(samples), gauge, units));
  return {
    source: 'simulated',
    scenario: scenario.title,
    unit,
    units: run.units,
    out,
    samples: samples.length,
    duration_s: scenario.duration_s,
    altitude_m: scenario.site.altitude_m,
    atmosphere_kPa: atmosphere_Pa / 1000,
  };
}

function chooseUnit(units: readonly UnitKey[], asked: string | undefined): UnitKey {
  const found = asked === undefined ? units[0] : units.find((unit) => unit === asked);
  if (found !== undefined) return found;
  throw new UserError(`there is no unit ${asked ?? ''}; the units are ${units.join(', ')}`);
}

function gaugeOf(samples: readonly Sample[]): ChannelKey[] {
  const present = new Set(samples.map((sample) => sample.channel));
  return GAUGE_CHANNELS.filter((channel) => present.has(channel));
}
