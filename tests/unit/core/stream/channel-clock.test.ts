import { describe, expect, it } from 'vitest';
import { createChannelClock } from '../../../../core/stream/channel-clock.ts';

describe('createChannelClock', () => {
  it('is stale before the first value', () => {
    expect(createChannelClock(5).stale(0)).toBe(true);
  });

  it('is stale after three of its own periods', () => {
    const clock = createChannelClock(5);
    for (let t = 0; t <= 40; t += 4) clock.value(t, 1);
    expect(clock.last().period).toBeCloseTo(4, 9);
    expect(clock.stale(40 + 12)).toBe(false);
    expect(clock.stale(40 + 12.1)).toBe(true);
  });

  it('never calls a fast channel stale within five seconds', () => {
    const clock = createChannelClock(5);
    for (let i = 0; i <= 40; i += 1) clock.value(i / 4, 1);
    expect(clock.stale(15)).toBe(false);
    expect(clock.stale(15.1)).toBe(true);
  });

  it('ends at once when the link is lost, and lives again with the next value', () => {
    const clock = createChannelClock(5);
    clock.value(0, 1);
    clock.gap(1, 'lost');
    expect(clock.stale(1)).toBe(true);
    expect(clock.last().why).toBe('lost');
    clock.value(2, 1);
    expect(clock.stale(2)).toBe(false);
  });

  it('keeps its value over an empty cell until it is stale by time', () => {
    const clock = createChannelClock(5);
    clock.value(0, 1);
    clock.gap(1, 'empty');
    expect(clock.stale(1)).toBe(false);
    expect(clock.stale(16)).toBe(true);
  });

  it('does not learn a longer period from one pause', () => {
    const clock = createChannelClock(5);
    for (let t = 0; t <= 20; t += 1) clock.value(t, 1);
    clock.value(620, 1);
    expect(clock.last().period).toBeLessThan(2);
  });

  it('is not ended by a gap that came late: a newer value was heard', () => {
    const clock = createChannelClock(5);
    clock.value(10, 1);
    clock.gap(9, 'lost');
    expect(clock.stale(10)).toBe(false);
    expect(clock.last()).toMatchObject({ value: 1, valueT: 10, t: 10, why: null });
  });

  it('does not go back for a late value', () => {
    const clock = createChannelClock(5);
    clock.value(10, 1);
    clock.value(9, 2);
    expect(clock.last()).toMatchObject({ value: 1, t: 10 });
  });
});
