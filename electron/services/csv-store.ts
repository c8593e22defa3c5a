import { randomUUID } from 'node:crypto';
import { fail, ok, type Result } from '../../core/result.ts';
import { STANDARD_ATMOSPHERE } from '../../core/units/pressure.ts';
import type { Clock } from '../clock.ts';
import type { CommandArgs } from '../bridge/commands.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import type { CsvSummary } from '../bridge/views.ts';
import { csvErrorText } from '../sources/csv-header.ts';
import type { CsvTable } from '../sources/csv-table.ts';
import { parseCsv } from '../sources/csv.ts';
import { TextPieces } from './text-pieces.ts';

/** Tables kept at once; the one loaded longest ago goes first. */
const MAX_TABLES = 3;

interface Loaded {
  readonly name: string;
  readonly text: string;
}

/** The most bytes of a table: it takes five times as much memory while it is read. */
const MAX_BYTES = 200_000_000;

/** Logged tables that were handed in, until a session is made of one. */
export class CsvStore {
  readonly #tables = new Map<string, Loaded>();
  readonly #coming: TextPieces;

  constructor(clock: Clock) {
    this.#coming = new TextPieces(MAX_BYTES, clock);
  }

  /** Takes a piece of a table; with the last the table is checked and kept, or refused. */
  add(piece: CommandArgs<'csv.load'>): Result<CsvSummary | null, Failure> {
    const { upload, piece: place, name, size, text, last } = piece;
    const added = size > MAX_BYTES ? 'tooMuch' : this.#coming.add(upload, place, text);
    if (added === 'tooMuch') {
      const much = `it has ${Math.ceil(size / 1e6)} MB, and at most ${MAX_BYTES / 1e6} MB can be read.`;
      const detail = `${much} Cut it into shorter tables, each with the header.`;
      return fail(failure('CSV_REFUSED', { detail }));
    }
    if (added === 'incomplete') {
      const detail =
        'some of it did not arrive, since other tables came in meanwhile or it took too long. Choose it again.';
      return fail(failure('CSV_REFUSED', { detail }));
    }
    return last ? this.#load(name, this.#coming.take(upload)) : ok(null);
  }

  /** Checks a table and keeps it; a wrong one is refused with line and column, and not kept. */
  #load(name: string, text: string): Result<CsvSummary, Failure> {
    // Only the check is wanted here: the unit's own atmosphere is known when a session starts.
    const parsed = parseCsv(text, STANDARD_ATMOSPHERE);
    if (!parsed.ok) return fail(failure('CSV_REFUSED', { detail: csvErrorText(parsed.error) }));
    const id = randomUUID();
    this.#tables.set(id, { name, text });
    const [oldest] = this.#tables.keys();
    if (this.#tables.size > MAX_TABLES && oldest !== undefined) this.#tables.delete(oldest);
    const { times, channels, notes } = parsed.value;
    const duration_s = (times.at(-1) ?? 0) - (times[0] ?? 0);
    return ok({ id, name, channels, rows: times.length, duration_s, notes });
  }

  /** The table in SI, its gauge pressures made absolute with the atmosphere of the unit's site. */
  table(
    id: string,
    atmosphere: number,
  ): Result<{ readonly name: string; readonly table: CsvTable }, Failure> {
    const loaded = this.#tables.get(id);
    if (loaded === undefined) {
      const detail = 'the table is not loaded any more. Choose the file again.';
      return fail(failure('CSV_REFUSED', { detail }));
    }
    const parsed = parseCsv(loaded.text, atmosphere);
    if (!parsed.ok) return fail(failure('CSV_REFUSED', { detail: csvErrorText(parsed.error) }));
    return ok({ name: loaded.name, table: parsed.value });
  }
}
