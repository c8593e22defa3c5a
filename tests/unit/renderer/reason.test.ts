import { describe, expect, it } from 'vitest';
import { reasonIn } from '../../../renderer/watch/reason.ts';

describe('a reason on the screen', () => {
  it('keeps a number and its unit on one line', () => {
    const still = {
      code: 'still',
      counted: ['superheat', 'subcooling'],
      confidence: 0.999,
      horizon: 300,
      quantity: 'superheat',
      drift: 0.1,
      trend: { change: -1, seconds: 150 },
    } as const;
    expect(reasonIn(still, 'bar', 'cooling')).toBe(
      'Superheat and subcooling should stay within tolerance for 5\u00a0min (over 99\u00a0% sure). The superheat fell 1.0\u00a0K in 2\u00a0min 30\u00a0s: read again if it goes on.',
    );
    const drifting = {
      code: 'drifting',
      quantity: 'superheat',
      drift: -1,
      driftU: 0.5,
      horizon: 300,
    } as const;
    expect(reasonIn(drifting, 'us', 'cooling')).toContain(
      '1.8\u00a0°F\u00a0±\u00a00.9\u00a0°F to come',
    );
  });
});
