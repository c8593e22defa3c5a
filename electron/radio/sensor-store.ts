import { mkdirSync, readFileSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { AccuracySchema } from '../../core/record/session.ts';
import { SensorDescriptionSchema } from '../../core/radio/description.ts';
import { CHANNEL_KEYS } from '../../core/stream/channels.ts';
import { writeAtomically } from '../services/atomic-file.ts';

const channelKey = z.enum(CHANNEL_KEYS);
const quantity = z.enum([
  'pressure',
  'temperature',
  'humidity',
  'current',
  'voltage',
  'vacuum',
  'mass',
]);

/** The zero that a check found: taken off every value. */
const ZeroSchema = z.strictObject({
  offset_Pa: z.number(),
  /** ISO 8601, when the check was made. */
  at: z.string().min(1),
  samples: z.number().int().positive(),
});

/** One value of a remembered sensor: what it is assigned to and how it is corrected. */
const RememberedValueSchema = z.strictObject({
  /** `181a/2a6d/<what tells it apart, or 1, 2...>`, `bthome/02/1`, or `described/<key>`. */
  key: z.string().min(1).max(128),
  label: z.string().min(1).max(120),
  quantity,
  assigned: z.strictObject({ unit: z.string().min(1), channel: channelKey }).nullable(),
  reference: z.enum(['gauge', 'absolute']).nullable(),
  zero: ZeroSchema.nullable(),
  accuracy: AccuracySchema.nullable(),
});

/** A sensor the user added. */
export const SensorRecordSchema = z.strictObject({
  id: z.string().min(1).max(128),
  name: z.string().min(1).max(80),
  address: z
    .string()
    .regex(/^[0-9a-f]{12}$/)
    .nullable(),
  reach: z.enum(['link', 'broadcast']),
  /** The key of encrypted broadcasts, 32 hexadecimal digits. */
  bindKey: z
    .string()
    .regex(/^[0-9a-f]{32}$/)
    .nullable(),
  description: SensorDescriptionSchema.nullable(),
  values: z.array(RememberedValueSchema).max(64),
  addedAt: z.string().min(1),
});
export type SensorRecord = z.infer<typeof SensorRecordSchema>;
export type RememberedValue = SensorRecord['values'][number];

const FileSchema = z.strictObject({
  format: z.literal('sensor-memory'),
  version: z.literal(1),
  sensors: z.array(SensorRecordSchema).max(200),
});

const FILE = 'sensors.json';

/** What the rest of the radio needs of the memory. */
export interface SensorMemory {
  all(): readonly SensorRecord[];
  get(id: string): SensorRecord | null;
  onChange(fn: () => void): () => void;
}

/**
 * The sensors a person added, in one JSON file of the data folder. Every change is on the disk when
 * the call returns; a power cut leaves the old file or the new one. A file that cannot be read is set
 * aside under another name, never overwritten.
 */
export class SensorStore implements SensorMemory {
  readonly #path: string;
  readonly #listeners = new Set<() => void>();
  #sensors: readonly SensorRecord[];
  /** What was wrong with the file at opening, in words; null where nothing was. */
  readonly problem: string | null;

  private constructor(path: string, sensors: readonly SensorRecord[], problem: string | null) {
    this.#path = path;
    this.#sensors = sensors;
    this.problem = problem;
  }

  /**
   * Opens the memory in a folder, which is made where it is missing.
   *
   * @throws Error where the folder cannot be made or the file cannot be read or set aside
   */
  static open(folder: string): SensorStore {
    mkdirSync(folder, { recursive: true });
    const path = join(folder, FILE);
    let text: string;
    try {
      text = readFileSync(path, 'utf8');
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT')
        return new SensorStore(path, [], null);
      throw error;
    }
    const read = parseFile(text);
    if (typeof read !== 'string') return new SensorStore(path, read, null);
    const aside = `${path}.damaged-${Date.now()}`;
    renameSync(path, aside);
    const problem = `The sensor memory could not be read (${read}). It was kept as ${aside}; sensors must be added again.`;
    return new SensorStore(path, [], problem);
  }

  all(): readonly SensorRecord[] {
    return this.#sensors;
  }

  get(id: string): SensorRecord | null {
    return this.#sensors.find((s) => s.id === id) ?? null;
  }

  /**
   * Adds a sensor or replaces what is remembered of it.
   *
   * @throws Error when the disk says no; the memory is then as before
   */
  put(record: SensorRecord): void {
    const parsed = SensorRecordSchema.parse(record);
    this.#change([...this.#sensors.filter((s) => s.id !== parsed.id), parsed]);
  }

  /**
   * Forgets a sensor.
   *
   * @throws Error when the disk says no; the memory is then as before
   */
  remove(id: string): void {
    this.#change(this.#sensors.filter((s) => s.id !== id));
  }

  onChange(fn: () => void): () => void {
    this.#listeners.add(fn);
    return () => this.#listeners.delete(fn);
  }

  #change(sensors: readonly SensorRecord[]): void {
    const text = JSON.stringify({ format: 'sensor-memory', version: 1, sensors }, null, 2);
    // Only the user may read it: it can hold the keys of encrypted sensors.
    writeAtomically(this.#path, `${text}\n`, 0o600);
    this.#sensors = sensors;
    for (const fn of [...this.#listeners]) fn();
  }
}

function parseFile(text: string): readonly SensorRecord[] | string {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    return error instanceof Error ? error.message : 'not JSON';
  }
  const parsed = FileSchema.safeParse(json);
  if (parsed.success) return parsed.data.sensors;
  const [issue] = parsed.error.issues;
  return issue === undefined
    ? 'not in the form expected'
    : `${issue.path.join('.')}: ${issue.message}`;
}
