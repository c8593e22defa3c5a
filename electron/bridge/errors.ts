/**
 * Failures that cross the bridge: a code and fields; `say` puts them into words. The closed list
 * of codes and their text stands here and nowhere else.
 */
export const FAILURE_TEXT = {
  BAD_ARGUMENTS: (f: Fields) => `The command ${f['command']} was called wrongly: ${f['detail']}`,
  UNKNOWN_COMMAND: (f: Fields) => `There is no command ${f['command']}.`,
  NO_JOB: () => 'No job is open. Open or create one first.',
  NO_SESSION: () => 'No session is running.',
  SESSION_RUNNING: () => 'A session is already running. Stop it first.',
  UNKNOWN_UNIT: (f: Fields) => `There is no unit ${f['unit']} in this job.`,
  UNKNOWN_SESSION: (f: Fields) => `There is no session ${f['session']} in this job.`,
  UNKNOWN_SNAPSHOT: (f: Fields) => `There is no snapshot ${f['snapshot']} in this job.`,
  NOT_STEERABLE: (f: Fields) => `This source cannot ${f['action']}.`,
  SNAPSHOT_REFUSED: (f: Fields) => `No snapshot: ${f['detail']}`,
  JOB_REFUSED: (f: Fields) => `The file ${f['file']} was refused: ${f['detail']}`,
  CSV_REFUSED: (f: Fields) => `The table was refused: ${f['detail']}`,
  SCENARIO_REFUSED: (f: Fields) => `The scenario was refused: ${f['detail']}`,
  SENSOR_REFUSED: (f: Fields) => `The sensor: ${f['detail']}.`,
  IO: (f: Fields) => `The disk said no: ${f['detail']}`,
  DISCONNECTED: () =>
    'The connection to the program broke. Whether the command was done is not known.',
  INTERNAL: (f: Fields) => `The program failed inside: ${f['detail']}. The log has more.`,
} as const;

type Fields = Readonly<Record<string, string | number>>;
export type FailureCode = keyof typeof FAILURE_TEXT;

/** A failure as data. */
export interface Failure {
  readonly code: FailureCode;
  readonly fields: Fields;
}

/** Builds a failure. */
export function failure(code: FailureCode, fields: Fields = {}): Failure {
  return { code, fields };
}

/** A failure in words, for a person. */
export function say(f: Failure): string {
  return FAILURE_TEXT[f.code](f.fields);
}
