import { describe, expect, it } from 'vitest';
import { REFRIGERANT_IDS } from '../../../../core/refrigerant/types.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { dewPoint } from '../../../../core/plant/psychro.ts';
import { kelvin } from '../../../../core/units/brands.ts';
import { play, splitInput, splitTruthOf } from '../../../support/plant.ts';

const ATMOSPHERE = 101_325;

describe('conservation', () => {
  it.each(['txv', 'fixed', 'eev'] as const)(
    'closes the steady energy balance within 1 per cent: %s',
    (kind) => {
      const run = play(splitInput({ metering: { kind } }));
      let sum = 0;
      for (let i = 1; i <= 60; i += 1) {
        run.advanceTo(2400 + i * 5);
        sum += splitTruthOf(run).energyResidual / 60;
      }
      expect(Math.abs(sum)).toBeLessThan(0.01);
    },
  );

  it('rejects outdoors what it takes indoors and from the line, to the air, within 1 %', () => {
    const run = play(splitInput({ metering: { kind: 'fixed' } }));
    run.advanceTo(3000);
    const x = splitTruthOf(run);
    // First law from the air sides alone: indoor heat and compressor work leave through the outdoor coil
    // and the compressor body; the pipes take in what little the surroundings give.
    const gain = x.heatRejected_W - x.capacity_W - x.compressorPower_W;
    expect(gain).toBeGreaterThan(-0.01 * x.heatRejected_W);
    expect(gain).toBeLessThan(0.02 * x.heatRejected_W);
  });

  it('meets the nameplate at the rating point: capacity within 6 %, COP of an ordinary unit', () => {
    const run = play(splitInput());
    run.advanceTo(2400);
    const x = splitTruthOf(run);
    expect(x.capacity_W).toBeGreaterThan(0.94 * 10_500);
    expect(x.capacity_W).toBeLessThan(1.06 * 10_500);
    expect(x.superheat).toBeCloseTo(6.1, 0);
    expect(x.subcooling).toBeCloseTo(5.6, 0);
    // Compressor alone 3 to 4.2 at 35 °C outdoors (common practice, no source).
    expect(x.capacity_W / x.compressorPower_W).toBeGreaterThan(3);
    expect(x.capacity_W / x.compressorPower_W).toBeLessThan(4.2);
  });
});

describe('a unit that starts settled', () => {
  it.each(REFRIGERANT_IDS)(
    '%s: is at its nameplate from the first second and stays there',
    (id) => {
      const run = play(
        splitInput({ metering: { kind: 'fixed' }, initial: 'settled' }, { refrigerant: id }),
      );
      run.advanceTo(1);
      const first = splitTruthOf(run);
      run.advanceTo(240);
      const later = splitTruthOf(run);
      expect(first.running).toBe(true);
      expect(Math.abs(first.superheat - 6.1)).toBeLessThan(0.5);
      expect(Math.abs(first.subcooling - 5.6)).toBeLessThan(0.3);
      expect(Math.abs(later.superheat - first.superheat)).toBeLessThan(0.3);
      expect(Math.abs(later.energyResidual)).toBeLessThan(0.01);
    },
  );
});

describe('at rest', () => {
  const standing = (outdoor: number, kind: 'fixed' | 'txv'): ReturnType<typeof play> =>
    play(
      splitInput(
        {
          metering: { kind },
          events: [
            { do: 'start', at_s: 0 },
            { do: 'stop', at_s: 600 },
          ],
        },
        {
          duration_s: 12_000,
          weather: { outdoorAir_K: outdoor, gust: { sigma_K: 0, time_s: 10 } },
        },
      ),
    );
  const dew = (t: number): number => {
    const p = refrigerant('R-410A').dewPressure(kelvin(t));
    if (!p.ok) throw new Error('out of range');
    return p.value;
  };

  it('the pressures meet at saturation of the coldest place: indoors on a hot day', () => {
    const run = standing(312, 'fixed');
    run.advanceTo(9000);
    const x = splitTruthOf(run);
    expect(Math.abs(x.suctionPressure - x.liquidPressure)).toBeLessThan(5000);
    expect(x.mass.indoorCoil).toBeGreaterThan(0.6 * x.mass.total);
    // 1 % of pressure is 0.4 K: what is left of the cooling of the coil an hour after the stop.
    expect(x.suctionPressure / dew(x.tReturnAir)).toBeCloseTo(1, 1);
    expect(Math.abs(x.suctionPressure / dew(x.tReturnAir) - 1)).toBeLessThan(0.015);
  });

  it('and outdoors on a cool day, where the liquid goes', () => {
    const run = standing(288, 'fixed');
    run.advanceTo(9000);
    const x = splitTruthOf(run);
    expect(Math.abs(x.suctionPressure - x.liquidPressure)).toBeLessThan(5000);
    expect(x.mass.outdoorCoil).toBeGreaterThan(0.5 * x.mass.total);
    expect(Math.abs(x.suctionPressure / dew(x.tOutdoorAir) - 1)).toBeLessThan(0.015);
  });

  it('equalises fast through an orifice and slower through a valve with a bleed port', () => {
    const timeToMeet = (kind: 'fixed' | 'txv'): number => {
      const run = standing(305, kind);
      for (let t = 605; t < 6000; t += 5) {
        run.advanceTo(t);
        const x = splitTruthOf(run);
        if (Math.abs(x.suctionPressure - x.liquidPressure) < 50_000) return t - 600;
      }
      return Number.POSITIVE_INFINITY;
    };
    const orifice = timeToMeet('fixed');
    const valve = timeToMeet('txv');
    expect(orifice).toBeLessThan(300);
    expect(valve).toBeGreaterThan(1.5 * orifice);
    expect(valve).toBeLessThan(2400);
  });
});

describe('frost', () => {
  it('grows only on surfaces below freezing and below the dew point of the air', () => {
    const conditions = [
      { room: 295, humidity: 0.6, filter: 1 },
      { room: 296, humidity: 0.08, filter: 1 },
      { room: 300, humidity: 0.6, filter: 0 },
    ];
    const grown = conditions.map(({ room, humidity, filter }) => {
      const run = play(
        splitInput(
          {
            room: {
              start_K: room,
              startHumidity: humidity,
              airCapacity_J_K: 1e8,
              moistureGain_kg_s: 0,
            },
            faults: [{ kind: 'lowIndoorAir', severity: filter }],
          },
          { weather: { outdoorAir_K: 297 } },
        ),
      );
      let before = 0;
      for (let t = 20; t <= 1800; t += 20) {
        run.advanceTo(t);
        const x = splitTruthOf(run);
        if (x.frostIndoor_kg > before + 1e-5) {
          expect(x.tIndoorSurface).toBeLessThanOrEqual(273.15);
          expect(x.tIndoorSurface).toBeLessThan(dewPoint(x.returnHumidityRatio, ATMOSPHERE));
        }
        before = x.frostIndoor_kg;
      }
      return before;
    });
    expect(grown[0]).toBeGreaterThan(0.2);
    expect(grown[1]).toBe(0);
    expect(grown[2]).toBe(0);
  });

  it('chokes the air, and a defrost clears the coil', () => {
    const run = play(
      splitInput(
        {
          room: { start_K: 295, startHumidity: 0.6, airCapacity_J_K: 1e8 },
          faults: [{ kind: 'lowIndoorAir', severity: 1 }],
          initialFrost_kg: 2.6,
          events: [
            { do: 'start', at_s: 0 },
            { do: 'defrost', at_s: 900 },
          ],
        },
        { weather: { outdoorAir_K: 297 } },
      ),
    );
    run.advanceTo(120);
    const early = splitTruthOf(run);
    run.advanceTo(895);
    const iced = splitTruthOf(run);
    expect(iced.indoorAirflow_m3_s).toBeLessThan(early.indoorAirflow_m3_s * 0.97);
    let clearAt = 0;
    for (let t = 900; t < 3000 && clearAt === 0; t += 10) {
      run.advanceTo(t);
      const x = splitTruthOf(run);
      if (x.defrosting && t > 960) expect(x.running).toBe(false);
      if (x.frostIndoor_kg < 1e-3) clearAt = t;
    }
    expect(clearAt).toBeGreaterThan(1000);
    expect(clearAt).toBeLessThan(2400);
  });

  it('a heat pump grows frost outdoors and clears it by reversing', () => {
    const run = play(
      splitInput(
        {
          mode: 'heating',
          room: { start_K: 293.5, startHumidity: 0.4, airCapacity_J_K: 1e8, gain_W: -6000 },
          defrost: { every_s: 1500, endsAt_K: 287, atMost_s: 600 },
        },
        { weather: { outdoorAir_K: 275.2, outdoorHumidity: 0.88 } },
      ),
    );
    run.advanceTo(1400);
    const before = splitTruthOf(run);
    expect(before.frostOutdoor_kg).toBeGreaterThan(0.6);
    expect(before.capacity_W).toBeGreaterThan(6000);
    expect(before.tSupplyAir).toBeGreaterThan(before.tReturnAir + 8);
    let reversed = false;
    let least = before.frostOutdoor_kg;
    for (let t = 1410; t <= 2700; t += 10) {
      run.advanceTo(t);
      const x = splitTruthOf(run);
      reversed ||= x.defrosting && x.tOutdoorSurface > 273;
      least = Math.min(least, x.frostOutdoor_kg);
    }
    expect(reversed).toBe(true);
    expect(least).toBeLessThan(0.1 * before.frostOutdoor_kg);
    expect(splitTruthOf(run).defrosting).toBe(false);
  });
});
