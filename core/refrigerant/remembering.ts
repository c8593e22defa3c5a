import type { Refrigerant } from './types.ts';

/**
 * The same refrigerant, whose dew and bubble point curves remember the last pressure: the figures of one
 * frame ask for the same point several times in a row. Not to be shared between streams, which would only
 * make each other forget.
 */
export function remembering(refrigerant: Refrigerant): Refrigerant {
  const { curves } = refrigerant;
  const tDew = remembered((p) => curves.tDew(p));
  const tBubble = remembered((p) => curves.tBubble(p));
  return { ...refrigerant, curves: { ...curves, tDew, tBubble } };
}

function remembered(curve: (p: number) => number): (p: number) => number {
  let last = NaN;
  let value = NaN;
  return (p) => {
    if (p !== last) {
      value = curve(p);
      last = p;
    }
    return value;
  };
}
