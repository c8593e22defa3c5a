import { describe, expect, it } from 'vitest';
import { liveContent } from '../../../../core/diagnosis/live-content.ts';
import { createEngine } from '../../../../core/engine.ts';
import type { ChannelKey } from '../../../../core/stream/channels.ts';
import { pascalFromPsig } from '../../../../core/units/pressure.ts';
import { kelvinFromFahrenheit } from '../../../../core/units/temperature.ts';
import { configOf } from './make.ts';

const VALUES: Partial<Record<ChannelKey, number>> = {
  suctionPressure: pascalFromPsig(103),
  liquidPressure: pascalFromPsig(331),
  suctionLineTemp: kelvinFromFahrenheit(43),
  liquidLineTemp: kelvinFromFahrenheit(85.5),
};
const samples = (t: number) =>
  Object.entries(VALUES).map(([channel, value]) => ({ channel: channel as ChannelKey, t, value }));

describe('the readings as they stand now', () => {
  it('are the figures of the engine and the latest channels with their uncertainty', () => {
    const config = configOf({});
    const engine = createEngine(config);
    for (let t = 0; t < 60; t += 1) engine.push(samples(t));
    const content = liveContent(engine.state(), config);
    expect(content?.figures.superheat).toEqual(engine.state().figures.superheat);
    const liquid = content?.channels.find((c) => c.channel === 'liquidLineTemp');
    expect(liquid?.value).toBe(VALUES.liquidLineTemp);
    expect(liquid?.u).toBeCloseTo(0.4, 6);
  });

  it('are worked out from typed values that the engine has no window for', () => {
    const config = { ...configOf({}), marks: ['typedByHand' as const] };
    const engine = createEngine(config);
    engine.push(samples(0));
    const content = liveContent(engine.state(), config);
    // R-410A at 103 psig: dew 32.9 °F (CoolProp 8).
    expect((content?.figures.superheat?.value ?? 0) * 1.8).toBeCloseTo(10.1, 1);
    expect(content?.figures.subcooling?.u).toBeGreaterThan(0);
  });

  it('are saturation alone where what was typed is of a unit that stands', () => {
    const config = { ...configOf({}), marks: ['typedByHand' as const] };
    const engine = createEngine(config);
    const standing = { ...VALUES, suctionPressure: VALUES.liquidPressure };
    for (let t = 0; t < 5; t += 1) {
      engine.push(
        Object.entries(standing).map(([channel, value]) => ({
          channel: channel as ChannelKey,
          t,
          value: value ?? NaN,
        })),
      );
    }
    expect(engine.state().steadiness.state).toBe('idle');
    expect(Object.keys(liveContent(engine.state(), config)?.figures ?? {})).toEqual([
      'suctionSaturation',
      'liquidSaturation',
    ]);
  });

  it('are nothing before the first sample', () => {
    const config = configOf({});
    expect(liveContent(createEngine(config).state(), config)).toBeNull();
  });
});
