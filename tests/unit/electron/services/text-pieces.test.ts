import { describe, expect, it } from 'vitest';
import { TextPieces } from '../../../../electron/services/text-pieces.ts';

describe('texts in pieces', () => {
  it('come together in their order and are forgotten once taken', () => {
    const texts = new TextPieces(10);
    const added = [texts.add('a', 0, 'one'), texts.add('b', 0, 'x'), texts.add('a', 1, 'two')];
    expect(added).toEqual(['added', 'added', 'added']);
    expect([texts.take('a'), texts.take('b'), texts.take('a')]).toEqual(['onetwo', 'x', '']);
  });

  it('are given up where they are too much, whatever size was announced', () => {
    const texts = new TextPieces(5);
    expect(texts.add('a', 0, 'four')).toBe('added');
    expect(texts.add('a', 1, 'more')).toBe('tooMuch');
    expect(texts.take('a')).toBe('');
  });

  it('are given up, the oldest first, where more begin than are kept', () => {
    const texts = new TextPieces(5);
    for (const key of ['a', 'b', 'c']) texts.add(key, 0, key);
    expect(['a', 'b', 'c'].map((key) => texts.take(key))).toEqual(['', 'b', 'c']);
    expect(texts.add('a', 1, 'rest')).toBe('incomplete');
    expect(texts.take('a')).toBe('');
  });
});
