/**
 * The steadiness detector: frames of quantities in, one state with its reason out. It keeps the
 * past in blocks, forecasts the mean of the coming minutes for every quantity, and calls the
 * stream still when the forecast stays inside every tolerance with the asked-for confidence.
 */
import { appendBlock, BLOCK_SECONDS, createBlocks, dropBefore, type Blocks } from './blocks.ts';
import { createDigits, type Digits } from './digits.ts';
import { createGate, type Gate } from './gate.ts';
import { createJudge, type Judge } from './judge.ts';
import { createMachine, type Event, type Machine } from './machine.ts';
import { createNoise, type Noise } from './noise.ts';
import { Pace } from './pace.ts';
import { createStepPanel, GRADUAL, SUDDEN, type Beside, type StepPanel } from './step-panel.ts';
import type { Frame, QuantitySpec, SteadinessGlance, SteadinessView } from './types.ts';

/** What the detector is asked for. */
export interface DetectorConfig {
  /** The quantities, in the order of the frames' values. */
  readonly specs: readonly QuantitySpec[];
  /** Floor of the run time before anything is called settled, s. */
  readonly minimumRun: number;
  /** The coming time over which the mean must stay inside its tolerance, s (default 300). */
  readonly horizon?: number;
}

/** Frames in, state out. */
export interface Detector {
  /** Takes the next frame; times must not go back. */
  push(frame: Frame): void;
  /** The state after the last frame: cheap enough for every frame. */
  glance(): SteadinessGlance;
  /** All that is known after the last frame. */
  view(): SteadinessView;
  /** Forgets everything. */
  reset(): void;
}

/** Default horizon, s. */
export const HORIZON_S = 300;

/** Creates a detector. Its memory is fixed at creation, whatever the length of the session. */
export function createDetector(config: DetectorConfig): Detector {
  let room = new Room(config);
  return {
    push: (frame) => room.push(frame),
    glance: () => room.glance(),
    view: () => room.view(),
    reset() {
      room = new Room(config);
    },
  };
}

/** Holds the parts together: frames go to the gates, into blocks, and to the judge. */
class Room {
  readonly #blocks: Blocks;
  readonly #noise: readonly Noise[];
  readonly #gates: readonly Gate[];
  /** The last digits as they come: a flip that the gate takes for wild is still a flip. */
  readonly #digits: readonly Digits[];
  readonly #steps: StepPanel;
  /** Watches the block means for what happens within a minute; and what it saw last. */
  readonly #gradual: StepPanel;
  #crept: Event | null = null;
  readonly #means: Float64Array;
  readonly #blockPace: Float64Array;
  readonly #judge: Judge;
  readonly #machine: Machine;
  readonly #sums: Float64Array;
  readonly #seconds: Float64Array;
  /** The values of a frame that are new; NaN for the others. */
  readonly #news: Float64Array;
  readonly #pace: Pace;
  #blockFrom = NaN;
  /** End and length of the frame the gates hold back. */
  #heldT = NaN;
  #heldDt = NaN;
  /** A silence longer than this, s, parts the evidence: who was not watching cannot speak for it. */
  readonly #longestSilence: number;
  /** End of the latest frame with any value. */
  #heardT = NaN;

  constructor(config: DetectorConfig) {
    const { specs, minimumRun } = config;
    const horizon = config.horizon ?? HORIZON_S;
    this.#longestSilence = horizon;
    this.#blocks = createBlocks(specs.length);
    this.#noise = specs.map(() => createNoise());
    this.#digits = specs.map(() => createDigits());
    this.#gates = specs.map((spec) => createGate(0.05 * spec.tolerance));
    this.#means = new Float64Array(specs.length);
    this.#blockPace = new Float64Array(specs.length);
    this.#news = new Float64Array(specs.length);
    this.#pace = new Pace(specs.length);
    this.#judge = createJudge({
      specs,
      horizon,
      blocks: this.#blocks,
      noise: this.#noise,
      pace: this.#pace.seconds,
    });
    this.#machine = createMachine({ specs, horizon, minimumRun, judge: this.#judge });
    const beside: Beside = {
      still: () => this.#machine.still(),
      flip: (q) => this.#digits[q]?.flip() ?? 0,
      noise: (q) => Math.sqrt((this.#noise[q]?.density() ?? 0) / (this.#pace.seconds[q] ?? 1)),
      swingsSo: (key, size) => this.#judge.swingsSo(key, size),
    };
    this.#steps = createStepPanel(specs, SUDDEN, beside);
    // Averages do not flip a digit.
    this.#gradual = createStepPanel(specs, GRADUAL, { ...beside, flip: () => 0 });
    this.#sums = new Float64Array(specs.length);
    this.#seconds = new Float64Array(specs.length);
  }

  push(frame: Frame): void {
    if (!Number.isNaN(this.#heldT) && frame.t <= this.#heldT) return;
    const runs = this.#machine.running(frame);
    if (runs === 'began' || runs === 'stopped') {
      this.#cut(frame.t - frame.dt, false);
      this.#steps.forget();
      this.#gradual.forget();
    }
    this.#listen(frame);
    for (let q = 0; q < this.#news.length; q += 1) {
      this.#news[q] = frame.fresh?.[q] === false ? NaN : (frame.values[q] ?? NaN);
    }
    this.#digits.forEach((digits, q) => digits.push(this.#news[q] ?? NaN));
    this.#pace.push(frame, this.#news);
    const evaluated = (runs === 'began' || runs === 'runs') && this.#take(frame);
    const sudden =
      runs === 'runs'
        ? this.#steps.push(frame.t, this.#news, frame.values, this.#pace.seconds)
        : null;
    // What creeps is told only of what was still: before that, moving is no news.
    const event = sudden ?? (this.#machine.still() ? this.#crept : null);
    this.#crept = null;
    if (event !== null) this.#cut(frame.t, true);
    this.#machine.frame(frame, { evaluated, event, suspect: evaluated && this.#steps.suspects() });
  }

  glance(): SteadinessGlance {
    return this.#machine.glance();
  }

  view(): SteadinessView {
    return this.#machine.view();
  }

  /** Forgets the past when a long silence ends. */
  #listen(frame: Frame): void {
    if (isSilent(frame)) return;
    const from = frame.t - frame.dt;
    if (from - this.#heardT > this.#longestSilence) this.#cut(from, false);
    this.#heardT = frame.t;
  }

  /** Gives the frame to the gates and puts the one they held into the open block. */
  #take(frame: Frame): boolean {
    const first = Number.isNaN(this.#heldT);
    if (!first && Number.isNaN(this.#blockFrom)) this.#blockFrom = this.#heldT - this.#heldDt;
    this.#gates.forEach((gate, q) => {
      const value = gate.push(this.#news[q] ?? NaN);
      if (first) return;
      this.#noise[q]?.digits.push(value);
      if (Number.isNaN(value)) return;
      this.#sums[q] = (this.#sums[q] ?? 0) + value * this.#heldDt;
      this.#seconds[q] = (this.#seconds[q] ?? 0) + this.#heldDt;
    });
    const gap = frame.t - frame.dt - this.#heldT > 0.5 * frame.dt;
    const full = !first && (this.#heldT - this.#blockFrom >= BLOCK_SECONDS - 1e-6 || gap);
    if (full) this.#closeBlock(this.#heldT);
    this.#heldT = frame.t;
    this.#heldDt = frame.dt;
    return full;
  }

  #closeBlock(to: number): void {
    const from = this.#blockFrom;
    this.#blockFrom = NaN;
    if (this.#seconds.some((s) => s > 0)) {
      appendBlock(this.#blocks, from, to, this.#sums, this.#seconds);
      this.#noise.forEach((noise, q) => {
        const s = this.#seconds[q] ?? 0;
        const mean = s > 0 ? (this.#sums[q] ?? 0) / s : NaN;
        noise.block(mean, s);
        this.#means[q] = mean;
        this.#blockPace[q] = Math.max(to - from, this.#pace.seconds[q] ?? 0);
        this.#judge.block(q, mean, s, to - from);
      });
      this.#judge.evaluate(to);
      this.#crept = this.#gradual.push(to, this.#means, this.#means, this.#blockPace);
    }
    this.#sums.fill(0);
    this.#seconds.fill(0);
  }

  /** Forgets what came before t: the past no longer speaks for the future. */
  #cut(t: number, disturbed: boolean): void {
    dropBefore(this.#blocks, Math.max(t, this.#blocks.to[this.#blocks.size - 1] ?? t));
    this.#sums.fill(0);
    this.#seconds.fill(0);
    this.#blockFrom = NaN;
    this.#heldT = NaN;
    for (const gate of this.#gates) gate.clear();
    for (const noise of this.#noise) noise.cut();
    this.#steps.cut();
    this.#gradual.cut();
    this.#judge.cut(disturbed);
  }
}

/** Whether no quantity has a value in a frame. */
function isSilent(frame: Frame): boolean {
  for (const value of frame.values) if (!Number.isNaN(value)) return false;
  return true;
}
