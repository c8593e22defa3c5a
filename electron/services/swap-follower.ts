import {
  looksRunning,
  swapQuestions,
  type SwapInput,
  type SwapMemory,
  type SwapQuestion,
} from '../../core/radio/swap-check.ts';
import type { FrameObserver } from '../../core/engine.ts';
import { CHANNEL_KEYS, type ChannelKey } from '../../core/stream/channels.ts';
import { channelIndex } from '../../core/stream/channel-index.ts';

const LOOK_EVERY_S = 5;
const NONE: readonly SwapQuestion[] = [];

/** Asks of a session, whatever its source, whether two of its sensors look exchanged. */
export interface SwapFollower {
  /** Sees each frame of the engine. */
  readonly observe: FrameObserver;
  /** The questions that stand. The same array while nothing changes. */
  questions(): readonly SwapQuestion[];
  /** Time jumped: nothing that was seen still holds. */
  reset(): void;
}

/** A follower of one unit; it goes by the time of the stream. */
export function createSwapFollower(mode: SwapInput['mode']): SwapFollower {
  let memory: SwapMemory = {};
  let questions = NONE;
  let lookedAt = -Infinity;
  return {
    observe(t, columns) {
      if (t - lookedAt < LOOK_EVERY_S) return;
      lookedAt = t;
      const values = valuesOf(columns);
      const asked = swapQuestions({ t, mode, running: looksRunning(values), values }, memory);
      memory = asked.memory;
      questions = asked.questions.length === 0 ? NONE : asked.questions;
    },
    questions: () => questions,
    reset() {
      memory = {};
      questions = NONE;
      lookedAt = -Infinity;
    },
  };
}

function valuesOf(columns: Float64Array): SwapInput['values'] {
  const values: Partial<Record<ChannelKey, number>> = {};
  for (const key of CHANNEL_KEYS) {
    const value = columns[channelIndex(key)];
    if (value !== undefined && !Number.isNaN(value)) values[key] = value;
  }
  return values;
}
