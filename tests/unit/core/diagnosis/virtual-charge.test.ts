import { describe, expect, it } from 'vitest';
import { virtualCharge } from '../../../../core/diagnosis/virtual-charge.ts';

const degF = (x: number) => x / 1.8;
const exact = (x: number) => ({ value: degF(x), u: 0 });

describe('virtual charge estimate', () => {
  // The worked figures of the method (from memory): 10 °F rated subcooling gives k_ch = 54.8 °F, so
  // that 1 °F of subcooling is 1.8 % of the charge and 10 °F more superheat is 7.3 % less.
  it('meets the worked figures', () => {
    const rated = { subcooling: degF(10), superheat: degF(10) };
    const more = virtualCharge(exact(10), exact(11), rated);
    expect(more.ok && more.value.deviation.value).toBeCloseTo(0.01825, 4);
    const less = virtualCharge(exact(20), exact(10), rated);
    expect(less.ok && less.value.deviation.value).toBeCloseTo(-0.073, 3);
  });

  it('never claims better than the method itself', () => {
    const found = virtualCharge(exact(10), exact(10), { subcooling: 5, superheat: 5 });
    expect(found.ok && found.value.deviation.u).toBeGreaterThanOrEqual(0.1);
  });

  it('refuses without subcooling, without superheat, and without rated values', () => {
    const rated = { subcooling: 5, superheat: 5 };
    expect(virtualCharge(exact(10), exact(0), rated).ok).toBe(false);
    expect(virtualCharge(exact(-1), exact(10), rated).ok).toBe(false);
    expect(virtualCharge(exact(1), exact(1), { ...rated, subcooling: null }).ok).toBe(false);
    expect(virtualCharge(exact(1), exact(1), { ...rated, superheat: null }).ok).toBe(false);
  });
});
