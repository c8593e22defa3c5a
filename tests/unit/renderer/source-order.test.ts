import { describe, expect, it } from 'vitest';
import { newUnit } from '../../../core/record/job.ts';
import type { SourceKind } from '../../../core/record/session.ts';
import type { JobView } from '../../../electron/bridge/views.ts';
import { offered } from '../../../renderer/watch/source-order.ts';

const ROWS = (['simulated', 'file', 'manual', 'replay', 'radio'] as const).map((kind) => ({
  kind,
  label: kind,
  hint: '',
  available: true,
}));

/** The order offered in a job with a unit or none, and sessions of these kinds. */
function order(units: number, kinds: readonly SourceKind[]): readonly string[] {
  const sessions = kinds.map((kind) => ({ source: { kind } })) as unknown as JobView['sessions'];
  const job = { units: units === 0 ? [] : [newUnit('A')], sessions };
  return offered(ROWS, job).map((row) => row.kind);
}

describe('the sources offered', () => {
  const atAUnit = ['radio', 'manual', 'file', 'simulated'];
  const demonstration = ['simulated', 'radio', 'manual', 'file'];

  it('begin with the sensors in a job with a unit', () => {
    expect(order(1, [])).toEqual(atAUnit);
    expect(order(1, ['simulated', 'file'])).toEqual(atAUnit);
  });

  it('begin with the simulation where nothing else can begin, or nothing else ever did', () => {
    expect(order(0, [])).toEqual(demonstration);
    expect(order(1, ['simulated', 'simulated'])).toEqual(demonstration);
  });
});
