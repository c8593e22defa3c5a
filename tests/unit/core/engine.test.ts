import { describe, expect, it } from 'vitest';
import { createEngine } from '../../../core/engine.ts';
import type { EngineConfig } from '../../../core/engine-types.ts';
import type { Sample } from '../../../core/stream/sample.ts';
import { drawnSession, testConfig } from '../../support/session.ts';

function run(samples: readonly Sample[], config: EngineConfig = testConfig()) {
  const engine = createEngine(config);
  engine.push(samples);
  return engine;
}

const settling = { seed: 1, duration: 1800, rate: 2, tau: 80, start: 120, noise: 0.15 };
const degF = (kelvin: number): number => kelvin * 1.8;

describe('engine', () => {
  it('goes from idle over starting to settled, and says when', () => {
    const engine = run(drawnSession(settling));
    engine.finish();
    const spans = engine.spans();
    expect(spans[0]?.state).toBe('idle');
    expect(spans.map((s) => s.state)).toContain('starting');
    const settled = spans.find((s) => s.state === 'settled');
    expect(settled?.from).toBeGreaterThanOrEqual(120 + 600);
    expect(settled?.from).toBeLessThan(120 + 600 + 60);
    expect(spans.at(-1)?.state).toBe('settled');
  });

  it('reads nothing off a unit that stands behind a closed valve, however still it is', () => {
    const kelvin = (f: number): number => (f + 459.67) / 1.8;
    const samples: Sample[] = [];
    for (let t = 0; t < 1500; t += 2) {
      // R-410A at 75 °F and at 100 °F: what each side would have in the air around it.
      const values = {
        suctionPressure: 1.6e6,
        liquidPressure: 2.29e6,
        suctionLineTemp: kelvin(98),
        liquidLineTemp: kelvin(99),
        outdoorAirTemp: kelvin(100),
        returnAirTemp: kelvin(75),
      };
      for (const channel of Object.keys(values) as (keyof typeof values)[]) {
        samples.push({ channel, t, value: values[channel] });
      }
    }
    const engine = run(samples);
    engine.finish();
    expect(engine.spans().map((s) => [s.state, s.reason.code])).toEqual([['idle', 'notRunning']]);
  });

  it('reads the superheat and subcooling that were drawn', () => {
    const engine = run(drawnSession(settling));
    engine.finish();
    const snapshot = engine.spans().find((s) => s.state === 'settled')?.snapshot;
    expect(degF(snapshot!.figures.superheat!.value)).toBeCloseTo(12, 1);
    expect(degF(snapshot!.figures.subcooling!.value)).toBeCloseTo(10, 1);
    expect(snapshot!.figures.superheat!.marks).toEqual(['altitudeAtmosphere', 'assumedAccuracy']);
  });

  it('begins a new settled span where a slow mean leaves the average of the old one', () => {
    const degF_s = 0.6 / 300;
    const samples = drawnSession({ ...settling, duration: 3600 }).map((s) =>
      s.channel === 'suctionLineTemp' && s.t > 900 && s.value !== null
        ? { ...s, value: s.value + (degF_s * (s.t - 900)) / 1.8 }
        : s,
    );
    const engine = run(samples);
    engine.finish();
    const spans = engine.spans();
    const first = spans.findIndex((s) => s.state === 'settled');
    const settled = spans.slice(first);
    expect(settled.length).toBeGreaterThanOrEqual(3);
    expect(new Set(settled.map((s) => s.state))).toEqual(new Set(['settled']));
    settled.forEach((span, i) => {
      if (i > 0) expect(span.from).toBe(settled[i - 1]?.to);
      const { from, to } = span.snapshot!.window;
      expect([from, to]).toEqual([span.from, span.to]);
      const middle = Math.max(0, (Math.max(from, 900) + to) / 2 - 900);
      const share = (to - Math.max(from, 900)) / (to - from);
      const expected = 12 + degF_s * middle * share;
      expect(degF(span.snapshot!.figures.superheat!.value)).toBeCloseTo(expected, 0.5);
    });
  });

  it('keeps the readings of a settled span when the instruments are taken off after it', () => {
    const samples = drawnSession(settling);
    const takenOff = (at: number) =>
      samples.filter((s) => s.channel !== 'suctionLineTemp' || s.t < at);
    const marksOf = (at: number) => {
      const engine = run(takenOff(at));
      engine.finish();
      const settled = engine.spans().find((s) => s.state === 'settled');
      const channels = settled?.snapshot?.channels;
      return channels?.find((c) => c.channel === 'suctionLineTemp')?.marks;
    };
    // A minute before the end of the stream, and a hiccup in its last seconds.
    expect(marksOf(1740)).not.toContain('stale');
    expect(marksOf(1791)).not.toContain('stale');
  });

  it('marks a channel of a settled span that fell silent long before its end', () => {
    const samples = drawnSession(settling);
    for (let t = 0; t < 1500; t += 2) samples.push({ channel: 'outdoorAirTemp', t, value: 308 });
    samples.sort((a, b) => a.t - b.t);
    const engine = run(samples);
    engine.finish();
    const channels = engine.spans().find((s) => s.state === 'settled')?.snapshot?.channels;
    expect(channels?.find((c) => c.channel === 'outdoorAirTemp')?.marks).toContain('stale');
  });

  it('says where the readings of a span too short to average were taken before it', () => {
    const samples = drawnSession({ ...settling, duration: 900, steps: [{ at: 745, by: 8 }] });
    const engine = run(samples);
    engine.finish();
    const settled = engine.spans().find((s) => s.state === 'settled');
    expect(settled!.to! - settled!.from).toBeLessThan(30);
    const { window, figures, channels } = settled!.snapshot!;
    expect(window.to).toBeLessThanOrEqual(settled!.to!);
    expect(window.from).toBeLessThan(settled!.from);
    expect(degF(figures.superheat!.value)).toBeCloseTo(12, 0);
    expect(figures.superheat!.marks).toContain('beforeSpan');
    expect(channels.every((c) => c.marks.includes('beforeSpan'))).toBe(true);
  });

  it('reads a hunting span over whole periods, with amplitude and period', () => {
    const swing = (t: number): number => (4 * Math.sin((2 * Math.PI * t) / 90)) / 1.8;
    const samples = drawnSession({ ...settling, duration: 2400 }).map((s) =>
      s.channel === 'suctionLineTemp' && s.value !== null && s.t > 120
        ? { ...s, value: s.value + swing(s.t) }
        : s,
    );
    const engine = run(samples);
    engine.finish();
    const hunting = engine.spans().findLast((s) => s.state === 'hunting');
    const { window, figures } = hunting!.snapshot!;
    expect(window.from).toBeGreaterThanOrEqual(hunting!.from);
    expect(window.to - window.from).toBeGreaterThan(1500);
    expect(degF(figures.superheat!.value)).toBeCloseTo(12, 1);
    expect(figures.superheat!.marks).toContain('hunting');
    const { reason } = hunting!;
    if (reason.code !== 'swinging') throw new Error('not named');
    expect(degF(reason.amplitude)).toBeCloseTo(4, 0);
    expect(Math.abs(reason.period - 90)).toBeLessThan(3);
  });

  it('reads a slow swing over whole periods also where the window holds but one', () => {
    const swing = (t: number): number => (4 * Math.sin((2 * Math.PI * t) / 200)) / 1.8;
    const samples = drawnSession({ ...settling, duration: 2400 }).map((s) =>
      s.channel === 'suctionLineTemp' && s.value !== null && s.t > 120
        ? { ...s, value: s.value + swing(s.t) }
        : s,
    );
    const engine = run(samples);
    const { steadiness, figures } = engine.state();
    expect(steadiness.state).toBe('hunting');
    const { u, uSystematic } = figures.superheat!;
    // Halves of a period would give means 5 °F apart, and of two means a scatter of ± 30 °F.
    expect(degF(u) - degF(uSystematic)).toBeLessThan(0.3);
  });

  it('parts a swing about a moving mean from one about a mean at rest, and reads only the latter', () => {
    const moves = (t: number): number =>
      (4 * Math.sin((2 * Math.PI * t) / 90) - 0.02 * Math.max(0, 1600 - t)) / 1.8;
    const samples = drawnSession({ ...settling, duration: 3200 }).map((s) =>
      s.channel === 'suctionLineTemp' && s.value !== null && s.t > 120
        ? { ...s, value: s.value + moves(s.t) }
        : s,
    );
    const engine = run(samples);
    engine.finish();
    const [first, ...later] = engine.spans().filter((s) => s.state === 'hunting');
    if (first?.reason.code !== 'swinging') throw new Error('not named');
    expect(first.reason.adrift?.quantity).toBe('superheat');
    expect(first.snapshot).toBeNull();
    const last = later.at(-1)!;
    if (last.reason.code !== 'swinging') throw new Error('not named');
    expect(last.reason.adrift ?? null).toBeNull();
    expect(degF(last.snapshot!.figures.superheat!.value)).toBeCloseTo(12, 0);
  });

  it('notices a step within ten seconds and settles again on new evidence', () => {
    const samples = drawnSession({ ...settling, duration: 2600, steps: [{ at: 1500, by: 8 }] });
    const engine = run(samples);
    engine.finish();
    const spans = engine.spans();
    const disturbed = spans.find((s) => s.state === 'disturbed');
    expect(disturbed?.from).toBeGreaterThanOrEqual(1500 - 10);
    expect(disturbed?.from).toBeLessThanOrEqual(1510);
    const settled = spans.filter((s) => s.state === 'settled');
    expect(settled.length).toBe(2);
    expect(degF(settled[1]!.snapshot!.figures.superheat!.value)).toBeCloseTo(20, 0);
    // The first span must not carry what came with the step.
    expect(degF(settled[0]!.snapshot!.figures.superheat!.value)).toBeCloseTo(12, 1);
  });

  it('is blind, and names the sensor, while a needed channel is missing', () => {
    const samples = drawnSession(settling).filter((s) => s.channel !== 'liquidLineTemp');
    const { state, reason } = run(samples).state().steadiness;
    expect(state).toBe('blind');
    expect(reason).toMatchObject({ code: 'missing', channels: ['Liquid line'] });
  });

  it('is blind through a silence that the log does not mark, and settles on new evidence', () => {
    const silence = (s: Sample): boolean => s.t > 1300 && s.t < 3100;
    const long = drawnSession({ ...settling, duration: 4200 });
    const engine = run(long.filter((s) => !silence(s)));
    engine.finish();
    const spans = engine.spans();
    const blind = spans.find((s) => s.state === 'blind');
    expect(blind?.from).toBeGreaterThan(1300);
    expect(blind?.from).toBeLessThan(1330);
    expect(blind?.to).toBeGreaterThan(3090);
    const settled = spans.filter((s) => s.state === 'settled');
    expect(settled.map((s) => s.from >= 3100 + 60)).toEqual([false, true]);
  });

  it.each([-5000, 0, 5000])(
    'tells the spans of a log that begins at %s s by its times',
    (start) => {
      const engine = run(drawnSession(settling).map((s) => ({ ...s, t: s.t + start })));
      engine.finish();
      const spans = engine.spans();
      expect(spans[0]?.from).toBe(start);
      const settled = spans.find((s) => s.state === 'settled');
      expect(settled?.from).toBeGreaterThanOrEqual(start + 120 + 600);
      expect(settled?.from).toBeLessThan(start + 120 + 600 + 60);
    },
  );

  it('does without subcooling where an orifice meters', () => {
    const samples = drawnSession(settling).filter((s) => s.channel !== 'liquidLineTemp');
    const engine = run(samples, testConfig({ metering: 'fixed' }));
    expect(engine.state().steadiness.state).toBe('settled');
    expect(engine.state().figures.subcooling).toBeUndefined();
  });

  it('becomes blind when a needed sensor falls silent', () => {
    const samples = drawnSession(settling).filter(
      (s) => s.channel !== 'suctionLineTemp' || s.t < 1500,
    );
    const engine = run(samples);
    expect(engine.state().steadiness.state).toBe('blind');
    expect(engine.state().channels.suctionLineTemp?.stale).toBe(true);
  });

  it('corrects gauge channels by another atmosphere, and others not at all', () => {
    const samples = drawnSession(settling);
    const there = run(samples).snapshot();
    const config = testConfig();
    const higher = run(samples, {
      ...config,
      atmosphere: { pressure: config.gauge.convertedWith - 10_000, kind: 'altitude' },
    }).snapshot();
    if (!there.ok || !higher.ok) throw new Error('no snapshot');
    const value = (of: typeof there, channel: string): number =>
      of.value.channels.find((c) => c.channel === channel)!.value;
    expect(value(there, 'suctionPressure') - value(higher, 'suctionPressure')).toBeCloseTo(1e4, 6);
    expect(value(higher, 'suctionLineTemp')).toBe(value(there, 'suctionLineTemp'));
    expect(higher.value.figures.superheat!.value).toBeGreaterThan(
      there.value.figures.superheat!.value,
    );
  });

  it('uses a measured barometer instead of the assumption', () => {
    const samples: Sample[] = [
      { channel: 'barometricPressure', t: 0, value: 91_325 },
      ...drawnSession(settling),
    ];
    const engine = run(samples, {
      ...testConfig(),
      atmosphere: { pressure: 101_325, kind: 'assumed' },
    });
    const marks = engine.state().figures.superheat?.marks;
    expect(marks).not.toContain('assumedAtmosphere');
    const pressure = engine.state().channels.suctionPressure!.value!;
    expect(samples.findLast((s) => s.channel === 'suctionPressure')!.value! - pressure).toBe(1e4);
  });

  it.each([
    ['returnAirTemp and supplyAirTemp', 60, ['returnAirTemp', 'supplyAirTemp']],
    ['supplyAirTemp', 30, ['supplyAirTemp']],
    ['suctionLineTemp', 15, ['suctionLineTemp']],
    ['liquidPressure', 10, ['liquidPressure']],
  ])('settles, and takes nothing for a step, with %s once in %d s', (_, period, slow) => {
    // Air that differs from minute to minute by a degree: held in between, each change looks sudden.
    const samples = drawnSession({ ...settling, rate: 1, duration: 2400, noise: 0.05 })
      .filter((s) => !slow.includes(s.channel) || s.t % period === 0)
      .map((s) =>
        s.channel === 'supplyAirTemp' && s.value !== null
          ? { ...s, value: s.value + 0.5 * Math.sin(s.t ** 2) }
          : s,
      );
    const engine = run(samples);
    engine.finish();
    const spans = engine.spans();
    expect(spans.map((s) => s.state)).not.toContain('disturbed');
    expect(spans.map((s) => s.state)).not.toContain('blind');
    const settled = spans.findLast((s) => s.state === 'settled');
    expect(degF(settled!.snapshot!.figures.superheat!.value)).toBeCloseTo(12, 0);
  });

  it('takes a step of a fast quantity for one beside a slow channel', () => {
    const samples = drawnSession({ ...settling, rate: 1, duration: 1600 }).flatMap((s) => {
      if (s.channel === 'liquidLineTemp' && s.t % 15 !== 0) return [];
      if (s.channel !== 'suctionLineTemp' || s.t < 1400 || s.value === null) return [s];
      return [{ ...s, value: s.value + 5 * (1 - Math.exp((1400 - s.t) / 10)) }];
    });
    const engine = run(samples);
    engine.finish();
    const disturbed = engine.spans().find((s) => s.state === 'disturbed');
    expect(disturbed?.from).toBeGreaterThan(1400);
    expect(disturbed?.from).toBeLessThanOrEqual(1410);
  });

  it('shows no superheat of a unit at rest', () => {
    const engine = run(drawnSession({ ...settling, duration: 100 }));
    const { figures, steadiness } = engine.state();
    expect(steadiness.state).toBe('idle');
    expect(figures.superheat).toBeUndefined();
    expect(degF(figures.suctionSaturation!.value) - 459.67).toBeCloseTo(80, 1);
  });

  it('refuses a snapshot of nothing', () => {
    expect(run([]).snapshot()).toEqual({ ok: false, error: { code: 'NOTHING_TO_READ' } });
  });

  it('forgets all when reset', () => {
    const engine = run(drawnSession(settling));
    engine.reset();
    expect(engine.state().t).toBeNull();
    expect(engine.spans()).toEqual([]);
  });
});
