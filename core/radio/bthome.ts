import { fail, ok, type Result } from '../result.ts';
import { BTHOME_OBJECTS, type BthomeObject } from './bthome-objects.ts';
import { has, readInt, readUint, type Bytes } from './bytes.ts';
import { isPhysical, type Measurement } from './decoded.ts';

/** AES-CCM with a 16-byte key, a 13-byte nonce and a 4-byte tag, no associated data. */
export type CcmDecrypt = (input: {
  readonly key: Bytes;
  readonly nonce: Bytes;
  readonly ciphertext: Bytes;
  readonly tag: Bytes;
}) => Bytes | null;

/** What is needed to open an encrypted broadcast. */
export interface BthomeKey {
  /** 16 bytes. */
  readonly key: Bytes;
  /** The sensor's address, 6 bytes in the order people write it; null where it is hidden. */
  readonly address: Bytes | null;
  readonly decrypt: CcmDecrypt;
}

export type BthomeFailure =
  | { readonly code: 'TOO_SHORT'; readonly need: number; readonly have: number }
  | { readonly code: 'UNSUPPORTED_VERSION'; readonly version: number }
  | { readonly code: 'ENCRYPTED' } /* and no key was given */
  | { readonly code: 'NOT_ENCRYPTED' } /* although a key was given: it may be forged */
  | { readonly code: 'ADDRESS_UNKNOWN' }
  | { readonly code: 'DECRYPTION_FAILED' }
  | { readonly code: 'TRUNCATED'; readonly object: number; readonly need: number }
  | { readonly code: 'EMPTY' };

/** One value of a broadcast. `instance` counts objects of the same id from 1. */
export interface BthomeValue {
  readonly object: number;
  readonly instance: number;
  readonly measurement: Measurement;
  /** Set where the number cannot be true (a temperature below absolute zero, 200 % humidity). */
  readonly implausible: boolean;
}

export interface BthomePacket {
  readonly encrypted: boolean;
  /** The sensor sends only on an event, so that silence is not a loss. */
  readonly onTrigger: boolean;
  readonly packetId: number | null;
  /** The counter of an encrypted broadcast. */
  readonly counter: number | null;
  readonly battery_percent: number | null;
  readonly values: readonly BthomeValue[];
  /** The first object id that is not in our table; what follows it could not be read. */
  readonly unknownObject: number | null;
}

const VERSION = 2;
/** Counter and tag, at the end of an encrypted broadcast. */
const TRAILER = 8;

/**
 * BTHome v2 service data (UUID 0xFCD2, without the UUID): a device information byte (bit 0
 * encrypted, bit 1 the address follows, bit 2 on trigger, bits 5-7 version), then objects of one id
 * byte and their data. Encrypted: ciphertext, 4-byte counter, 4-byte tag; the nonce is address,
 * UUID, device information byte and counter (https://bthome.io/encryption).
 *
 * A packet that breaks off inside an object is refused as a whole: a radio packet arrives whole or
 * not at all, so a broken one was built wrongly. An unknown object ends the reading, as the format
 * asks, and keeps what came before it. With a key, plaintext is refused.
 */
export function decodeBthome(
  bytes: Bytes,
  key: BthomeKey | null,
): Result<BthomePacket, BthomeFailure> {
  if (!has(bytes, 0, 1)) return fail({ code: 'TOO_SHORT', need: 1, have: 0 });
  const info = readUint(bytes, 0, 1);
  const version = info >> 5;
  if (version !== VERSION) return fail({ code: 'UNSUPPORTED_VERSION', version });
  const start = info & 0x02 ? 7 : 1;
  if (!has(bytes, 0, start)) {
    return fail({ code: 'TOO_SHORT', need: start, have: bytes.byteLength });
  }
  const sent = start === 7 ? Uint8Array.from(bytes.subarray(1, 7)).reverse() : null;
  const encrypted = (info & 0x01) !== 0;
  if (!encrypted && key !== null) return fail({ code: 'NOT_ENCRYPTED' });
  const opened = encrypted
    ? open(bytes.subarray(start), info, key, sent)
    : ok({ plain: bytes.subarray(start), counter: null });
  if (!opened.ok) return opened;
  const objects = readObjects(opened.value.plain);
  if (!objects.ok) return objects;
  return ok({
    encrypted,
    onTrigger: (info & 0x04) !== 0,
    counter: opened.value.counter,
    ...objects.value,
  });
}

function open(
  body: Bytes,
  info: number,
  key: BthomeKey | null,
  sentAddress: Bytes | null,
): Result<{ plain: Bytes; counter: number }, BthomeFailure> {
  if (key === null) return fail({ code: 'ENCRYPTED' });
  if (body.byteLength <= TRAILER) {
    return fail({ code: 'TOO_SHORT', need: TRAILER + 1, have: body.byteLength });
  }
  // The address that the radio saw counts, not the one the packet claims.
  const address = key.address ?? sentAddress;
  if (address?.byteLength !== 6) return fail({ code: 'ADDRESS_UNKNOWN' });
  const end = body.byteLength - TRAILER;
  const counter = body.subarray(end, end + 4);
  const plain = key.decrypt({
    key: key.key,
    nonce: Uint8Array.from([...address, 0xd2, 0xfc, info, ...counter]),
    ciphertext: body.subarray(0, end),
    tag: body.subarray(end + 4),
  });
  return plain === null
    ? fail({ code: 'DECRYPTION_FAILED' })
    : ok({ plain, counter: readUint(counter, 0, 4) });
}

type Objects = Pick<BthomePacket, 'packetId' | 'battery_percent' | 'values' | 'unknownObject'>;

function readObjects(bytes: Bytes): Result<Objects, BthomeFailure> {
  const values: BthomeValue[] = [];
  const seen = new Map<number, number>();
  let packetId: number | null = null;
  let battery: number | null = null;
  let unknownObject: number | null = null;
  let at = 0;
  if (bytes.byteLength === 0) return fail({ code: 'EMPTY' });
  while (at < bytes.byteLength) {
    const id = readUint(bytes, at, 1);
    const object = BTHOME_OBJECTS[id];
    if (object === undefined) {
      unknownObject = id;
      break;
    }
    const data = at + (object.length === null ? 2 : 1);
    const length = object.length ?? readUint(bytes, at + 1, 1);
    if (!has(bytes, data, length)) return fail({ code: 'TRUNCATED', object: id, need: length });
    const instance = (seen.get(id) ?? 0) + 1;
    seen.set(id, instance);
    if (id === 0x00) packetId = readUint(bytes, data, 1);
    else if (id === 0x01) battery = percent(readUint(bytes, data, 1));
    else if (object.quantity !== undefined)
      values.push(readValue(bytes, data, id, object, instance));
    at = data + length;
  }
  return ok({ packetId, battery_percent: battery, values, unknownObject });
}

const percent = (raw: number): number | null => (raw <= 100 ? raw : null);

function readValue(
  bytes: Bytes,
  at: number,
  id: number,
  object: BthomeObject,
  instance: number,
): BthomeValue {
  const quantity = object.quantity ?? 'temperature';
  const read = object.signed === true ? readInt : readUint;
  const raw = read(bytes, at, (object.length ?? 1) as 1 | 2 | 3);
  const value = raw * (object.factor ?? 1) * (object.scale ?? 1) + (object.offset ?? 0);
  const plausible = isPhysical(quantity, value);
  return {
    object: id,
    instance,
    measurement: { quantity, value: plausible ? value : null },
    implausible: !plausible,
  };
}
