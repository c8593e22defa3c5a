import { describe, expect, it } from 'vitest';
import { createEngine } from '../../../../core/engine.ts';
import type { Sample } from '../../../../core/stream/sample.ts';
import { createSwapFollower } from '../../../../electron/services/swap-follower.ts';
import { drawnSession, testConfig } from '../../../support/session.ts';

const RIGHT = drawnSession({ seed: 4, duration: 240, rate: 1, tau: 20, start: 10, noise: 0.05 });
const EXCHANGED = { suctionPressure: 'liquidPressure', liquidPressure: 'suctionPressure' } as const;
const WRONG = RIGHT.map((sample): Sample => {
  const { channel } = sample;
  const other =
    channel === 'suctionPressure' || channel === 'liquidPressure' ? EXCHANGED[channel] : channel;
  return { ...sample, channel: other };
});

function questionsOf(samples: readonly Sample[]) {
  const follower = createSwapFollower('cooling');
  createEngine(testConfig(), follower.observe).push(samples);
  return { follower, codes: follower.questions().map((q) => q.code) };
}

describe('the question whether two sensors are exchanged', () => {
  it('is asked of any session that shows the wrong order for a minute', () => {
    expect(questionsOf(WRONG).codes).toEqual(['HOSES_LOOK_SWAPPED']);
    expect(questionsOf(WRONG.filter((s) => s.t < 60)).codes).toEqual([]);
    expect(questionsOf(RIGHT).codes).toEqual([]);
  });

  it('is forgotten when time jumps', () => {
    const { follower } = questionsOf(WRONG);
    follower.reset();
    expect(follower.questions()).toEqual([]);
  });
});
