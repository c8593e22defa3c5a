import { describe, expect, it } from 'vitest';
import { dewPoint, humidityRatio } from '../../../../core/plant/psychro.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { kelvin } from '../../../../core/units/brands.ts';
import type { ScenarioRun } from '../../../../core/plant/run.ts';
import { play, splitInput, splitTruthOf } from '../../../support/plant.ts';

/**
 * The laws the plant must keep in heating, over a defrost and with foreign gas. No open measurement of
 * how the supply air settles after a heating start was at hand: settling is checked in cooling only.
 */
const ATMOSPHERE = 101_325;

type UnitInput = Parameters<typeof splitInput>[0];

function heating(
  outdoor: number,
  humidity: number,
  unit: UnitInput = {},
  duration_s = 3600,
): ScenarioRun {
  return play(
    splitInput(
      {
        mode: 'heating',
        room: {
          start_K: 294.26,
          startHumidity: 0.4,
          airCapacity_J_K: 1e8,
          massCapacity_J_K: 1e9,
          draught: { sigma_K: 0, time_s: 10 },
        },
        ...unit,
      },
      {
        duration_s,
        weather: {
          outdoorAir_K: outdoor,
          outdoorHumidity: humidity,
          gust: { sigma_K: 0, time_s: 10 },
        },
      },
    ),
  );
}

function saturation(t: number): number {
  const p = refrigerant('R-410A').dewPressure(kelvin(t));
  if (!p.ok) throw new Error('out of range');
  return p.value;
}

describe('heating without frost', () => {
  it.each(['txv', 'fixed', 'eev'] as const)(
    'closes the steady energy balance within 1 per cent: %s',
    (kind) => {
      const run = heating(281.48, 0.72, { metering: { kind } });
      let sum = 0;
      for (let i = 1; i <= 60; i += 1) {
        run.advanceTo(2400 + i * 5);
        sum += splitTruthOf(run).energyResidual / 60;
      }
      expect(Math.abs(sum)).toBeLessThan(0.01);
      expect(splitTruthOf(run).frostOutdoor_kg).toBe(0);
    },
  );

  it('gives about its cooling capacity at 8.3 °C outdoors, with the COP of an ordinary unit', () => {
    // Common practice, no source: a unit's heating at 47 °F outdoors is near its cooling at 95 °F, and
    // the compressor alone then makes 3.3 to 4.6 times its power.
    const run = heating(281.48, 0.72);
    run.advanceTo(2400);
    const x = splitTruthOf(run);
    expect(x.capacity_W).toBeGreaterThan(0.85 * 10_500);
    expect(x.capacity_W).toBeLessThan(1.15 * 10_500);
    expect(x.capacity_W / x.compressorPower_W).toBeGreaterThan(3.3);
    expect(x.capacity_W / x.compressorPower_W).toBeLessThan(4.6);
    // The room gets what the circuit rejects, less what the compressor's body loses outdoors.
    expect(x.capacity_W).toBeLessThan(x.heatRejected_W);
    expect(x.capacity_W).toBeGreaterThan(0.95 * x.heatRejected_W);
  });

  it('gives less as it gets colder outdoors', () => {
    const capacity = [283, 273, 263].map((outdoor) => {
      const run = heating(outdoor, 0.3);
      run.advanceTo(1800);
      return splitTruthOf(run).capacity_W;
    });
    expect(capacity[1]).toBeLessThan(0.93 * (capacity[0] ?? 0));
    expect(capacity[2]).toBeLessThan(0.93 * (capacity[1] ?? 0));
  });
});

describe('over a defrost', () => {
  const frosting = (): ScenarioRun =>
    heating(275.2, 0.88, { defrost: { every_s: 1500, endsAt_K: 287, atMost_s: 600 } });

  it('conserves the charge to 1e-6 in every second, through both turns of the valve', () => {
    const run = frosting();
    let turns = 0;
    let before = false;
    for (let t = 1; t <= 2400; t += 1) {
      run.advanceTo(t);
      const x = splitTruthOf(run);
      if (x.defrosting !== before) turns += 1;
      before = x.defrosting;
      expect(Math.abs(x.mass.total / x.mass.expected - 1)).toBeLessThan(1e-6);
    }
    expect(turns).toBe(2);
  });

  it('closes the energy balance over the whole of it within 2 per cent', () => {
    // From quasi-steady heating to quasi-steady heating: what the circuit stores in between cancels.
    // The heat of the vapour exchanged at the turns of the valve is not modelled, hence not 1 per cent.
    const run = frosting();
    run.advanceTo(1300);
    let residual = 0;
    let rejected = 0;
    for (let t = 1301; t <= 2900; t += 1) {
      run.advanceTo(t);
      const x = splitTruthOf(run);
      residual += x.energyResidual * x.heatRejected_W;
      rejected += x.heatRejected_W;
    }
    expect(Math.abs(residual / rejected)).toBeLessThan(0.02);
  });
});

describe('frost outdoors', () => {
  it('grows only on surfaces below freezing and below the dew point of the outdoor air', () => {
    const weathers = [
      { outdoor: 275, humidity: 0.9 }, // damp, about freezing
      { outdoor: 268, humidity: 0.15 }, // cold, too dry for the coil
      { outdoor: 287, humidity: 0.9 }, // damp and mild
    ];
    const grown = weathers.map(({ outdoor, humidity }) => {
      const run = heating(outdoor, humidity, {
        defrost: { every_s: 20_000, endsAt_K: 287, atMost_s: 600 },
      });
      const dew = dewPoint(humidityRatio(outdoor, humidity, ATMOSPHERE), ATMOSPHERE);
      run.advanceTo(120); // the starved coil of the first minute is colder than the steady one
      let before = splitTruthOf(run).frostOutdoor_kg;
      const first = before;
      for (let t = 140; t <= 1800; t += 20) {
        run.advanceTo(t);
        const x = splitTruthOf(run);
        if (x.frostOutdoor_kg > before + 1e-5) {
          expect(x.tOutdoorSurface).toBeLessThanOrEqual(273.15);
          expect(x.tOutdoorSurface).toBeLessThan(dew);
        }
        before = x.frostOutdoor_kg;
      }
      return before - first;
    });
    expect(grown[0]).toBeGreaterThan(0.2);
    expect(grown[1]).toBeLessThan(1e-4);
    expect(grown[2]).toBeLessThan(1e-4);
  });
});

describe('at rest after heating', () => {
  it('stands at saturation of the cold outdoors, where the liquid goes', () => {
    const run = heating(
      278,
      0.5,
      {
        metering: { kind: 'fixed' },
        events: [
          { do: 'start', at_s: 0 },
          { do: 'stop', at_s: 900 },
        ],
      },
      12_000,
    );
    run.advanceTo(11_000);
    const x = splitTruthOf(run);
    expect(Math.abs(x.suctionPressure - x.liquidPressure)).toBeLessThan(5000);
    expect(x.mass.outdoorCoil).toBeGreaterThan(0.5 * x.mass.total);
    expect(Math.abs(x.suctionPressure / saturation(x.tOutdoorAir) - 1)).toBeLessThan(0.015);
  });
});

describe('foreign gas at rest', () => {
  /** Pressure above saturation of the place that holds the liquid, with all at rest, Pa. */
  const excess = (severity: number): number => {
    const run = play(
      splitInput(
        {
          metering: { kind: 'fixed' },
          faults: [{ kind: 'nonCondensables', severity }],
          events: [
            { do: 'start', at_s: 0 },
            { do: 'stop', at_s: 900 },
          ],
        },
        {
          duration_s: 12_000,
          weather: { outdoorAir_K: 288, gust: { sigma_K: 0, time_s: 10 } },
        },
      ),
    );
    run.advanceTo(11_000);
    const x = splitTruthOf(run);
    expect(Math.abs(x.suctionPressure - x.liquidPressure)).toBeLessThan(5000);
    return x.liquidPressure - saturation(x.tOutdoorAir);
  };

  it('adds its partial pressure to saturation, in proportion to its amount (Dalton)', () => {
    const none = excess(0);
    const some = excess(0.3);
    const more = excess(0.6);
    expect(Math.abs(none)).toBeLessThan(0.015 * saturation(288));
    expect(some).toBeGreaterThan(40_000);
    // The liquid that stays leaves the gas a little more or less room: not exactly twice.
    expect((more - none) / (some - none)).toBeGreaterThan(1.7);
    expect((more - none) / (some - none)).toBeLessThan(2.3);
  });
});
