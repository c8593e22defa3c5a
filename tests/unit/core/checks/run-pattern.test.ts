import { describe, expect, it } from 'vitest';
import { runPattern, runTimeAt } from '../../../../core/checks/run-pattern.ts';
import type { StateSpan } from '../../../../core/engine-types.ts';

const span = (state: StateSpan['state'], from: number, to: number | null): StateSpan => ({
  state,
  from,
  to,
  reason: state === 'idle' ? { code: 'notRunning' } : { code: 'noData' },
  snapshot: null,
});

describe('run pattern', () => {
  it('counts starts and the median of finished runs', () => {
    const spans = [
      span('idle', 0, 100),
      span('starting', 100, 250),
      span('idle', 250, 400),
      span('starting', 400, 600),
      span('moving', 600, 650),
      span('idle', 650, 900),
      span('starting', 900, null),
    ];
    expect(runPattern(spans)).toEqual({ starts: 3, medianRun: 250, span: 900 });
  });

  it('does not count the first run of a recording that begins running', () => {
    const spans = [span('moving', 0, 300), span('idle', 300, 500), span('starting', 500, 700)];
    expect(runPattern(spans)).toEqual({ starts: 1, medianRun: null, span: 700 });
    expect(runPattern([])).toBeNull();
  });

  it('tells the run time only where the start was seen', () => {
    const settled = span('settled', 800, 1500);
    expect(runTimeAt([span('idle', 0, 100), span('starting', 100, 800), settled], settled)).toBe(
      1400,
    );
    expect(runTimeAt([span('starting', 100, 800), settled], settled)).toBeNull();
  });
});
