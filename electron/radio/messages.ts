import { z } from 'zod';

/**
 * What the program and its radio process say to each other. The radio process only moves bytes and
 * stamps them; everything that has meaning is decided on the program's side. Bytes travel as
 * hexadecimal text, which every kind of channel carries unchanged.
 */

const id = z.string().min(1).max(128);
const uuid = z.string().regex(/^[0-9a-f]{4}$|^[0-9a-f]{32}$/);
const hex = z
  .string()
  .max(2048)
  .regex(/^(?:[0-9a-f]{2})*$/);
/** Seconds of the machine's monotonic clock, which both processes share. */
const seconds = z.number().nonnegative();
const dBm = z.number().int().min(-127).max(127);

/** How a characteristic is to be followed. */
const FollowSchema = z.strictObject({
  service: uuid,
  characteristic: uuid,
  instance: z.number().int().min(1).max(64),
  how: z.enum(['subscribe', 'poll']),
  pollPeriod: z.number().min(0.1).max(600),
});

/** A sensor to hold a link to. */
const TargetSchema = z.strictObject({
  id,
  /** Characteristics beside the standard ones, which are always followed. */
  follow: z.array(FollowSchema).max(64),
});

/** What the program asks of the radio process. */
export const RequestSchema = z.discriminatedUnion('type', [
  /** Search for sensors; broadcasts are heard in any case while `listen` is set. */
  z.strictObject({ type: z.literal('scan'), on: z.boolean() }),
  /** Everything to hold a link to, and whether broadcasts are wanted; replaces what was asked. */
  z.strictObject({
    type: z.literal('targets'),
    links: z.array(TargetSchema).max(64),
    listen: z.boolean(),
  }),
  /** Break all links and end. */
  z.strictObject({ type: z.literal('end') }),
]);
export type Request = z.infer<typeof RequestSchema>;
export type Target = z.infer<typeof TargetSchema>;
export type Follow = z.infer<typeof FollowSchema>;

/** The adapter's state; `absent` where there is none or it could not be loaded. */
export const ADAPTER_STATES = [
  'unknown',
  'absent',
  'off',
  'unauthorized',
  'unsupported',
  'resetting',
  'on',
] as const;
export type AdapterState = (typeof ADAPTER_STATES)[number];

const CharacteristicSchema = z.strictObject({
  service: uuid,
  characteristic: uuid,
  /** Counts the characteristics of one UUID in one service UUID from 1, in the table's order. */
  instance: z.number().int().min(1).max(64),
  notifies: z.boolean(),
  reads: z.boolean(),
  /** Descriptor UUID to its value. */
  descriptors: z.record(uuid, hex),
  /** The value at discovery, of characteristics that are read once (texts). */
  value: hex.nullable(),
});
export type FoundCharacteristic = z.infer<typeof CharacteristicSchema>;

/** What the radio process tells. */
export const NoticeSchema = z.discriminatedUnion('type', [
  z.strictObject({
    type: z.literal('adapter'),
    state: z.enum(ADAPTER_STATES),
    detail: z.string().max(500),
  }),
  /** Sent every second; its absence means that the process hangs. */
  z.strictObject({ type: z.literal('alive'), t: seconds }),
  z.strictObject({
    type: z.literal('advertisement'),
    id,
    t: seconds,
    /** Six bytes as people write them; null where the system hides it. */
    address: z
      .string()
      .regex(/^[0-9a-f]{12}$/)
      .nullable(),
    name: z.string().max(300).nullable(),
    rssi: dBm.nullable(),
    connectable: z.boolean(),
    services: z.array(uuid).max(64),
    serviceData: z.array(z.strictObject({ uuid, data: hex })).max(32),
    /** With the company number in its first two bytes. */
    manufacturerData: hex.nullable(),
  }),
  z.strictObject({
    type: z.literal('link'),
    id,
    t: seconds,
    state: z.enum(['connecting', 'connected', 'lost', 'failed']),
    reason: z.string().max(300),
  }),
  z.strictObject({
    type: z.literal('table'),
    id,
    characteristics: z.array(CharacteristicSchema).max(256),
  }),
  z.strictObject({
    type: z.literal('value'),
    id,
    t: seconds,
    service: uuid,
    characteristic: uuid,
    instance: z.number().int().min(1).max(64),
    data: hex,
  }),
  z.strictObject({ type: z.literal('rssi'), id, rssi: dBm }),
]);
export type Notice = z.infer<typeof NoticeSchema>;
export type NoticeOf<T extends Notice['type']> = Extract<Notice, { type: T }>;
