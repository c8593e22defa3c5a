import { z } from 'zod';
import { CHANNEL_KEYS } from '../stream/channels.ts';
import { REFRIGERANT_IDS } from '../refrigerant/types.ts';
import { JUDGED } from '../circuit/judged.ts';
import { MARKS, METERING_KINDS, MODES } from '../circuit/types.ts';

/** Where samples come from. 'simulated' is shown as SIMULATED everywhere. */
export const SOURCE_KINDS = ['simulated', 'file', 'replay', 'manual', 'radio'] as const;
export type SourceKind = (typeof SOURCE_KINDS)[number];

const finite = z.number();
const channelKey = z.enum(CHANNEL_KEYS);
/** A moment of wall-clock time: ISO 8601 with its zone, without which it is no moment. */
export const InstantSchema = z.iso.datetime({ offset: true });

/** The stored form of core/circuit/types.ts `Accuracy`; one that says nothing is not a perfect sensor. */
export const AccuracySchema = z
  .strictObject({
    ofReading: finite.min(0).max(1).optional(),
    ofFullScale: z
      .strictObject({ fraction: finite.min(0).max(1), fullScale: finite.positive() })
      .optional(),
    absolute: finite.min(0).optional(),
  })
  .refine((a) => Object.values(a).some((part) => part !== undefined), {
    message: 'an accuracy states at least one of its parts',
  });

/** The stored form of core/engine-types.ts `EngineConfig`. */
export const EngineConfigSchema = z.strictObject({
  refrigerant: z.enum(REFRIGERANT_IDS),
  metering: z.enum(METERING_KINDS),
  mode: z.enum(MODES),
  atmosphere: z.strictObject({
    pressure: finite.min(4e4).max(1.1e5),
    kind: z.enum(['measured', 'altitude', 'assumed']),
  }),
  gauge: z.strictObject({ channels: z.array(channelKey), convertedWith: finite.positive() }),
  accuracy: z.partialRecord(channelKey, AccuracySchema),
  offsets: z.partialRecord(channelKey, finite),
  minimumRun: finite.min(0).max(7200),
  tolerances: z.partialRecord(z.enum(JUDGED), finite.positive()),
  marks: z.array(z.enum(MARKS)),
});

/** One recording: samples of one or more units from one source. */
export const SessionSchema = z.strictObject({
  id: z.string().min(1),
  /** Wall-clock time of t = 0. */
  origin: InstantSchema,
  endedAt: InstantSchema.nullable(),
  source: z.strictObject({
    kind: z.enum(SOURCE_KINDS),
    /** What a person would call it: scenario title, file name. */
    label: z.string(),
    /** What was left out of it or cannot be used, with its place; absent where nothing is. */
    notes: z.array(z.string()).optional(),
  }),
  units: z
    .array(z.strictObject({ unit: z.string().min(1), config: EngineConfigSchema }))
    .min(1)
    .refine((units) => new Set(units.map(({ unit }) => unit)).size === units.length, {
      message: 'a unit stands in a session once',
    }),
  programVersion: z.string(),
});
export type Session = z.infer<typeof SessionSchema>;
