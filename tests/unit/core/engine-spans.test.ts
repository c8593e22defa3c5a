import { describe, expect, it } from 'vitest';
import { createSpanLog } from '../../../core/engine-spans.ts';
import type { SteadinessGlance, SteadinessView } from '../../../core/steadiness/types.ts';

const swinging = (since: number, rests: boolean): SteadinessGlance => ({
  state: 'hunting',
  since,
  declaredAt: rests ? since : null,
  reason: {
    code: 'swinging',
    quantity: 'superheat',
    amplitude: 2,
    period: 60,
    adrift: rests ? null : { quantity: 'subcooling', drift: 1, driftU: 1, horizon: 300 },
  },
});
const moving: SteadinessGlance = {
  state: 'moving',
  since: 0,
  declaredAt: null,
  reason: { code: 'noData' },
};

describe('createSpanLog', () => {
  it('keeps no span that the very next frame took back', () => {
    const log = createSpanLog(
      0,
      (_averageOf, window, { state, reason }) => ({
        window,
        state,
        reason,
        figures: {},
        channels: [],
        counts: { samples: 0, gaps: 0, late: 0, repeated: 0, implausible: 0 },
      }),
      () => () => null,
      () => ({ window: null }) as SteadinessView,
    );
    const columns = new Float64Array(0);
    log.push(1, 1, moving, columns);
    log.push(2, 1, swinging(2, false), columns);
    for (let t = 3; t <= 10; t += 1) log.push(t, 1, swinging(2, true), columns);
    log.finish(10);
    expect(log.spans().map(({ state, from, to }) => [state, from, to])).toEqual([
      ['moving', 0, 2],
      ['hunting', 2, 10],
    ]);
  });
});
