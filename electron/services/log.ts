import { appendFileSync, mkdirSync, renameSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Clock } from '../clock.ts';

const MAX_BYTES = 1_000_000;

/** A text log for what went wrong; it never throws, because it is called where things fail. */
export interface Log {
  readonly error: (what: string, error: unknown) => void;
  readonly info: (text: string) => void;
}

/**
 * Appends lines to a file; when it has grown to a megabyte it becomes `<file>.1` and a new one
 * begins, so that two megabytes are the most it takes.
 */
export function createLog(file: string, clock: Clock): Log {
  const write = (level: string, text: string): void => {
    try {
      mkdirSync(dirname(file), { recursive: true });
      if (sizeOf(file) >= MAX_BYTES) renameSync(file, `${file}.1`);
      appendFileSync(file, `${new Date(clock.now()).toISOString()} ${level} ${text}\n`);
    } catch (error) {
      process.stderr.write(`${level} ${text}\n(the log cannot be written: ${String(error)})\n`);
    }
  };
  return {
    error: (what, error) =>
      write(
        'error',
        `${what}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
      ),
    info: (text) => write('info', text),
  };
}

function sizeOf(file: string): number {
  return statSync(file, { throwIfNoEntry: false })?.size ?? 0;
}
