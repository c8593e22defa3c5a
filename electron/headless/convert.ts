import type { Session } from '../../core/record/session.ts';
import type { StoredSession } from '../jobfile/types.ts';
import { TABLE_UNITS, writeCsv } from '../sources/csv-writer.ts';
import { oneOf, readArgs, UserError } from './args.ts';
import { withJob } from './job-argument.ts';
import { OUTPUT_OPTIONS, readOutput, writeOutput } from './output-file.ts';
import { inOrderOfTime } from './table-order.ts';

/**
 * `convert JOB.stillpoint --out FILE.csv [--force] [--session ID] [--unit A] [--units us|si]`: a recorded session as a table,
 * the last session and its first unit where none is named; the answer lists what else there is.
 * Rows are in order of time, where the record is in order of arrival; the reasons of gaps, sequence
 * numbers and the sensors' own clocks stay in the record.
 */
export function convert(args: readonly string[]): unknown {
  const { values, positionals } = readArgs(args, {
    ...OUTPUT_OPTIONS,
    session: { type: 'string' },
    unit: { type: 'string' },
    units: { type: 'string' },
  });
  const out = readOutput(values, positionals[0]);
  const units = oneOf(values.units ?? 'us', TABLE_UNITS, '--units');
  return withJob(positionals, 'convert', (job) => {
    const { session } = chooseSession(job.sessions(), values.session);
    const { unit, config } = chooseUnit(session, values.unit);
    const samples = [...job.samples(session.id, unit)].flat();
    if (samples.length === 0) {
      throw new UserError(`session ${session.id} has no samples of unit ${unit}`);
    }
    writeOutput(out, writeCsv(inOrderOfTime(samples), config.gauge, units));
    return {
      source: session.source.kind,
      label: session.source.label,
      session: session.id,
      origin: session.origin,
      unit,
      out,
      samples: samples.length,
      sessions: job.sessions().map((stored) => stored.session.id),
      units: session.units.map((u) => u.unit),
      refrigerant: config.refrigerant,
      metering: config.metering,
      mode: config.mode,
      atmosphere_kPa: config.gauge.convertedWith / 1000,
    };
  });
}

function chooseSession(
  sessions: readonly StoredSession[],
  asked: string | undefined,
): StoredSession {
  const found =
    asked === undefined ? sessions.at(-1) : sessions.find(({ session }) => session.id === asked);
  if (found !== undefined) return found;
  if (sessions.length === 0) throw new UserError('the job holds no session');
  const list = sessions
    .map(({ session }) => `${session.id} (${session.origin}, ${session.source.label})`)
    .join('; ');
  throw new UserError(`there is no session ${asked ?? ''}; there are: ${list}`);
}

function chooseUnit(session: Session, asked: string | undefined): Session['units'][number] {
  const found =
    asked === undefined ? session.units[0] : session.units.find(({ unit }) => unit === asked);
  if (found !== undefined) return found;
  const list = session.units.map(({ unit }) => unit).join(', ');
  throw new UserError(`there is no unit ${asked ?? ''} in that session; there are ${list}`);
}
