import { describe, expect, it } from 'vitest';
import { FIGURES, figureRow, presentInputs, readFirst } from '../../../../core/circuit/figures.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { REFRIGERANT_IDS } from '../../../../core/refrigerant/types.ts';
import type { ChannelKey } from '../../../../core/stream/channels.ts';

const reader =
  (values: Partial<Record<ChannelKey, number>>) =>
  (key: ChannelKey): number =>
    values[key] ?? NaN;

describe('a refrigerant with glide', () => {
  // Bubble and dew at the two pressures: CoolProp 8.0.0 (open library, MIT licence), K.
  it.each([
    ['R-407C', 5.5e5, 278.318, 18e5, 314.3308, 319.1792],
    ['R-454B', 8.5e5, 277.8846, 25e5, 316.4008, 317.8423],
    ['R-448A', 5e5, 272.5342, 19e5, 313.5235, 318.4917],
  ] as const)(
    '%s: superheat from dew, subcooling from bubble',
    (id, low, dewLow, high, bubbleHigh, dewHigh) => {
      const fluid = refrigerant(id);
      const read = reader({
        suctionPressure: low,
        suctionLineTemp: dewLow + 6,
        liquidPressure: high,
        liquidLineTemp: bubbleHigh - 5,
        dischargeLineTemp: dewHigh + 30,
        outdoorAirTemp: bubbleHigh - 12,
        returnAirTemp: dewLow + 18,
      });
      expect(FIGURES.superheat.compute(read, fluid)).toBeCloseTo(6, 3);
      expect(FIGURES.subcooling.compute(read, fluid)).toBeCloseTo(5, 3);
      expect(FIGURES.dischargeSuperheat.compute(read, fluid)).toBeCloseTo(30, 3);
      expect(FIGURES.condensingOverOutdoor.compute(read, fluid)).toBeCloseTo(12, 3);
      expect(FIGURES.returnOverEvaporating.compute(read, fluid)).toBeCloseTo(18, 3);
    },
  );
});

describe('the range of a refrigerant', () => {
  it.each(REFRIGERANT_IDS)('%s: both its ends have saturation, what lies beyond has none', (id) => {
    const fluid = refrigerant(id);
    const at = (p: number): number[] => [
      FIGURES.suctionSaturation.compute(reader({ suctionPressure: p }), fluid),
      FIGURES.liquidSaturation.compute(reader({ liquidPressure: p }), fluid),
    ];
    for (const p of [fluid.range.pMin, fluid.range.pMax]) {
      expect(at(p).every(Number.isFinite)).toBe(true);
    }
    for (const p of [fluid.range.pMin * 0.9999, fluid.range.pMax * 1.0001, NaN, -1e5]) {
      expect(at(p)).toEqual([NaN, NaN]);
    }
  });
});

describe('a choice of channels', () => {
  it('takes the liquid pressure for subcooling and the discharge pressure for the ratio', () => {
    const both = reader({ liquidPressure: 24e5, dischargePressure: 26e5, suctionPressure: 8e5 });
    expect(readFirst(both, ['liquidPressure', 'dischargePressure'])).toBe(24e5);
    expect(figureRow('pressureRatio').compute(both, refrigerant('R-32'))).toBe(26 / 8);
    expect(presentInputs(figureRow('pressureRatio'), both)).toEqual([
      'dischargePressure',
      'suctionPressure',
    ]);
  });

  it('falls back on the other, and has no input where there is neither', () => {
    const one = reader({ dischargePressure: 26e5, liquidLineTemp: 300 });
    expect(presentInputs(figureRow('subcooling'), one)).toEqual([
      'liquidLineTemp',
      'dischargePressure',
    ]);
    expect(presentInputs(figureRow('subcooling'), reader({ liquidLineTemp: 300 }))).toBeNull();
    expect(readFirst(reader({}), ['liquidPressure'])).toBeNaN();
  });
});
