import { z } from 'zod';
import { REFRIGERANT_IDS } from '../refrigerant/types.ts';
import { MakersDataSchema } from '../diagnosis/maker.ts';
import { METERING_KINDS, MODES } from '../circuit/types.ts';
import { AccuracySchema, InstantSchema } from './session.ts';
import { CHANNEL_KEYS } from '../stream/channels.ts';

const text = (max: number) => z.string().max(max);
const finite = z.number();

/** Where the work is. Altitude turns gauge into absolute pressure when no barometer is there. */
export const SiteSchema = z.strictObject({
  name: text(200),
  address: text(500),
  altitude_m: finite.min(-500).max(6000).nullable(),
});

/** One refrigerant circuit with its nameplate. Unknown is null, never zero. SI (K, kg, W). */
export const UnitSchema = z.strictObject({
  key: z.string().regex(/^[A-Z][A-Z0-9]{0,3}$/, 'a capital letter, then letters or digits'),
  name: text(200),
  refrigerant: z.enum(REFRIGERANT_IDS),
  metering: z.enum(METERING_KINDS),
  mode: z.enum(MODES),
  nameplate: z.strictObject({
    outdoorModel: text(200),
    outdoorSerial: text(200),
    indoorModel: text(200),
    indoorSerial: text(200),
    charge_kg: finite.positive().max(100).nullable(),
    capacity_W: finite.positive().max(1e6).nullable(),
    targetSubcooling_K: finite.min(0).max(40).nullable(),
    targetSuperheat_K: finite.min(0).max(40).nullable(),
    /** Swept volume of the compressor in time; absent from files of earlier versions. */
    displacement_m3_s: finite.positive().max(1).nullable().default(null),
  }),
  /** A line of the maker's chart for `mode`; absent from files of earlier versions. */
  maker: MakersDataSchema.default({}),
  accuracy: z.partialRecord(z.enum(CHANNEL_KEYS), AccuracySchema),
  minimumRun_s: finite.min(0).max(7200),
});
export type Unit = z.infer<typeof UnitSchema>;

/** A unit of which nothing is known yet but a usual kind. */
export function newUnit(key: string): Unit {
  return {
    key,
    name: '',
    refrigerant: 'R-410A',
    metering: 'txv',
    mode: 'cooling',
    nameplate: {
      outdoorModel: '',
      outdoorSerial: '',
      indoorModel: '',
      indoorSerial: '',
      charge_kg: null,
      capacity_W: null,
      targetSubcooling_K: null,
      targetSuperheat_K: null,
      displacement_m3_s: null,
    },
    maker: {},
    accuracy: {},
    minimumRun_s: 600,
  };
}

/** The head of a job: one call at one site. */
export const JobHeadSchema = z.strictObject({
  id: z.string().min(1),
  title: text(200).min(1),
  site: SiteSchema,
  complaint: text(5000),
  createdAt: InstantSchema,
});
export type JobHead = z.infer<typeof JobHeadSchema>;

/** What a person saw or measured by hand. A few kinds now; the list grows by a row. */
export const FINDING_KINDS = [
  'icedCoil',
  'dirtyFilter',
  'fouledOutdoorCoil',
  'oilTraces',
  'burntContacts',
  'waterDamage',
  'noise',
  'other',
] as const;
export const FindingSchema = z.strictObject({
  id: z.string().min(1),
  /** The unit it concerns, or null for the site. */
  unit: z.string().nullable(),
  kind: z.enum(FINDING_KINDS),
  text: text(5000),
  at: InstantSchema,
  author: text(200),
});
export type Finding = z.infer<typeof FindingSchema>;

/** A free note in the record. */
export const NoteSchema = z.strictObject({
  id: z.string().min(1),
  text: text(20_000).min(1),
  at: InstantSchema,
  author: text(200),
});
export type Note = z.infer<typeof NoteSchema>;

/** One line of the append-only log of who changed what when. */
export const LogEntrySchema = z.strictObject({
  at: InstantSchema,
  author: z.string(),
  what: z.string(),
  detail: z.unknown(),
});
export type LogEntry = z.infer<typeof LogEntrySchema>;
