import { describe, expect, it } from 'vitest';
import { FakeClock } from '../../../support/fake-clock.ts';
import { TextPieces } from '../../../../electron/services/text-pieces.ts';

describe('texts in pieces', () => {
  it('come together in their order and are forgotten once taken', () => {
    const texts = new TextPieces(10, new FakeClock());
    const added = [texts.add('a', 0, 'one'), texts.add('b', 0, 'x'), texts.add('a', 1, 'two')];
    expect(added).toEqual(['added', 'added', 'added']);
    expect([texts.take('a'), texts.take('b'), texts.take('a')]).toEqual(['onetwo', 'x', '']);
  });

  it('are given up where they are too much, whatever size was announced', () => {
    const texts = new TextPieces(5, new FakeClock());
    expect(texts.add('a', 0, 'four')).toBe('added');
    expect(texts.add('a', 1, 'more')).toBe('tooMuch');
    expect(texts.take('a')).toBe('');
  });

  it('are given up, the oldest first, where more begin than are kept', () => {
    const texts = new TextPieces(5, new FakeClock());
    for (const key of ['a', 'b', 'c']) texts.add(key, 0, key);
    expect(['a', 'b', 'c'].map((key) => texts.take(key))).toEqual(['', 'b', 'c']);
    expect(texts.add('a', 1, 'rest')).toBe('incomplete');
    expect(texts.take('a')).toBe('');
  });

  it('are forgotten a minute after their latest piece, and no timer goes on for nothing', () => {
    const clock = new FakeClock();
    const texts = new TextPieces(10, clock);
    texts.add('given up', 0, 'a');
    texts.add('slow', 0, 'x');
    clock.advance(50_000);
    texts.add('slow', 1, 'y');
    clock.advance(50_000);
    expect(texts.add('given up', 1, 'b')).toBe('incomplete');
    expect(texts.add('slow', 2, 'z')).toBe('added');
    expect(texts.take('slow')).toBe('xyz');
    expect(clock.running).toBe(0);
    texts.add('given up', 0, 'a');
    clock.advance(120_000);
    expect(clock.running).toBe(0);
    expect(texts.take('given up')).toBe('');
  });
});
