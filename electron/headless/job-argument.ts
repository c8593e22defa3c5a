import { openJobFile } from '../jobfile/job-file.ts';
import type { JobFile } from '../jobfile/types.ts';
import { UserError } from './args.ts';

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
  const opened = openJobFile(file);
  if (!opened.ok) throw new UserError(`${file}: ${opened.error.detail}`);
  try {
    return read(opened.value);
  } finally {
    opened.value.close();
  }
}
