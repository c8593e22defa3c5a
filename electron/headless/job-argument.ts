import { openJobFile } from '../jobfile/job-file.ts';
import type { Result } from '../../core/result.ts';
import type { JobFile, Refusal } from '../jobfile/types.ts';
import { UserError } from './args.ts';

const LONGEST_WAIT_MS = 30_000;
const TRY_AGAIN_MS = 50;

/** Opens a job to read it; where another verb is reading it, after that one. */
function openInTurn(file: string): Result<JobFile, Refusal> {
  const until = Date.now() + LONGEST_WAIT_MS;
  for (;;) {
    const opened = openJobFile(file, 'read');
    if (opened.ok || opened.error.passing !== true || Date.now() > until) return opened;
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, TRY_AGAIN_MS);
  }
}

/**
 * Opens the job of a verb, lets it be read, and closes it whatever happens.
 *
 * @throws UserError where the file is refused, with the reason
 */
export function withJob<T>(
  positionals: readonly string[],
  verb: string,
  read: (job: JobFile) => T,
): T {
  const [file, extra] = positionals;
  if (file === undefined) throw new UserError(`which job? ${verb} JOB.stillpoint ...`);
  if (extra !== undefined) throw new UserError(`one job at a time: ${extra} is one too many`);
  const opened = openInTurn(file);
  if (!opened.ok) throw new UserError(`${file}: ${opened.error.detail}`);
  try {
    return read(opened.value);
  } finally {
    opened.value.close();
  }
}
