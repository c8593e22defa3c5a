import { describe, expect, it } from 'vitest';
import { TextPieces } from '../../../../electron/services/text-pieces.ts';

describe('texts in pieces', () => {
  it('come together in their order and are forgotten once taken', () => {
    const texts = new TextPieces(10);
    expect([texts.add('a', 'one'), texts.add('b', 'x'), texts.add('a', 'two')]).toEqual([
      true,
      true,
      true,
    ]);
    expect([texts.take('a'), texts.take('b'), texts.take('a')]).toEqual(['onetwo', 'x', '']);
  });

  it('are given up where they are too much, whatever size was announced', () => {
    const texts = new TextPieces(5);
    expect(texts.add('a', 'four')).toBe(true);
    expect(texts.add('a', 'more')).toBe(false);
    expect(texts.take('a')).toBe('');
  });

  it('are given up, the oldest first, where more begin than are kept', () => {
    const texts = new TextPieces(5);
    for (const key of ['a', 'b', 'c']) texts.add(key, key);
    expect(['a', 'b', 'c'].map((key) => texts.take(key))).toEqual(['', 'b', 'c']);
  });
});
