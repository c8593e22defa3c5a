import { ScenarioSchema, type Scenario } from '../../core/plant/scenario.ts';

/** A short invented scenario: a unit that is started after ten seconds, two sensors at 4 Hz. */
export function testScenario(overrides: Readonly<Record<string, unknown>> = {}): Scenario {
  return ScenarioSchema.parse({
    kind: 'splitSystem',
    demo: true,
    title: 'Test unit',
    refrigerant: 'R-410A',
    seed: 11,
    duration_s: 120,
    weather: { outdoorAir_K: 308.15 },
    units: {
      A: {
        designCapacity_W: 10_500,
        metering: { kind: 'txv' },
        room: { start_K: 300.15 },
        events: [{ do: 'start', at_s: 10 }],
        sensors: [
          { channel: 'suctionPressure', rate_Hz: 4, noise: 1500 },
          { channel: 'liquidPressure', rate_Hz: 4, noise: 4000 },
          { channel: 'suctionLineTemp', rate_Hz: 1, lag_s: 10, noise: 0.05 },
          { channel: 'liquidLineTemp', rate_Hz: 1, lag_s: 10, noise: 0.05 },
        ],
      },
    },
    ...overrides,
  });
}
