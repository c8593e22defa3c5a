import { z } from 'zod';
import { fail, ok, type Result } from '../result.ts';
import { CHANNEL_KEYS, channelRow } from '../stream/channels.ts';
import { isGauge, UNIT_SYMBOLS, unitFits, type UnitSymbol } from '../units/symbols.ts';
import { normaliseUuid } from './uuid.ts';

/** The number formats a description may name. */
export const RAW_TYPES = [
  'uint8',
  'uint16',
  'uint24',
  'uint32',
  'sint8',
  'sint16',
  'sint24',
  'sint32',
  'float32',
  'float64',
  'ieee11073Float',
  'ieee11073ShortFloat',
] as const;
export type RawType = (typeof RAW_TYPES)[number];
/** Those of them that are whole numbers: what a counter can be. */
const COUNTER_TYPES = RAW_TYPES.filter((type) => /^[us]int/.test(type));

/** Zod 4 numbers are finite by themselves. */
const finite = z.number();
const uuid = z.string().transform((text, context) => {
  const normal = normaliseUuid(text);
  if (normal === null) {
    context.addIssue({
      code: 'custom',
      message: `"${text}" is not a UUID; write four hex digits (2A6D) or the long form with hyphens`,
    });
    return z.NEVER;
  }
  return normal;
});
const unitSymbol = z.enum(Object.keys(UNIT_SYMBOLS) as UnitSymbol[]);
const channelKey = z.enum(CHANNEL_KEYS);
const byteOffset = z.number().int().min(0).max(511);

/** Where the bytes of a value come from. */
const FromSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('characteristic'),
    service: uuid,
    characteristic: uuid,
    /** Which one, counted from 1 in the order of the table, where several share the UUID. */
    instance: z.number().int().min(1).max(64).default(1),
    /** Wait for the sensor to send, or ask for it. */
    how: z.enum(['subscribe', 'poll']).default('subscribe'),
    /** Seconds between reads when asking. */
    pollPeriod: finite.min(0.1).max(600).default(1),
  }),
  z.strictObject({ kind: z.literal('serviceData'), service: uuid }),
  z.strictObject({
    kind: z.literal('manufacturerData'),
    /** Company identifier; the bytes counted are those after it. */
    company: z.number().int().min(0).max(0xffff),
  }),
]);

const FieldSchema = z.strictObject({
  byte: byteOffset,
  type: z.enum(RAW_TYPES),
  endian: z.enum(['little', 'big']).default('little'),
});

/** Accuracy as data sheets give it; `ofReading` and `ofFullScale` are fractions (0.01 is 1 %). */
const DescribedAccuracySchema = z
  .strictObject({
    ofReading: finite.min(0).max(1).optional(),
    ofFullScale: finite.min(0).max(1).optional(),
    /** In the unit of the value. Needed with `ofFullScale`. */
    fullScale: finite.positive().optional(),
    /** In the unit of the value, as a difference. */
    absolute: finite.min(0).optional(),
  })
  .refine((a) => a.ofFullScale === undefined || a.fullScale !== undefined, {
    message: 'ofFullScale needs fullScale beside it',
    path: ['fullScale'],
  })
  .refine((a) => [a.ofReading, a.ofFullScale, a.absolute].some((part) => part !== undefined), {
    message: 'give at least one of ofReading, ofFullScale, absolute',
  });

const ValueSchema = z
  .strictObject({
    key: z.string().regex(/^[A-Za-z][A-Za-z0-9_-]{0,31}$/, 'a short name of letters and digits'),
    label: z.string().min(1).max(80),
    from: FromSchema,
    ...FieldSchema.shape,
    /** Value in `unit` = raw * scale + offset. */
    scale: finite.default(1),
    offset: finite.default(0),
    unit: unitSymbol,
    /** For a pressure: above the atmosphere, or above vacuum. Required for pressures. */
    reference: z.enum(['gauge', 'absolute']).optional(),
    /** Raw values by which the sensor says "not known". */
    notKnown: z.array(finite).max(16).default([]),
    /** Limits of what the sensor can measure, in `unit`; outside is treated as garbage. */
    min: finite.optional(),
    max: finite.optional(),
    channelHint: channelKey.optional(),
    accuracy: DescribedAccuracySchema.optional(),
    /** The sensor's own counter and clock in the same bytes, where it has them. */
    sequence: FieldSchema.refine((field) => COUNTER_TYPES.includes(field.type), {
      message: `a counter is a whole number: ${COUNTER_TYPES.join(', ')}`,
      path: ['type'],
    }).optional(),
    deviceTime: FieldSchema.extend({ scale: finite.positive().default(1) }).optional(),
  })
  .superRefine((v, context) => {
    const issue = (path: string, message: string) =>
      context.addIssue({ code: 'custom', path: [path], message });
    const pressure = unitFits(v.unit, 'pressure');
    if (pressure && v.reference === undefined) {
      issue('reference', 'a pressure needs "reference": "gauge" or "absolute"');
    }
    if (!pressure && v.reference !== undefined)
      issue('reference', 'only a pressure has a reference');
    if (isGauge(v.unit) && v.reference === 'absolute') {
      issue('reference', `${v.unit} is a gauge unit; write psia, kPa, bar or Pa for absolute`);
    }
    if (v.unit === 'psia' && v.reference === 'gauge') {
      issue('reference', 'psia is absolute; write psig for gauge');
    }
    if (v.scale === 0) issue('scale', 'a scale of 0 makes every value the same');
    if (v.min !== undefined && v.max !== undefined && v.min >= v.max) {
      issue('max', `max ${v.max} must be above min ${v.min}`);
    }
    if (v.channelHint !== undefined && !unitFits(v.unit, channelRow(v.channelHint).quantity)) {
      issue('channelHint', `${v.channelHint} does not take ${v.unit}`);
    }
  });

/** A sensor description file. See the README of this room for an example and every field. */
export const SensorDescriptionSchema = z
  .strictObject({
    format: z.literal('sensor-description'),
    version: z.literal(1),
    name: z.string().min(1).max(80),
    /** How the sensor is recognised; every condition that is given must hold. */
    match: z
      .strictObject({
        nameStartsWith: z.string().min(1).max(80).optional(),
        service: uuid.optional(),
        company: z.number().int().min(0).max(0xffff).optional(),
      })
      .refine((m) => Object.values(m).some((condition) => condition !== undefined), {
        message: 'give at least one of nameStartsWith, service, company',
      }),
    values: z.array(ValueSchema).min(1).max(32),
  })
  .superRefine((d, context) => {
    d.values.forEach((value, i) => {
      if (d.values.findIndex((other) => other.key === value.key) < i) {
        context.addIssue({
          code: 'custom',
          path: ['values', i, 'key'],
          message: `"${value.key}" is used twice`,
        });
      }
    });
  });

export type SensorDescription = z.infer<typeof SensorDescriptionSchema>;
export type DescribedValue = SensorDescription['values'][number];
export type DescribedField = z.infer<typeof FieldSchema>;

/** What is wrong in a description, and where: `values[0].unit`. */
export interface DescriptionIssue {
  readonly path: string;
  readonly message: string;
}
export type DescriptionFailure =
  | { readonly code: 'NOT_JSON'; readonly message: string }
  | { readonly code: 'BAD_DESCRIPTION'; readonly issues: readonly DescriptionIssue[] };

/** Reads a description from the text of its file. */
export function parseSensorDescription(
  text: string,
): Result<SensorDescription, DescriptionFailure> {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    return fail({ code: 'NOT_JSON', message: error instanceof Error ? error.message : 'not JSON' });
  }
  const parsed = SensorDescriptionSchema.safeParse(json);
  if (parsed.success) return ok(parsed.data);
  return fail({
    code: 'BAD_DESCRIPTION',
    issues: parsed.error.issues.map((i) => ({ path: pathText(i.path), message: i.message })),
  });
}

function pathText(path: readonly PropertyKey[]): string {
  let text = '';
  for (const part of path) {
    text += typeof part === 'number' ? `[${part}]` : `${text === '' ? '' : '.'}${String(part)}`;
  }
  return text === '' ? '(the whole file)' : text;
}

/** What an advertisement tells about a sensor, as far as descriptions look at it. */
export interface SeenAs {
  readonly name: string | null;
  readonly services: readonly string[];
  readonly company: number | null;
}

/** Whether a description is meant for what was seen. */
export function describes(description: SensorDescription, seen: SeenAs): boolean {
  const { nameStartsWith, service, company } = description.match;
  return (
    (nameStartsWith === undefined || (seen.name?.startsWith(nameStartsWith) ?? false)) &&
    (service === undefined || seen.services.includes(service)) &&
    (company === undefined || seen.company === company)
  );
}
