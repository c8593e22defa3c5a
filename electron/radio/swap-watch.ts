import { channelValue } from '../../core/radio/sensor-value.ts';
import {
  looksRunning,
  swapQuestions,
  type SwapInput,
  type SwapMemory,
  type SwapQuestion,
} from '../../core/radio/swap-check.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { UnitKey } from '../../core/stream/sample.ts';
import { assignments } from './assignments.ts';
import type { HubReading, RadioHub } from './hub.ts';
import type { SensorMemory } from './sensor-store.ts';

/** A value older than this says nothing about now. */
const FRESH_S = 15;
const LOOK_EVERY_S = 5;

interface UnitWatch {
  readonly latest: Map<ChannelKey, { readonly t: number; readonly value: number }>;
  memory: SwapMemory;
  lookedAt: number;
  questions: readonly SwapQuestion[];
}

/** A question about two sensors of a unit. */
export interface UnitQuestion extends SwapQuestion {
  readonly unit: UnitKey;
}

/** Watches the assigned sensors for two that look exchanged. Asks; changes nothing. */
export class SwapWatch {
  readonly #memory: SensorMemory;
  readonly #atmosphere: (unit: UnitKey) => number;
  readonly #modeOf: (unit: UnitKey) => SwapInput['mode'];
  readonly #units = new Map<UnitKey, UnitWatch>();
  /** Ends the watch. */
  readonly stop: () => void;

  constructor(
    hub: RadioHub,
    memory: SensorMemory,
    atmosphere: (unit: UnitKey) => number,
    modeOf: (unit: UnitKey) => SwapInput['mode'],
  ) {
    this.#memory = memory;
    this.#atmosphere = atmosphere;
    this.#modeOf = modeOf;
    this.stop = hub.onReading((reading) => this.#onReading(reading));
  }

  /** The questions that stand, as of now. */
  questions(now: number): readonly UnitQuestion[] {
    return [...this.#units].flatMap(([unit, watch]) =>
      now - watch.lookedAt > FRESH_S ? [] : watch.questions.map((q) => ({ unit, ...q })),
    );
  }

  #onReading(reading: HubReading): void {
    if ('refused' in reading.outcome) return;
    const { measurement } = reading.outcome;
    const mine = assignments(this.#memory).find(
      (a) => a.record.id === reading.id && a.value.key === reading.key,
    );
    if (mine === undefined) return;
    const { unit, channel, value } = mine;
    const settings = { reference: value.reference, zeroOffset: value.zero?.offset_Pa ?? 0 };
    const si = channelValue(measurement, settings, this.#atmosphere(unit));
    const watch = this.#watch(unit);
    if (si === null) watch.latest.delete(channel);
    else watch.latest.set(channel, { t: reading.t, value: si });
    if (reading.t - watch.lookedAt >= LOOK_EVERY_S) this.#look(unit, watch, reading.t);
  }

  #watch(unit: UnitKey): UnitWatch {
    const known = this.#units.get(unit);
    if (known !== undefined) return known;
    const made: UnitWatch = { latest: new Map(), memory: {}, lookedAt: -Infinity, questions: [] };
    this.#units.set(unit, made);
    return made;
  }

  #look(unit: UnitKey, watch: UnitWatch, t: number): void {
    const fresh = [...watch.latest].filter(([, v]) => t - v.t <= FRESH_S);
    const values = Object.fromEntries(fresh.map(([channel, v]) => [channel, v.value]));
    const input = { t, mode: this.#modeOf(unit), running: looksRunning(values), values };
    const asked = swapQuestions(input, watch.memory);
    watch.memory = asked.memory;
    watch.questions = asked.questions;
    watch.lookedAt = t;
  }
}
