import { createDecipheriv } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { decodeBthome, type BthomeKey } from '../../core/radio/bthome.ts';
import { judgeBroadcast, type BroadcastMemory } from '../../core/radio/bthome-repeats.ts';
import { fromHex } from '../../core/radio/bytes.ts';
import { PHYSICAL_RANGE, type Measurement } from '../../core/radio/decoded.ts';
import { decodeDescribed } from '../../core/radio/described-value.ts';
import { parseSensorDescription, type DescribedValue } from '../../core/radio/description.ts';
import {
  decodeEsMeasurement,
  decodePresentationFormat,
  decodeText,
} from '../../core/radio/descriptors.ts';
import { decodeBatteryLevel, decodeValidRange } from '../../core/radio/environmental.ts';
import { STANDARD_CHARACTERISTICS } from '../../core/radio/standard.ts';

/** A small repeatable generator (mulberry32). */
function dice(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Packets that are right, to be mutated. */
const GOOD = [
  '02760f00',
  'ca09',
  'bf13',
  '003c',
  '64',
  '006c0100ff',
  '066c0100ffe907060f0e1e2d02',
  '0ed007e907060f0e1e2d01fa00dc05',
  '0000023c00000500001b04',
  '08ff2427010200',
  '60f01027',
  '53756374696f6e',
  '4002c40903bf13',
  '40000701614002c4095303616263f00102',
  '41a47266c95f730011223378237214',
  '43a5808fe64854a47266c95f730011223378237214',
  '010200640001ccf0',
].map((text) => fromHex(text) ?? new Uint8Array());

const KEY: BthomeKey = {
  key: fromHex('231d39c1d7cc1ab1aee224cd096db932') ?? new Uint8Array(),
  address: fromHex('5448e68f80a5'),
  decrypt: ({ key, nonce, ciphertext, tag }) => {
    const decipher = createDecipheriv('aes-128-ccm', Uint8Array.from(key), Uint8Array.from(nonce), {
      authTagLength: 4,
    });
    decipher.setAuthTag(Uint8Array.from(tag));
    const plain = decipher.update(Uint8Array.from(ciphertext));
    try {
      decipher.final();
      return plain;
    } catch {
      return null;
    }
  },
};

/** What a run of packets came to. */
export interface FuzzReport {
  readonly packets: number;
  /** Calls of a decoder; every packet goes through every one of them. */
  readonly calls: number;
  readonly accepted: number;
  /** Up to ten of each, in words. */
  readonly thrown: readonly string[];
  readonly outOfRange: readonly string[];
}

function describedValues(): readonly DescribedValue[] {
  return ['pressure-probe', 'air-broadcast'].flatMap((name) => {
    const file = new URL(`../../fixtures/sensors/${name}.json`, import.meta.url);
    const parsed = parseSensorDescription(readFileSync(file, 'utf8'));
    if (!parsed.ok) throw new Error(`fixture ${name} was refused`);
    return parsed.value.values;
  });
}

function randomPacket(random: () => number): Uint8Array {
  const pick = (n: number) => Math.floor(random() * n);
  if (random() < 0.4) return Uint8Array.from({ length: pick(40) }, () => pick(256));
  const good = GOOD[pick(GOOD.length)] ?? new Uint8Array();
  const packet = Array.from(good);
  for (let i = pick(4); i >= 0; i -= 1) {
    const at = pick(packet.length + 1);
    const how = random();
    if (how < 0.5) packet[at % Math.max(1, packet.length)] = pick(256);
    else if (how < 0.7) packet.splice(at);
    else if (how < 0.85) packet.splice(at, 0, pick(256));
    else packet.push(...Array.from(GOOD[pick(GOOD.length)] ?? []));
  }
  return Uint8Array.from(packet);
}

/**
 * Sends random and mutated packets through every decoder. Half of the packets start from a right
 * one. A packet also sits at an odd offset of a larger buffer, as it does off the air.
 *
 * @param onPacket called with the count, to watch memory
 */
export function fuzzDecoders(
  packets: number,
  seed: number,
  onPacket?: (n: number) => void,
): FuzzReport {
  const random = dice(seed);
  const described = describedValues();
  const thrown: string[] = [];
  const outOfRange: string[] = [];
  let accepted = 0;
  let calls = 0;
  let memory: BroadcastMemory | null = null;

  const check = (name: string, packet: Uint8Array, m: Measurement): void => {
    accepted += 1;
    const [min, max] = PHYSICAL_RANGE[m.quantity];
    const inside = m.value === null || (m.value >= min && m.value <= max);
    if (!inside && outOfRange.length < 10) {
      outOfRange.push(`${name} ${Buffer.from(packet).toString('hex')} -> ${m.value}`);
    }
  };
  const decoders: readonly (readonly [string, (p: Uint8Array) => void])[] = [
    ...Object.entries(STANDARD_CHARACTERISTICS).map(
      ([uuid, c]) =>
        [
          uuid,
          (p: Uint8Array) => {
            const decoded = c.decode(p);
            if (decoded.ok) check(uuid, p, decoded.value.measurement);
            if (c.integer !== null) {
              const range = decodeValidRange(c.integer, p);
              if (range.ok && !(range.value.min <= range.value.max))
                outOfRange.push(`${uuid} range`);
            }
          },
        ] as const,
    ),
    [
      'battery',
      (p) => {
        const level = decodeBatteryLevel(p);
        if (level.ok && !(level.value >= 0 && level.value <= 100)) outOfRange.push('battery');
      },
    ],
    ['0x290C', (p) => void decodeEsMeasurement(p)],
    ['0x2904', (p) => void decodePresentationFormat(p)],
    ['text', (p) => void decodeText(p)],
    ...described.map(
      (value) =>
        [
          value.key,
          (p: Uint8Array) => {
            const decoded = decodeDescribed(value, p);
            if (decoded.ok) check(value.key, p, decoded.value.measurement);
          },
        ] as const,
    ),
    ...[null, KEY].map(
      (key) =>
        [
          key === null ? 'BTHome' : 'BTHome with key',
          (p: Uint8Array) => {
            const decoded = decodeBthome(p, key);
            if (!decoded.ok) return;
            for (const v of decoded.value.values) check('BTHome', p, v.measurement);
            memory = judgeBroadcast(memory, decoded.value, p, calls).memory;
          },
        ] as const,
    ),
  ];

  for (let n = 1; n <= packets; n += 1) {
    const packet = randomPacket(random);
    const larger = new Uint8Array(packet.length + 3);
    larger.set(packet, 1);
    const placed = larger.subarray(1, 1 + packet.length);
    for (const [name, decode] of decoders) {
      calls += 1;
      try {
        decode(placed);
      } catch (error) {
        if (thrown.length < 10) {
          thrown.push(`${name} ${Buffer.from(placed).toString('hex')}: ${String(error)}`);
        }
      }
    }
    onPacket?.(n);
  }
  return { packets, calls, accepted, thrown, outOfRange };
}
