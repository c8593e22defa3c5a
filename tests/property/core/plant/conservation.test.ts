import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FAULT_KINDS } from '../../../../core/plant/scenario.ts';
import { play, splitInput, splitTruthOf } from '../../../support/plant.ts';

const when = fc.integer({ min: 0, max: 800 });
const events = fc.array(
  fc.oneof(
    fc.record({ do: fc.constant('start' as const), at_s: when }),
    fc.record({ do: fc.constant('stop' as const), at_s: when }),
    fc.record({
      do: fc.constant('powerCut' as const),
      at_s: when,
      for_s: fc.integer({ min: 1, max: 90 }),
    }),
    fc.record({ do: fc.constant('defrost' as const), at_s: when }),
    fc.record({
      do: fc.constant('fanSpeed' as const),
      at_s: when,
      speed: fc.double({ min: 0, max: 1.2, noNaN: true }),
    }),
    fc.record({
      do: fc.constant('charge' as const),
      at_s: when,
      mass_kg: fc.double({ min: -1, max: 1, noNaN: true }),
      over_s: fc.integer({ min: 1, max: 120 }),
    }),
  ),
  { maxLength: 6 },
);
const faults = fc.array(
  fc.record({
    kind: fc.constantFrom(...FAULT_KINDS),
    severity: fc.double({ min: 0, max: 1, noNaN: true }),
    from_s: when,
  }),
  { maxLength: 3 },
);

describe('whatever happens to a unit', () => {
  it('its charge is conserved to 1e-6 and every quantity stays finite and possible', () => {
    fc.assert(
      fc.property(
        events,
        faults,
        fc.constantFrom('cooling' as const, 'heating' as const),
        fc.constantFrom('txv' as const, 'fixed' as const),
        fc.integer({ min: 258, max: 318 }),
        (happens, broken, mode, kind, outdoor) => {
          const run = play(
            splitInput(
              {
                mode,
                heatPump: true,
                metering: { kind },
                faults: broken,
                events: [{ do: 'start', at_s: 0 }, ...happens],
              },
              { weather: { outdoorAir_K: outdoor }, duration_s: 900 },
            ),
          );
          for (let t = 30; t <= 900; t += 30) {
            run.advanceTo(t);
            const x = splitTruthOf(run);
            expect(Math.abs(x.mass.total / x.mass.expected - 1)).toBeLessThan(1e-6);
            for (const m of Object.values(x.mass)) expect(m).toBeGreaterThan(-1e-9);
            expect(x.suctionPressure).toBeGreaterThan(0);
            expect(x.liquidPressure).toBeLessThan(6.5e6);
            for (const v of Object.values(x)) {
              if (typeof v === 'number') expect(Number.isFinite(v)).toBe(true);
            }
            expect(x.tSupplyAir).toBeGreaterThan(220);
            expect(x.tSupplyAir).toBeLessThan(360);
          }
        },
      ),
      { numRuns: 20, seed: 20261 },
    );
  });
});
