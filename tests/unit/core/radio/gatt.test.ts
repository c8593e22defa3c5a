import { describe, expect, it } from 'vitest';
import { fromHex } from '../../../../core/radio/bytes.ts';
import {
  decodeBatteryLevel,
  decodeInteger,
  decodeValidRange,
} from '../../../../core/radio/environmental.ts';
import {
  decodeDateTime,
  decodeTemperatureMeasurement,
  decodeWeightMeasurement,
} from '../../../../core/radio/measurements.ts';
import {
  decodeEsMeasurement,
  decodePresentationFormat,
  decodeText,
} from '../../../../core/radio/descriptors.ts';
import { readMedicalShortFloat } from '../../../../core/radio/ieee11073.ts';
import { standardCharacteristic } from '../../../../core/radio/standard.ts';
import { normaliseUuid, UUID } from '../../../../core/radio/uuid.ts';

const hex = (text: string) => fromHex(text.replaceAll(' ', ''))!;

/** The value of a one-integer decode, or the failure's code. */
function value(name: Parameters<typeof decodeInteger>[0], text: string): number | null | string {
  const decoded = decodeInteger(name, hex(text));
  return decoded.ok ? decoded.value.value : decoded.error.code;
}

describe('environmental sensing characteristics', () => {
  it('reads pressure as 0.1 Pa, little-endian', () => {
    // 1 013 250 tenths = 101 325 Pa = 0x000F7602
    expect(value('pressure', '02760f00')).toBeCloseTo(101_325, 6);
    expect(value('pressure', 'ffffffff')).toBeCloseTo(429_496_729.5, 3);
    expect(value('pressure', '00000000')).toBe(0);
  });

  it('reads temperature as 0.01 °C from absolute zero up', () => {
    expect(value('temperature', 'ca09')).toBeCloseTo(273.15 + 25.06, 9);
    expect(value('temperature', '9cff')).toBeCloseTo(272.15, 9);
    expect(value('temperature', '0080')).toBeNull();
    expect(value('temperature', '4d95')).toBeCloseTo(0, 9); // -27315
    expect(value('temperature', '4c95')).toBe('OUT_OF_RANGE');
  });

  it('reads humidity as a fraction and refuses more than 100 %', () => {
    expect(value('humidity', 'bf13')).toBeCloseTo(0.5055, 9);
    expect(value('humidity', '1027')).toBeCloseTo(1, 9);
    expect(value('humidity', '1127')).toBe('OUT_OF_RANGE');
    expect(value('humidity', 'ffff')).toBeNull();
  });

  it('reads current, voltage and weight', () => {
    expect(value('electricCurrent', 'd204')).toBeCloseTo(12.34, 9);
    expect(value('electricCurrent', 'ffff')).toBeNull();
    expect(value('voltage', '003c')).toBe(240);
    expect(value('voltage', '80ff')).toBe(1022);
    expect(value('voltage', '81ff')).toBe('OUT_OF_RANGE');
    expect(value('voltage', 'ffff')).toBeNull();
    expect(value('weight', 'd007')).toBeCloseTo(10, 9);
  });

  it.each(['pressure', 'temperature', 'humidity', 'electricCurrent', 'voltage', 'weight'] as const)(
    'refuses %s of any other length',
    (name) => {
      const right = name === 'pressure' ? 4 : 2;
      for (const length of [0, 1, 2, 3, 4, 5, 20].filter((n) => n !== right)) {
        expect(decodeInteger(name, new Uint8Array(length))).toEqual({
          ok: false,
          error: { code: 'WRONG_LENGTH', need: right, have: length },
        });
      }
    },
  );

  it('reads battery level and refuses the reserved percentages', () => {
    expect(decodeBatteryLevel(hex('64'))).toEqual({ ok: true, value: 100 });
    expect(decodeBatteryLevel(hex('00'))).toEqual({ ok: true, value: 0 });
    expect(decodeBatteryLevel(hex('65'))).toMatchObject({ error: { code: 'OUT_OF_RANGE' } });
    expect(decodeBatteryLevel(hex(''))).toMatchObject({ error: { code: 'WRONG_LENGTH' } });
    expect(decodeBatteryLevel(hex('6400'))).toMatchObject({ error: { code: 'WRONG_LENGTH' } });
  });

  it('reads a valid range in the format of its characteristic', () => {
    const range = decodeValidRange('temperature', hex('60f0 1027'));
    expect(range.ok && range.value.min).toBeCloseTo(233.15, 9);
    expect(range.ok && range.value.max).toBeCloseTo(373.15, 9);
    expect(decodeValidRange('temperature', hex('1027 60f0')).ok).toBe(false);
    expect(decodeValidRange('pressure', hex('0000 ffff')).ok).toBe(false);
  });
});

describe('flagged measurements', () => {
  const temperature = (text: string) => decodeTemperatureMeasurement(hex(text));

  it('reads an IEEE 11073 FLOAT in °C and in °F', () => {
    // mantissa 364, exponent -1
    expect(temperature('00 6c0100ff')).toEqual({
      ok: true,
      value: { measurement: { quantity: 'temperature', value: 36.4 + 273.15 }, deviceTime_s: null },
    });
    const inFahrenheit = temperature('01 200300ff'); // 80.0 °F
    expect(inFahrenheit.ok && inFahrenheit.value.measurement.value).toBeCloseTo(299.81667, 4);
    const negative = temperature('00 f6ffff00'); // -10
    expect(negative.ok && negative.value.measurement.value).toBeCloseTo(263.15, 9);
  });

  it.each(['ffff7f00', '00008000', 'feff7f00', '02008000', '01008000', 'ffff7f05'])(
    'takes the special value %s as not known',
    (special) => {
      const decoded = temperature(`00 ${special}`);
      expect(decoded.ok && decoded.value.measurement.value).toBeNull();
    },
  );

  it('refuses a float outside all physics', () => {
    expect(temperature('00 0100007f')).toMatchObject({ error: { code: 'OUT_OF_RANGE' } });
    expect(temperature('00 00feff00')).toMatchObject({ error: { code: 'OUT_OF_RANGE' } });
  });

  it('reads the time and the type that the flags announce, and refuses what is cut off', () => {
    const full = temperature('06 6c0100ff e907 06 0f 0e 1e 2d 02');
    expect(full.ok && full.value.deviceTime_s).toBe(Date.UTC(2025, 5, 15, 14, 30, 45) / 1000);
    expect(temperature('02 6c0100ff e907 06 0f 0e 1e')).toMatchObject({
      error: { code: 'TOO_SHORT', need: 12, have: 11 },
    });
    expect(temperature('04 6c0100ff')).toMatchObject({ error: { code: 'TOO_SHORT' } });
    expect(temperature('00 6c01')).toMatchObject({ error: { code: 'TOO_SHORT' } });
  });

  it('refuses bytes that no flag announces, but ignores those of a reserved flag', () => {
    expect(temperature('00 6c0100ff 00')).toMatchObject({ error: { code: 'WRONG_LENGTH' } });
    expect(temperature('08 6c0100ff 00').ok).toBe(true);
  });

  it('refuses dates that no calendar has and takes zeros as not known', () => {
    expect(decodeDateTime(hex('e907 02 1e 00 00 00'), 0)).toEqual({
      ok: false,
      error: { code: 'BAD_DATE' },
    });
    expect(decodeDateTime(hex('e907 01 01 18 00 00'), 0).ok).toBe(false);
    expect(decodeDateTime(hex('0000 01 01 00 00 00'), 0)).toEqual({ ok: true, value: null });
    expect(decodeDateTime(hex('0a00 01 01 00 00 00'), 0).ok).toBe(false);
    expect(decodeDateTime(hex('e907 01'), 0)).toMatchObject({ error: { code: 'TOO_SHORT' } });
  });

  it('reads weights in kilograms and in pounds', () => {
    const kg = decodeWeightMeasurement(hex('00 d007'));
    expect(kg.ok && kg.value.measurement).toEqual({ quantity: 'mass', value: 10 });
    const lb = decodeWeightMeasurement(hex('01 e803')); // 10.00 lb
    expect(lb.ok && lb.value.measurement.value).toBeCloseTo(4.5359237, 9);
    const failed = decodeWeightMeasurement(hex('00 ffff'));
    expect(failed.ok && failed.value.measurement.value).toBeNull();
    expect(decodeWeightMeasurement(hex('0e d007 e907060f0e1e2d 01 fa00 dc05')).ok).toBe(true);
    expect(decodeWeightMeasurement(hex('08 d007 fa00'))).toMatchObject({
      error: { code: 'TOO_SHORT', need: 7, have: 5 },
    });
    expect(decodeWeightMeasurement(hex('00 d007 00'))).toMatchObject({
      error: { code: 'WRONG_LENGTH' },
    });
  });

  it('reads an IEEE 11073 SFLOAT and its special values', () => {
    expect(readMedicalShortFloat(hex('72f1'), 0)).toBeCloseTo(37, 9); // 370 * 10^-1
    expect(readMedicalShortFloat(hex('ff0f'), 0)).toBe(-1);
    for (const special of ['ff07', '0008', 'fe07', '0208', '0108']) {
      expect(readMedicalShortFloat(hex(special), 0)).toBeNull();
    }
  });
});

describe('descriptors', () => {
  it('reads an ES Measurement', () => {
    const decoded = decodeEsMeasurement(hex('0000 02 3c0000 050000 1b 04'));
    expect(decoded).toEqual({
      ok: true,
      value: {
        samplingFunction: 'arithmeticMean',
        measurementPeriod_s: 60,
        updateInterval_s: 5,
        application: 'inside',
        applicationCode: 0x1b,
        uncertainty: 0.02,
      },
    });
    expect(decodeEsMeasurement(hex('ffff ff 000000 000000 ff ff'))).toMatchObject({
      value: {
        samplingFunction: null,
        measurementPeriod_s: null,
        application: null,
        uncertainty: null,
      },
    });
    expect(decodeEsMeasurement(new Uint8Array(12)).ok).toBe(false);
    expect(decodeEsMeasurement(new Uint8Array(10)).ok).toBe(false);
  });

  it('reads a presentation format', () => {
    expect(decodePresentationFormat(hex('08 ff 2427 01 0200'))).toEqual({
      ok: true,
      value: { format: 'uint32', exponent: -1, unit: '2724', description: 'no. 2' },
    });
    expect(decodePresentationFormat(hex('08 ff 2427 01 0c01'))).toMatchObject({
      value: { description: 'outside' },
    });
    expect(decodePresentationFormat(hex('63 ff 2427 02 0c01'))).toMatchObject({
      value: { format: null, description: null },
    });
    expect(decodePresentationFormat(hex('08 ff 2427 01 02')).ok).toBe(false);
  });

  it('reads texts and refuses what is not UTF-8 or too long', () => {
    const text = (s: string) => new TextEncoder().encode(s);
    expect(decodeText(text('Suction µ\u0000\u0000'))).toEqual({ ok: true, value: 'Suction µ' });
    expect(decodeText(text('a\u0007b\nc'))).toEqual({ ok: true, value: 'a b c' });
    expect(decodeText(hex('c328'))).toEqual({ ok: false, error: { code: 'NOT_UTF8' } });
    expect(decodeText(new Uint8Array(513)).ok).toBe(false);
    expect(decodeText(new Uint8Array(0))).toEqual({ ok: true, value: '' });
  });
});

describe('uuids', () => {
  it('brings every spelling to one', () => {
    for (const spelling of ['2A6D', '0x2a6d', '00002A6D', '00002a6d-0000-1000-8000-00805F9B34FB']) {
      expect(normaliseUuid(spelling)).toBe('2a6d');
    }
    expect(normaliseUuid('a')).toBe('000a');
    expect(normaliseUuid('8f1d0001-5a3c-4e2b-9d71-0c2a6b7e4f10')).toBe(
      '8f1d00015a3c4e2b9d710c2a6b7e4f10',
    );
    for (const bad of ['', 'xyz', '12345', 'toString']) expect(normaliseUuid(bad)).toBeNull();
  });

  it('finds a decoder by characteristic and none for a stranger', () => {
    expect(standardCharacteristic(UUID.pressure)?.quantity).toBe('pressure');
    expect(standardCharacteristic('constructor')).toBeNull();
    expect(standardCharacteristic('2a37')).toBeNull();
  });
});
