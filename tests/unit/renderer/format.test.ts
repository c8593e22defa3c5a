import { figureTold } from '../../../core/circuit/figures.ts';
import { describe, expect, it } from 'vitest';
import {
  channelDifferenceUnit,
  channelReadingText,
  channelSI,
  channelNumber,
  channelText,
  clockText,
  differenceText,
  durationText,
  figureText,
  fixed,
  temperatureText,
  timeMark,
} from '../../../renderer/app/format.ts';
import { UNIT_SYSTEMS } from '../../../core/units/systems.ts';
import { CHANNEL_KEYS } from '../../../core/stream/channels.ts';

const SEA = 101_325;

describe('numbers on the screen', () => {
  it('have a true minus and no negative zero', () => {
    expect(fixed(-1.25, 1)).toBe('−1.3');
    expect(fixed(-0.04, 1)).toBe('0.0');
    expect(fixed(11.86, 1)).toBe('11.9');
  });

  it('mark a time axis without seconds beyond an hour', () => {
    expect([0, 300, 3600, 5400, 28_800].map(timeMark)).toEqual([
      '0:00',
      '5:00',
      '1 h',
      '1 h 30',
      '8 h',
    ]);
  });

  it('are gauge pressures and degrees of the chosen system', () => {
    expect(channelText('suctionPressure', 118 * 6894.757293168 + SEA, 'us', SEA)).toBe(
      '118.0 psig',
    );
    expect(channelText('suctionPressure', 813.6e3 + SEA, 'si', SEA)).toBe('814 kPag');
    expect(channelText('suctionPressure', 813.6e3 + SEA, 'bar', SEA)).toBe('8.14 barg');
    expect(channelText('barometricPressure', SEA, 'bar', SEA)).toBe('1.013 bar abs');
    expect(channelDifferenceUnit('suctionPressure', 'bar')).toBe('bar');
    expect(channelDifferenceUnit('suctionPressure', 'si')).toBe('kPa');
    expect(channelDifferenceUnit('suctionLineTemp', 'bar')).toBe('K');
    expect(channelText('barometricPressure', SEA, 'us', SEA)).toBe('14.70 psia');
    expect(temperatureText(273.15, 'us')).toBe('32.0 °F');
    expect(temperatureText(273.15, 'si')).toBe('0.0 °C');
    expect(differenceText(5, 'us')).toBe('9.0 °F');
    expect(differenceText(-5, 'si')).toBe('−5.0 K');
  });

  it('come back to SI from every channel in both systems', () => {
    for (const key of CHANNEL_KEYS) {
      for (const system of UNIT_SYSTEMS) {
        const si = 301.7;
        expect(channelSI(key, channelNumber(key, si, system, SEA), system, SEA)).toBeCloseTo(si, 6);
      }
    }
  });

  it('tell of the air in heating that it gets warmer', () => {
    const drop = { value: -14, u: 1 };
    expect(figureText('airDrop', drop, 'heating', 'us')).toBe('25.2 °F ± 1.8');
    expect(figureText('airDrop', drop, 'cooling', 'us')).toBe('−25.2 °F ± 1.8');
    expect(figureText('superheat', { value: 6, u: 1 }, 'heating', 'si')).toBe('6.0 K ± 1.0');
    expect(figureTold('airDrop', 'heating').label).toBe('Air temperature rise');
    expect(figureTold('airDrop', 'cooling').label).toBe('Air temperature drop');
  });

  it('carry their uncertainty', () => {
    expect(figureText('superheat', { value: 6, u: 1 }, 'cooling', 'us')).toBe('10.8 °F ± 1.8');
    expect(figureText('pressureRatio', { value: 2.5, u: 0.05 }, 'cooling', 'us')).toBe(
      '2.50 ± 0.05',
    );
    const reading = { value: 10 * 6894.757293168 + SEA, u: 6894.757293168, uSystematic: 0 };
    const rest = { window: { from: 0, to: 1 }, marks: [], channel: 'suctionPressure' } as const;
    expect(channelReadingText({ ...reading, ...rest }, 'us', SEA)).toBe('10.0 psig ± 1.0');
  });
});

describe('times', () => {
  it('are clocks and lengths', () => {
    expect(clockText(65)).toBe('1:05');
    expect(clockText(3665)).toBe('1:01:05');
    expect(durationText(40)).toBe('40 s');
    expect(durationText(360)).toBe('6 min');
    expect(durationText(7500)).toBe('2 h 05');
  });
});
