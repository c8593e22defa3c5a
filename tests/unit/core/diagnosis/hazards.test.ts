import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { hazardsOf } from '../../../../core/diagnosis/hazards.ts';
import { hazardText } from '../../../../core/diagnosis/hazard-text.ts';
import { configOf, snapshotOf, type Setup, type Written } from './make.ts';

const HEALTHY: Written = {
  suction: 130,
  liquid: 340,
  suctionLine: 56,
  liquidLine: 95,
  discharge: 165,
  outdoor: 90,
};

function codes(written: Written, setup: Setup = {}): string[] {
  return hazardsOf(snapshotOf(written, setup), configOf(setup)).map((h) => h.code);
}

describe('whether it is safe to leave a unit running', () => {
  it('says nothing of a healthy one', () => {
    expect(codes(HEALTHY)).toEqual([]);
  });

  it('warns of liquid that may reach the compressor, under the least superheat of a manual', () => {
    // R-410A at 130 psig boils at 45 °F (trade tables of its makers, from memory).
    const orifice = { metering: 'fixed' } as const;
    expect(codes({ ...HEALTHY, suctionLine: 48 }, orifice)).toEqual(['LIQUID_BACK']);
    expect(codes({ ...HEALTHY, suctionLine: 51.5 }, orifice)).toEqual([]);
  });

  it('lets a valve and a heat pump in heating hold less superheat, as their makers do', () => {
    for (const setup of [{ metering: 'txv' }, { metering: 'fixed', mode: 'heating' }] as const) {
      expect(codes({ ...HEALTHY, suctionLine: 48 }, setup)).toEqual([]);
      expect(codes({ ...HEALTHY, suctionLine: 45.5 }, setup)).toEqual(['LIQUID_BACK']);
    }
  });

  it('warns of a coil below freezing, but in heating the outdoor coil is made for it', () => {
    expect(codes({ ...HEALTHY, suction: 90, suctionLine: 40 })).toEqual(['COIL_FREEZING']);
    expect(codes({ ...HEALTHY, suction: 90, suctionLine: 40 }, { mode: 'heating' })).toEqual([]);
  });

  it('warns of a hot discharge line and of very high condensing', () => {
    expect(codes({ ...HEALTHY, discharge: 236 })).toEqual(['HOT_DISCHARGE']);
    expect(codes({ ...HEALTHY, liquid: 615 })).toEqual(['HIGH_CONDENSING']);
  });

  it('keeps quiet while the unit only starts or stands', () => {
    for (const state of ['starting', 'idle', 'blind'] as const) {
      expect(codes({ ...HEALTHY, suctionLine: 44, discharge: 236 }, { state })).toEqual([]);
    }
  });

  it('tells in a disturbance what runs away, by the pressure as it stands, but not what passes', () => {
    const state = 'disturbed';
    expect(codes({ ...HEALTHY, suctionLine: 44 }, { state })).toEqual([]);
    expect(codes({ ...HEALTHY, discharge: 236 }, { state })).toEqual(['HOT_DISCHARGE']);
    // R-410A condenses at 150 °F at 614 psig (curves of this project, held to CoolProp).
    expect(codes({ ...HEALTHY, liquid: 615 }, { state })).toEqual(['HIGH_CONDENSING']);
    expect(codes({ ...HEALTHY, liquid: 580 }, { state })).toEqual([]);
    // Beyond the curves, at either end.
    expect(codes({ ...HEALTHY, liquid: 750 }, { state })).toEqual(['HIGH_CONDENSING']);
    expect(codes({ ...HEALTHY, liquid: -14.5 }, { state })).toEqual([]);
    const setup = { state } as const;
    const lagging = snapshotOf({ ...HEALTHY, liquid: 615 }, setup);
    const figures = snapshotOf(HEALTHY, setup).figures;
    expect(hazardsOf({ ...lagging, figures }, configOf(setup)).map((h) => h.code)).toEqual([
      'HIGH_CONDENSING',
    ]);
  });

  it('does not read a stale discharge clamp', () => {
    expect(codes({ ...HEALTHY, discharge: 236 }, { stale: ['dischargeLineTemp'] })).toEqual([]);
  });

  it('is the surer the further the reading has passed its limit', () => {
    const sure = (suctionLine: number): number =>
      hazardsOf(snapshotOf({ ...HEALTHY, suctionLine }), configOf({ metering: 'fixed' }))[0]
        ?.probability ?? 0;
    fc.assert(
      fc.property(fc.double({ min: 36, max: 60, noNaN: true }), (line) => {
        expect(sure(line - 1)).toBeGreaterThanOrEqual(sure(line));
      }),
    );
  });

  it('says what was read, the limit and what to do', () => {
    const [hazard] = hazardsOf(
      snapshotOf({ ...HEALTHY, suctionLine: 47 }),
      configOf({ metering: 'fixed' }),
    );
    expect(hazardText(hazard!, 'us')).toMatch(
      /^Superheat 2\.\d °F ± \d\.\d °F is under the 5\.0 °F .*Do not leave it running like this\.$/,
    );
  });
});
