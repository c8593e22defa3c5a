import { randomUUID } from 'node:crypto';
import { mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { CommandArgs } from '../bridge/commands.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import type { EarlierVisit, JobRow } from '../bridge/views.ts';
import { fail, ok, type Result } from '../../core/result.ts';
import type { JobHead } from '../../core/record/job.ts';
import { createJobFile, openJobFile } from '../jobfile/job-file.ts';
import { EXTENSION } from '../jobfile/schema.ts';
import type { Actor, JobFile, Refusal } from '../jobfile/types.ts';
import { earlierVisits, visitFacts, type VisitFacts } from './earlier-visits.ts';
import { candidates, fileNameFor, reserve, resolveJobPath } from './job-names.ts';
import { jobRow, refusedRow } from './job-views.ts';
import { createUploads, type Uploads } from './upload.ts';

/** What was read of a file that is not open; no facts where it was refused. */
interface Read {
  readonly row: JobRow;
  readonly facts: VisitFacts | null;
}

/** The jobs folder and the one job that is open. */
export class Jobs {
  readonly #folder: string;
  readonly #uploads: Uploads;
  readonly #actor: () => Actor;
  /** Rows read before: a file is opened again only when it has changed. */
  readonly #rows = new Map<string, { readonly stamp: string } & Read>();
  #current: JobFile | null = null;

  /** @throws Error when the folder cannot be made */
  constructor(folder: string, actor: () => Actor) {
    mkdirSync(folder, { recursive: true });
    this.#folder = folder;
    this.#actor = actor;
    this.#uploads = createUploads(folder);
  }

  get current(): JobFile | null {
    return this.#current;
  }

  /** Every job file of the folder, newest first; those that are refused with the reason. */
  list(): JobRow[] {
    return this.#paths()
      .map((path) => this.#row(path))
      .sort((a, b) => b.modifiedAt.localeCompare(a.modifiedAt));
  }

  /**
   * Readings at rest of a unit of the open job, from the other jobs of the folder.
   *
   * @returns null where no job is open or it has no such unit
   */
  earlierVisits(key: string): EarlierVisit[] | null {
    const job = this.#current;
    const unit = job?.units().find((u) => u.key === key);
    if (job === null || unit === undefined) return null;
    const others = this.#paths()
      .filter((path) => path !== job.path)
      .map((path) => this.#look(path).facts)
      .filter((facts) => facts !== null);
    return earlierVisits({ head: job.head(), unit }, others);
  }

  #paths(): string[] {
    return readdirSync(this.#folder)
      .filter((name) => name.endsWith(EXTENSION))
      .map((name) => join(this.#folder, name));
  }

  /** Makes a job in a file named after its title and opens it. No file is ever written over. */
  create(args: CommandArgs<'job.create'>): Result<JobFile, Failure> {
    const by = this.#actor();
    const { units, ...rest } = args;
    const head: JobHead = { id: randomUUID(), ...rest, createdAt: by.at };
    const doubled = units.find((unit, i) => units.findIndex((u) => u.key === unit.key) !== i);
    if (doubled !== undefined) {
      const detail = `two units are called ${doubled.key}`;
      return fail(failure('BAD_ARGUMENTS', { command: 'job.create', detail }));
    }
    for (const path of candidates(this.#folder, fileNameFor(args.title))) {
      const made = createJobFile(path, head, units, by);
      if (made.ok) return ok(this.#change(made.value));
      if (made.error.code !== 'EXISTS') return refused(path, made.error);
    }
    return fail(failure('IO', { detail: `there are too many jobs called ${args.title}` }));
  }

  /** Opens a job; one that is refused leaves the present one open. */
  open(file: string): Result<JobFile, Failure> {
    const path = resolveJobPath(this.#folder, file);
    if (path === null) {
      const detail = 'give the name of a file in the jobs folder, or a whole path';
      return fail(failure('JOB_REFUSED', { file, detail }));
    }
    if (this.#current !== null && this.#current.path === path) return ok(this.#current);
    const opened = openJobFile(path);
    return opened.ok ? ok(this.#change(opened.value)) : refused(path, opened.error);
  }

  /**
   * Takes a job file in pieces; the last one opens it. A file that is refused leaves no trace.
   *
   * @returns the open job, or null while pieces are missing
   */
  import(args: CommandArgs<'job.import'>): Result<JobFile | null, Failure> {
    this.#uploads.add(args.upload, args.base64);
    if (!args.last) return ok(null);
    const part = this.#uploads.take(args.upload);
    if (part === null) return fail(failure('IO', { detail: 'the upload is gone' }));
    const tried = openJobFile(part);
    if (!tried.ok) {
      removeJob(part);
      return fail(failure('JOB_REFUSED', { file: args.name, detail: tried.error.detail }));
    }
    tried.value.close();
    const name = fileNameFor(basename(args.name, EXTENSION));
    const path = reserve(this.#folder, name);
    renameSync(part, path);
    return this.open(path);
  }

  close(): void {
    this.#current?.close();
    this.#current = null;
  }

  #change(job: JobFile): JobFile {
    this.close();
    this.#current = job;
    return job;
  }

  #row(path: string): JobRow {
    if (this.#current !== null && this.#current.path === path) return jobRow(path, this.#current);
    return this.#look(path).row;
  }

  /** What is in a file that is not the open one; read again only when it has changed. */
  #look(path: string): Read {
    const stamp = stampOf(path);
    const known = this.#rows.get(path);
    if (known?.stamp === stamp) return known;
    const read = this.#read(path);
    // What is open elsewhere now may be free a moment later without any change to it.
    if (read.facts !== null) this.#rows.set(path, { stamp, ...read });
    return read;
  }

  #read(path: string): Read {
    const opened = openJobFile(path, 'read');
    if (!opened.ok) return { row: refusedRow(path, opened.error), facts: null };
    try {
      return {
        row: jobRow(path, opened.value),
        facts: visitFacts(basename(path), opened.value),
      };
    } finally {
      opened.value.close();
    }
  }
}

function refused(path: string, refusal: Refusal): { readonly ok: false; readonly error: Failure } {
  if (refusal.code === 'IO') return fail(failure('IO', { detail: refusal.detail }));
  return fail(failure('JOB_REFUSED', { file: basename(path), detail: refusal.detail }));
}

/** Changes whenever a file does. */
function stampOf(path: string): string {
  const stat = statSync(path, { throwIfNoEntry: false });
  return `${stat?.mtimeMs ?? 0} ${stat?.size ?? 0}`;
}

/** Removes a file of ours and what SQLite may have put beside it. */
function removeJob(path: string): void {
  for (const suffix of ['', '-journal', '-wal', '-shm']) rmSync(path + suffix, { force: true });
}
