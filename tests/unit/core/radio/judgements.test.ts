import { describe, expect, it } from 'vitest';
import {
  SENSOR_HEALTH,
  SENSOR_TIPS,
  sensorHealth,
  type SensorFacts,
} from '../../../../core/radio/sensor-health.ts';
import { channelValue, quantityFits } from '../../../../core/radio/sensor-value.ts';
import {
  looksRunning,
  swapQuestions,
  type SwapInput,
  type SwapMemory,
} from '../../../../core/radio/swap-check.ts';
import { zeroCheck, type ZeroCheckInput } from '../../../../core/radio/zero-check.ts';

describe('channel value', () => {
  it('raises a gauge pressure by the atmosphere and takes the zero offset off', () => {
    const sent = { quantity: 'pressure', value: 800_000 } as const;
    expect(channelValue(sent, { reference: 'gauge', zeroOffset: 500 }, 85_000)).toBe(884_500);
    expect(channelValue(sent, { reference: 'absolute', zeroOffset: 0 }, 85_000)).toBe(800_000);
    expect(
      channelValue({ quantity: 'pressure', value: null }, { reference: 'gauge', zeroOffset: 1 }, 1),
    ).toBeNull();
    expect(
      channelValue(
        { quantity: 'temperature', value: 300 },
        { reference: 'gauge', zeroOffset: 0 },
        1e5,
      ),
    ).toBe(300);
  });

  it('lets a pressure sensor serve as vacuum gauge, and nothing else cross over', () => {
    expect(quantityFits('pressure', 'vacuum')).toBe(true);
    expect(quantityFits('vacuum', 'suctionPressure')).toBe(false);
    expect(quantityFits('temperature', 'suctionPressure')).toBe(false);
    expect(quantityFits('temperature', 'suctionLineTemp')).toBe(true);
  });
});

describe('zero check', () => {
  const samples = (value: (i: number) => number, n = 20, step = 1) =>
    Array.from({ length: n }, (_, i) => ({ t: i * step, value: value(i) }));
  const base: ZeroCheckInput = {
    samples: samples((i) => 2000 + (i % 2 ? 100 : -100)),
    reference: 'gauge',
    atmosphere_Pa: null,
    fullScale_Pa: null,
  };

  it('finds the offset of a still gauge, and against the barometer for an absolute sensor', () => {
    expect(zeroCheck(base)).toMatchObject({
      ok: true,
      value: { offset_Pa: expect.closeTo(2000, -2) as number, samples: 11 },
    });
    const absolute = { ...base, reference: 'absolute', samples: samples(() => 84_000) } as const;
    expect(zeroCheck({ ...absolute, atmosphere_Pa: 85_000 })).toMatchObject({
      value: { offset_Pa: -1000 },
    });
    expect(zeroCheck(absolute)).toMatchObject({ error: { code: 'NO_BAROMETER' } });
  });

  it('looks at the last values only: what was before the gauge was opened does not count', () => {
    const opened = samples((i) => (i < 10 ? 800_000 : 2000), 30);
    expect(zeroCheck({ ...base, samples: opened })).toMatchObject({
      ok: true,
      value: { offset_Pa: 2000, samples: 11, span_s: 10 },
    });
    const slow = samples(() => 2000, 8, 5);
    expect(zeroCheck({ ...base, samples: slow })).toMatchObject({
      ok: true,
      value: { span_s: 35 },
    });
  });

  it('refuses too little, too short, moving, and an offset that is no zero error', () => {
    expect(zeroCheck({ ...base, samples: samples(() => 0, 7, 5) })).toMatchObject({
      error: { code: 'TOO_FEW' },
    });
    expect(zeroCheck({ ...base, samples: samples(() => 0, 20, 0.1) })).toMatchObject({
      error: { code: 'TOO_SHORT' },
    });
    expect(zeroCheck({ ...base, samples: samples((i) => i * 500) })).toMatchObject({
      error: { code: 'NOT_STILL' },
    });
    expect(zeroCheck({ ...base, samples: samples(() => 36_000) })).toMatchObject({
      error: { code: 'IMPLAUSIBLE', limit_Pa: 35_000 },
    });
    expect(
      zeroCheck({ ...base, samples: samples(() => 8_000), fullScale_Pa: 100_000 }),
    ).toMatchObject({ error: { code: 'IMPLAUSIBLE', limit_Pa: 7_000 } });
    expect(zeroCheck({ ...base, samples: samples(() => NaN) })).toMatchObject({
      error: { code: 'TOO_FEW', have: 0 },
    });
  });
});

describe('swap check', () => {
  const run = (over: Partial<SwapInput>, seconds: number) => {
    let memory: SwapMemory = {};
    let last: ReturnType<typeof swapQuestions> = { questions: [], memory };
    for (let t = 0; t <= seconds; t += 5) {
      last = swapQuestions({ t, mode: 'cooling', running: true, values: {}, ...over }, memory);
      memory = last.memory;
    }
    return last.questions.map((q) => q.code);
  };
  const swapped = { suctionLineTemp: 308, liquidLineTemp: 283 } as const;

  it('asks about clamps in the wrong order for a minute, and only in a running unit', () => {
    expect(run({ values: swapped }, 60)).toEqual(['CLAMPS_LOOK_SWAPPED']);
    expect(run({ values: swapped }, 55)).toEqual([]);
    expect(run({ values: swapped, running: false }, 300)).toEqual([]);
    expect(run({ values: { suctionLineTemp: 283, liquidLineTemp: 308 } }, 300)).toEqual([]);
    expect(run({ values: { suctionLineTemp: 308 } }, 300)).toEqual([]);
  });

  it('asks about hoses, and about air probes by the mode', () => {
    expect(run({ values: { suctionPressure: 2.5e6, liquidPressure: 9e5 } }, 60)).toEqual([
      'HOSES_LOOK_SWAPPED',
    ]);
    const air = { supplyAirTemp: 310, returnAirTemp: 295 };
    expect(run({ values: air }, 60)).toEqual(['AIR_PROBES_LOOK_SWAPPED']);
    expect(run({ values: air, mode: 'heating' }, 60)).toEqual([]);
  });

  it('starts its minute anew after the order was right once', () => {
    let memory: SwapMemory = {};
    const asked: number[] = [];
    for (let t = 0; t <= 150; t += 5) {
      const values = t === 50 ? { suctionLineTemp: 283, liquidLineTemp: 308 } : swapped;
      const out = swapQuestions({ t, mode: 'cooling', running: true, values }, memory);
      memory = out.memory;
      if (out.questions.length > 0) asked.push(t);
    }
    expect(asked[0]).toBe(115);
  });
});

describe('looks running', () => {
  it('goes by the current where there is one, else by pressures that stand apart', () => {
    expect(looksRunning({ suctionPressure: 9e5, liquidPressure: 2.5e6 })).toBe(true);
    expect(looksRunning({ suctionPressure: 2.5e6, liquidPressure: 9e5 })).toBe(true);
    expect(looksRunning({ suctionPressure: 1.5e6, liquidPressure: 1.55e6 })).toBe(false);
    expect(
      looksRunning({ suctionPressure: 9e5, liquidPressure: 2.5e6, compressorCurrent: 0 }),
    ).toBe(false);
    expect(looksRunning({ compressorCurrent: 8 })).toBe(true);
    expect(looksRunning({})).toBe(false);
  });
});

describe('sensor health', () => {
  const good: SensorFacts = {
    now: 100,
    radio: true,
    link: 'connected',
    lastSeen: 99,
    since: 0,
    lastValue: 99,
    period_s: 5,
    battery_percent: 80,
    rssi_dBm: -60,
    keyNeeded: false,
    onEvent: false,
    refused: 0,
  };

  it('has a tip for every state and reaches every state', () => {
    const cases: readonly (readonly [Partial<SensorFacts>, string])[] = [
      [{}, 'good'],
      [{ rssi_dBm: -95 }, 'weakSignal'],
      [{ battery_percent: 10, rssi_dBm: -95 }, 'batteryLow'],
      [{ refused: 3 }, 'garbage'],
      [{ lastValue: 84 }, 'silent'],
      [{ lastValue: 84, onEvent: true }, 'good'],
      [{ lastValue: null, onEvent: true }, 'good'],
      [{ lastValue: null }, 'silent'],
      [{ lastValue: null, since: 90 }, 'connecting'],
      [{ lastValue: 10, since: 90 }, 'good'],
      [{ keyNeeded: true }, 'keyNeeded'],
      [{ link: 'lost' }, 'lost'],
      [{ link: 'connecting' }, 'connecting'],
      [{ link: 'none' }, 'notSeen'],
      [{ lastSeen: null }, 'notSeen'],
      [{ link: 'failed' }, 'failed'],
      [{ radio: false }, 'radioUnavailable'],
    ];
    for (const [over, state] of cases) expect(sensorHealth({ ...good, ...over })).toBe(state);
    expect(new Set(cases.map(([, state]) => state))).toEqual(new Set(SENSOR_HEALTH));
    expect(Object.values(SENSOR_TIPS).every((tip) => tip.length > 0)).toBe(true);
  });

  it('waits three periods of a slow sensor before calling it silent', () => {
    expect(sensorHealth({ ...good, period_s: 60, since: null, lastValue: -79 })).toBe('good');
    expect(sensorHealth({ ...good, period_s: 60, since: null, lastValue: -81 })).toBe('silent');
  });
});
