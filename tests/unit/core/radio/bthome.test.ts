import { createCipheriv, createDecipheriv } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { decodeBthome, type BthomeKey, type CcmDecrypt } from '../../../../core/radio/bthome.ts';
import { judgeBroadcast, type BroadcastMemory } from '../../../../core/radio/bthome-repeats.ts';
import { fromHex } from '../../../../core/radio/bytes.ts';

const hex = (text: string) => fromHex(text.replaceAll(' ', ''))!;

const decrypt: CcmDecrypt = ({ key, nonce, ciphertext, tag }) => {
  const decipher = createDecipheriv('aes-128-ccm', Uint8Array.from(key), Uint8Array.from(nonce), {
    authTagLength: 4,
  });
  decipher.setAuthTag(Uint8Array.from(tag));
  try {
    const plain = decipher.update(Uint8Array.from(ciphertext));
    decipher.final();
    return plain;
  } catch {
    return null;
  }
};

/** The worked example of https://bthome.io/encryption. */
const EXAMPLE: BthomeKey = {
  key: hex('231d39c1d7cc1ab1aee224cd096db932'),
  address: hex('5448e68f80a5'),
  decrypt,
};
const EXAMPLE_PACKET = '41 a47266c95f73 00112233 78237214';

const values = (text: string, key: BthomeKey | null = null) => {
  const decoded = decodeBthome(hex(text), key);
  if (!decoded.ok) return decoded.error.code;
  return decoded.value.values.map((v) => [v.object, v.instance, v.measurement.value]);
};

describe('BTHome v2, plain', () => {
  it('reads the example of https://bthome.io/format: 25.00 °C and 50.55 %', () => {
    const decoded = decodeBthome(hex('40 02c409 03bf13'), null);
    expect(decoded).toMatchObject({
      value: { encrypted: false, onTrigger: false, packetId: null },
    });
    expect(values('40 02c409 03bf13')).toEqual([
      [0x02, 1, expect.closeTo(298.15, 9)],
      [0x03, 1, expect.closeTo(0.5055, 9)],
    ]);
  });

  it.each([
    // Examples of the table at https://bthome.io/format.
    ['04138a01', 100_883],
    ['065e1f', 80.3],
    ['073e1d', 74.86 * 0.45359237],
    ['0c020c', 3.074],
    ['434e34', 13.39],
    ['451101', 273.15 + 27.3],
    ['4a020c', 307.4],
    ['2e23', 0.35],
    ['57ea', 273.15 - 22],
    ['58ea', 273.15 - 7.7],
    ['5d02ea', -5.63],
  ])('reads %s as %d', (object, si) => {
    expect(values(`40 ${object}`)).toEqual([
      [Number.parseInt(object.slice(0, 2), 16), 1, expect.closeTo(si, 6)],
    ]);
  });

  it('tells several objects of one id apart and steps over what it does not use', () => {
    expect(values('40 0007 0161 02c409 02d209 1001 53 03 616263 04138a01')).toEqual([
      [0x02, 1, expect.closeTo(298.15, 6)],
      [0x02, 2, expect.closeTo(298.29, 6)],
      [0x04, 1, expect.closeTo(100_883, 6)],
    ]);
    expect(decodeBthome(hex('44 0007 0161'), null)).toMatchObject({
      value: { onTrigger: true, packetId: 7, battery_percent: 97, values: [] },
    });
  });

  it('keeps what came before an unknown object', () => {
    expect(decodeBthome(hex('40 02c409 e5 0102'), null)).toMatchObject({
      value: { unknownObject: 0xe5, values: [{ object: 2 }] },
    });
  });

  it('refuses what the format forbids', () => {
    expect(values('')).toBe('TOO_SHORT');
    expect(values('40')).toBe('EMPTY');
    expect(values('20 02c409')).toBe('UNSUPPORTED_VERSION');
    expect(values('40 02c4')).toBe('TRUNCATED');
    expect(values('40 53')).toBe('TRUNCATED');
    expect(values('40 53 05 6162')).toBe('TRUNCATED');
    expect(values('42 010203')).toBe('TOO_SHORT');
  });

  it('marks a number that cannot be true as a gap, not as a value', () => {
    expect(decodeBthome(hex('40 020080 03ffff'), null)).toMatchObject({
      value: {
        values: [
          { measurement: { quantity: 'temperature', value: null }, implausible: true },
          { measurement: { quantity: 'humidity', value: null }, implausible: true },
        ],
      },
    });
    expect(decodeBthome(hex('40 01ff'), null)).toMatchObject({ value: { battery_percent: null } });
  });
});

describe('BTHome v2, encrypted', () => {
  it('opens the worked example of https://bthome.io/encryption: 25.06 °C and 50.55 %', () => {
    expect(values(EXAMPLE_PACKET, EXAMPLE)).toEqual([
      [0x02, 1, expect.closeTo(298.21, 9)],
      [0x03, 1, expect.closeTo(0.5055, 9)],
    ]);
    expect(decodeBthome(hex(EXAMPLE_PACKET), EXAMPLE)).toMatchObject({
      value: { encrypted: true, counter: 0x33221100 },
    });
  });

  it('uses the address in the packet only where the radio hides it', () => {
    const nonce = hex('5448e68f80a5 d2fc 43 05000000');
    const cipher = createCipheriv('aes-128-ccm', Uint8Array.from(EXAMPLE.key), nonce, {
      authTagLength: 4,
    });
    const body = cipher.update(hex('02ca09'));
    cipher.final();
    const packet = `43 a5808fe64854 ${body.toString('hex')} 05000000 ${cipher.getAuthTag().toString('hex')}`;
    expect(values(packet, { ...EXAMPLE, address: null })).toHaveLength(1);
    expect(values(packet, { ...EXAMPLE, address: hex('000000000000') })).toBe('DECRYPTION_FAILED');
    expect(values(EXAMPLE_PACKET, { ...EXAMPLE, address: null })).toBe('ADDRESS_UNKNOWN');
  });

  it('refuses a wrong key, a changed bit, a missing key, plaintext, and a stub', () => {
    expect(values(EXAMPLE_PACKET, { ...EXAMPLE, key: new Uint8Array(16) })).toBe(
      'DECRYPTION_FAILED',
    );
    const bytes = hex(EXAMPLE_PACKET);
    for (let bit = 8; bit < 8 * bytes.length; bit += 1) {
      const changed = Uint8Array.from(bytes);
      changed[bit >> 3]! ^= 1 << (bit & 7);
      expect(decodeBthome(changed, EXAMPLE)).toMatchObject({
        error: { code: 'DECRYPTION_FAILED' },
      });
    }
    expect(values(EXAMPLE_PACKET)).toBe('ENCRYPTED');
    expect(values('40 02c409', EXAMPLE)).toBe('NOT_ENCRYPTED');
    expect(values('41 0011223378237214', EXAMPLE)).toBe('TOO_SHORT');
  });
});

describe('repeated broadcasts', () => {
  const judge = (memory: BroadcastMemory | null, text: string, t: number) => {
    const bytes = hex(text);
    const packet = decodeBthome(bytes, null);
    if (!packet.ok) throw new Error(packet.error.code);
    return judgeBroadcast(memory, packet.value, bytes, t);
  };

  it('takes one reading from many copies with a packet id, however long they go on', () => {
    const first = judge(null, '40 0001 02c409', 0);
    expect(first.verdict).toBe('new');
    expect(judge(first.memory, '40 0001 02c409', 0.1).verdict).toBe('repeat');
    expect(judge(first.memory, '40 0001 02c409', 100).verdict).toBe('repeat');
    expect(judge(first.memory, '40 0002 02c409', 0.2).verdict).toBe('new');
  });

  it('without packet id, takes an equal copy as new after four seconds only', () => {
    const first = judge(null, '40 02c409', 0);
    expect(judge(first.memory, '40 02c409', 3.9).verdict).toBe('repeat');
    expect(judge(first.memory, '40 02c409', 4.1).verdict).toBe('new');
    expect(judge(first.memory, '40 02c509', 0.1).verdict).toBe('new');
  });

  it('refuses an encrypted broadcast that counts backwards, unless the sensor restarted', () => {
    const at = (counter: number, t: number): BroadcastMemory => ({
      t,
      packetId: null,
      counter,
      payload: String(counter),
    });
    const decoded = decodeBthome(hex(EXAMPLE_PACKET), EXAMPLE);
    const packet = decoded.ok ? decoded.value : null;
    const next = (counter: number, last: BroadcastMemory, t: number) =>
      judgeBroadcast(last, { ...packet!, counter }, hex('00'), t).verdict;
    expect(next(500, at(499, 0), 1)).toBe('new');
    expect(next(499, at(499, 0), 1)).toBe('repeat');
    expect(next(498, at(499, 0), 1000)).toBe('replayed');
    expect(next(3, at(499, 0), 10)).toBe('replayed');
    expect(next(3, at(499, 0), 31)).toBe('new');
  });
});
