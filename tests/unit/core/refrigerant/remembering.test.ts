import { expect, it } from 'vitest';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { remembering } from '../../../../core/refrigerant/remembering.ts';

it('says the same as the refrigerant, in whatever order it is asked', () => {
  const plain = refrigerant('R-454B');
  const kept = remembering(plain);
  for (const p of [9e5, 9e5, 2.4e6, 9e5, NaN, NaN, 2.4e6]) {
    expect(kept.curves.tDew(p)).toBe(plain.curves.tDew(p));
    expect(kept.curves.tBubble(p)).toBe(plain.curves.tBubble(p));
  }
  expect(kept.curves.pDew(280)).toBe(plain.curves.pDew(280));
  expect(kept.range).toBe(plain.range);
});
