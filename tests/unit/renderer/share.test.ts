import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { share } from '../../../renderer/store/share.ts';

describe('structural sharing', () => {
  it('gives the old object where nothing changed, at any depth', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const copy = structuredClone(value);
        expect(share(value, copy)).toBe(value);
      }),
    );
  });

  it('gives what equals the new value, whatever came before', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (old, next) => {
        expect(share(old, structuredClone(next))).toEqual(next);
      }),
    );
  });

  it('keeps the parts that did not change beside those that did', () => {
    const old = { a: { x: 1 }, b: [{ y: 2 }, { y: 3 }], c: 1 };
    const next = share(old, { a: { x: 1 }, b: [{ y: 2 }, { y: 4 }], c: 1 });
    expect(next).not.toBe(old);
    expect(next.a).toBe(old.a);
    expect(next.b).not.toBe(old.b);
    expect(next.b[0]).toBe(old.b[0]);
    expect(next.b[1]).toEqual({ y: 4 });
  });

  it('does not take a missing key for one that is undefined', () => {
    expect(share<object>({ a: 1, b: undefined }, { a: 1 })).toEqual({ a: 1 });
    expect(Object.keys(share<object>({ a: 1, b: undefined }, { a: 1, c: undefined }))).toEqual([
      'a',
      'c',
    ]);
  });
});
