import { meanAtRest } from '../../core/steadiness/rest.ts';
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { createStoodStillFinder } from '../../core/checks/stood-still.ts';
import { createEngine } from '../../core/engine.ts';
import type { EngineConfig, SnapshotContent, StateSpan } from '../../core/engine-types.ts';
import type { FigureKey, Reading } from '../../core/circuit/types.ts';
import type { QuantityMotion } from '../../core/steadiness/types.ts';
import type { ReferenceSnapshot, StoodStill } from '../../core/diagnosis/types.ts';
import { reasonFormat, reasonText } from '../../core/steadiness/reason-text.ts';
import { kelvin } from '../../core/units/brands.ts';
import { fahrenheitFromDifference, fahrenheitFromKelvin } from '../../core/units/temperature.ts';
import { csvErrorText } from '../sources/csv-header.ts';
import { decodeText } from '../../core/stream/text-encoding.ts';
import { rowSamples, type CsvTable } from '../sources/csv-table.ts';
import { parseCsv } from '../sources/csv.ts';
import { readAccuracyFile } from './accuracy-file.ts';
import {
  readArgs,
  readAtmosphere,
  readDifference,
  readDuration,
  readMetering,
  readMode,
  readRefrigerant,
  UserError,
} from './args.ts';
import { judgementJson, lastRead, spanJson } from './judgement.ts';
import {
  JUDGEMENT_OPTIONS,
  readJudgementOptions,
  type JudgementOptions,
} from './judgement-options.ts';
import { followStanding } from './standing.ts';

/** No target of superheat or subcooling lies above this, K. */
const LARGEST_TARGET_K = 50;
/** Default floor of the run time, s. */
const MINIMUM_RUN_S = 600;

/** Options of `analyze`; `compare` takes the same. */
export const ANALYZE_OPTIONS = {
  refrigerant: { type: 'string' },
  metering: { type: 'string' },
  mode: { type: 'string' },
  'target-subcooling': { type: 'string' },
  'target-superheat': { type: 'string' },
  altitude: { type: 'string' },
  accuracy: { type: 'string' },
  'minimum-run': { type: 'string' },
  ...JUDGEMENT_OPTIONS,
} as const;

/** A logged table with the assumptions under which it is to be read. */
export interface LoggedSession {
  readonly file: string;
  readonly table: CsvTable;
  readonly config: EngineConfig;
  readonly targets: { readonly subcooling: number | null; readonly superheat: number | null };
  readonly judgement: JudgementOptions;
}

/**
 * Reads the table and the assumptions of `analyze`.
 *
 * @throws UserError for anything wrong in the command or the file
 */
export function readLoggedSession(args: readonly string[]): LoggedSession {
  const { values, positionals } = readArgs(args, ANALYZE_OPTIONS);
  const [file, extra] = positionals;
  if (file === undefined) throw new UserError('which file? analyze FILE.csv ...');
  if (extra !== undefined) throw new UserError(`one file at a time: ${extra} is one too many`);
  const refrigerant = readRefrigerant(values.refrigerant);
  const metering = readMetering(values.metering);
  const mode = readMode(values.mode);
  const atmosphere = readAtmosphere(values.altitude);
  const target = (name: 'target-subcooling' | 'target-superheat'): number | null =>
    values[name] === undefined ? null : readTarget(values[name], `--${name}`);
  const targets = {
    subcooling: target('target-subcooling'),
    superheat: target('target-superheat'),
  };
  const accuracy = values.accuracy === undefined ? {} : readAccuracyFile(values.accuracy);
  const minimumRun =
    values['minimum-run'] === undefined
      ? MINIMUM_RUN_S
      : readDuration(values['minimum-run'], '--minimum-run');
  const table = readTable(file, atmosphere.pressure);
  const config: EngineConfig = {
    refrigerant,
    metering,
    mode,
    atmosphere,
    gauge: { channels: table.gaugeChannels, convertedWith: table.atmosphere_Pa },
    accuracy,
    offsets: {},
    minimumRun,
    tolerances: {},
    marks: [],
  };
  return { file, table, config, targets, judgement: readJudgementOptions(values) };
}

function readTarget(text: string, name: string): number {
  const target = readDifference(text, name);
  if (target >= 0 && target <= LARGEST_TARGET_K) return target;
  throw new UserError(`${name} '${text}' must be between 0 and ${LARGEST_TARGET_K * 1.8} degF`);
}

function readTable(file: string, atmosphere_Pa: number): CsvTable {
  let text: string;
  try {
    text = decodeText(readFileSync(file));
  } catch (error) {
    throw new UserError(`cannot read ${file}: ${error instanceof Error ? error.message : ''}`);
  }
  const table = parseCsv(text, atmosphere_Pa);
  if (!table.ok) throw new UserError(`${file}, ${csvErrorText(table.error)}`);
  return table.value;
}

/** Runs a logged table through the one pipeline; the spans of its states. */
export function runLogged(session: LoggedSession): {
  readonly spans: readonly StateSpan[];
  readonly counts: SnapshotContent['counts'];
  readonly last: SnapshotContent | null;
  readonly motions: readonly QuantityMotion[];
  readonly standing: Record<string, unknown> | null;
  readonly stood: StoodStill | null;
} {
  const follower = followStanding();
  const finder = createStoodStillFinder(session.config);
  const engine = createEngine(session.config, (t, columns) => {
    follower.observe(t, columns);
    finder.observe(t, columns);
  });
  for (let row = 0; row < session.table.times.length; row += 1) {
    engine.push(rowSamples(session.table, row));
  }
  engine.finish();
  const { counts, steadiness } = engine.state();
  const taken = engine.snapshot();
  const last = taken.ok ? taken.value : null;
  const spans = engine.spans();
  const standing = follower.result(session.config, spans, last);
  return { spans, counts, last, motions: steadiness.motions, standing, stood: finder.found() };
}

/**
 * `analyze FILE.csv ...`: notes on the file itself, the states of a logged session, a snapshot of every settled span, the
 * swings with their averages, and the judgement of the last one.
 */
export function analyze(args: readonly string[]): unknown {
  const session = readLoggedSession(args);
  const seen = runLogged(session);
  const { spans, counts } = seen;
  const settled = spans.filter((span) => span.state === 'settled');
  const format = reasonFormat('us', session.config.mode);
  const whole = { ...seen, config: session.config, targets: session.targets };
  const { baseline, twin } = session.judgement;
  const notes = [...session.table.notes];
  const references = {
    baseline: restOf(session, baseline, 'the healthy visit', notes),
    twin: restOf(session, twin, 'the like unit', notes),
  };
  return {
    notes,
    states: spans.map((span) => ({
      state: span.state,
      from_s: span.from,
      to_s: span.to,
      reason: reasonText(span.reason, format),
    })),
    settledAt_s: settled[0]?.from ?? null,
    snapshots: settled.flatMap((span) => {
      if (span.snapshot === null) return [];
      const judgement = spanJson(whole, span, session.judgement, references);
      return [{ ...snapshotJson(span.snapshot), judgement }];
    }),
    hunting: spans.flatMap(huntingJson),
    ...judgementJson(whole, session.judgement, references),
    standing: seen.standing,
    counts: { ...counts, reorderedRows: session.table.reordered },
    assumptions: {
      refrigerant: session.config.refrigerant,
      metering: session.config.metering,
      mode: session.config.mode,
      atmosphere_kPa: session.config.atmosphere.pressure / 1000,
      atmosphere: session.config.atmosphere.kind,
      minimumRun_s: session.config.minimumRun,
      targetSubcooling_degF: inFahrenheit(session.targets.subcooling),
      targetSuperheat_degF: inFahrenheit(session.targets.superheat),
    },
  };
}

function inFahrenheit(difference: number | null): number | null {
  return difference === null ? null : fahrenheitFromDifference(difference);
}

const DIFFERENCES = ['superheat', 'subcooling', 'airDrop'] as const satisfies FigureKey[];
const TEMPERATURES = ['suctionSaturation', 'liquidSaturation'] as const satisfies FigureKey[];

/**
 * The last reading at rest of another file, read under the same assumptions; null without a file.
 *
 * @param notes takes what is to be told of that file
 * @throws UserError where that file cannot be read or never settled
 */
function restOf(
  session: LoggedSession,
  file: string | null,
  what: string,
  notes: string[],
): ReferenceSnapshot | null {
  if (file === null) return null;
  const table = readTable(file, session.config.atmosphere.pressure);
  notes.push(...table.notes.map((note) => `${basename(file)}, ${note}`));
  const gauge = { channels: table.gaugeChannels, convertedWith: table.atmosphere_Pa };
  const config = { ...session.config, gauge };
  const { spans } = runLogged({ ...session, file, table, config });
  const content = lastRead(spans)?.snapshot ?? null;
  if (content === null) {
    throw new UserError(
      `${file}: ${what} never settled; give a longer log of it, or leave the option out`,
    );
  }
  return { label: basename(file), config, content };
}

/** A hunting span: how it swings, and the readings averaged over whole periods. */
function huntingJson({ reason, snapshot, state, from, to }: StateSpan): Record<string, unknown>[] {
  if (state !== 'hunting') return [];
  const swing =
    reason.code === 'swinging'
      ? {
          quantity: reason.quantity,
          amplitude_degF: fahrenheitFromDifference(reason.amplitude),
          period_s: reason.period,
          mean_at_rest: meanAtRest({ state, reason }),
        }
      : null;
  const readings = snapshot === null ? null : snapshotJson(snapshot);
  return [{ from_s: from, to_s: to, swing, readings }];
}

/** A snapshot as `analyze` prints it. Absent figures are null, never zero. */
function snapshotJson(content: SnapshotContent): Record<string, unknown> {
  const json: Record<string, unknown> = { from_s: content.window.from, to_s: content.window.to };
  for (const key of DIFFERENCES) {
    json[key] = readingJson(content.figures[key], fahrenheitFromDifference);
  }
  for (const key of TEMPERATURES) {
    json[key] = readingJson(content.figures[key], (k) => fahrenheitFromKelvin(kelvin(k)));
  }
  return json;
}

function readingJson(
  reading: Reading | undefined,
  show: (kelvins: number) => number,
): Record<string, unknown> | null {
  if (reading === undefined) return null;
  return {
    degF: show(reading.value),
    uncertainty_degF: fahrenheitFromDifference(reading.u),
    marks: reading.marks,
  };
}
