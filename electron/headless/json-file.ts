import { readFileSync } from 'node:fs';
import type { z } from 'zod';
import { UserError } from './args.ts';

/**
 * Reads a JSON file that an option names.
 *
 * @param what what the file should be, for the error: 'a table of accuracies'
 * @throws UserError naming the file and the place in it that does not fit
 */
export function readJsonFile<T>(path: string, schema: z.ZodType<T>, what: string): T {
  const parsed = schema.safeParse(parseJson(path));
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  throw placed(path, issue?.path ?? [], issue?.message ?? `it is not ${what}`);
}

/** The error of a place in a file. */
export function placed(path: string, place: readonly PropertyKey[], message: string): UserError {
  const at = place.length === 0 ? '' : `, at ${place.map(String).join('.')}`;
  return new UserError(`${path}${at}: ${message}`);
}

function parseJson(path: string): unknown {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (error) {
    throw new UserError(`cannot read ${path}: ${error instanceof Error ? error.message : ''}`);
  }
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new UserError(`${path} is not JSON: ${error instanceof Error ? error.message : ''}`);
  }
}
