import { COLUMN_COUNT, figureColumn, readWindow, type AverageOf } from './circuit/content.ts';
import { FIGURE_KEYS, figureRow, HIGH_SIDE, readFirst } from './circuit/figures.ts';
import { movesNoHeat } from './circuit/heat-flow.ts';
import { createRunDetector, type RunDetector } from './circuit/run-detector.ts';
import { createClampWatch } from './circuit/slipped-clamp.ts';
import { createFreshness } from './circuit/freshness.ts';
import { JUDGED, missingChannels, pacedChannels, specsFor } from './circuit/judged.ts';
import type {
  Atmosphere,
  ChannelView,
  Engine,
  EngineConfig,
  EngineState,
  SnapshotContent,
  SnapshotRefusal,
  StateSpan,
} from './engine-types.ts';
import { createSpanLog, type SpanLog } from './engine-spans.ts';
import { refrigerant } from './refrigerant/refrigerants.ts';
import { remembering } from './refrigerant/remembering.ts';
import type { Refrigerant } from './refrigerant/types.ts';
import { fail, ok, type Result } from './result.ts';
import { createDetector, type Detector } from './steadiness/detector.ts';
import type { SteadinessGlance, SteadinessView } from './steadiness/types.ts';
import { channelIndex } from './stream/channel-index.ts';
import { CHANNEL_KEYS, type ChannelKey } from './stream/channels.ts';
import { createFramer, type Framer } from './stream/framer.ts';
import { createHistory, type History } from './stream/history.ts';
import { averageOverPeriods } from './stream/period-average.ts';
import type { Sample } from './stream/sample.ts';

/** Frames kept for averages: half an hour at one a second. */
const HISTORY_FRAMES = 1800;
/** Window of readings where the detector names none, s. */
const DEFAULT_WINDOW_S = 60;
/** Typed values stand in one frame; an entry is read over no more than this, s. */
const TYPED_S = 5;
/**
 * A span goes on while a needed channel is silent for less than this, s, as the state does; what is
 * silent for longer at its end does not speak for all of it.
 */
const SPAN_SILENCE_S = 15;
/** Blocks of a window for the uncertainty of its mean: one per 15 s, within these bounds. */
const BLOCK_S = 15;
const MIN_BLOCKS = 4;
const MAX_BLOCKS = 12;

/** The figures of a frame in their order, and the columns of those that are judged. */
const FIGURE_ROWS = FIGURE_KEYS.map(figureRow);
const SUCTION_SATURATION = figureColumn('suctionSaturation');
const LIQUID_SATURATION = figureColumn('liquidSaturation');
const JUDGED_COLUMNS = JUDGED.map(figureColumn);

interface Window {
  readonly from: number;
  readonly to: number;
}

/**
 * Sees each frame as the engine makes it: its end (s) and its columns, channels first, then
 * figures; NaN where absent. The array is reused: read it at once.
 */
export type FrameObserver = (t: number, columns: Float64Array) => void;

/**
 * The one pipeline of live, replay, file, headless and tests. Deterministic: the same samples in
 * the same order give the same state to the last bit, however they were batched.
 *
 * @param observe sees each frame (for trends); it changes nothing
 * @throws Error when the refrigerant is unknown
 */
export function createEngine(config: EngineConfig, observe?: FrameObserver): Engine {
  let pipeline = new Pipeline(config, observe);
  return {
    config,
    push: (samples) => pipeline.push(samples),
    finish: () => pipeline.finish(),
    reset: () => {
      pipeline = new Pipeline(config, observe);
    },
    state: () => pipeline.state(),
    snapshot: () => pipeline.snapshot(),
    spans: () => pipeline.spans(),
  };
}

/** Samples to frames, frames to figures, figures to steadiness and spans. */
class Pipeline {
  readonly #config: EngineConfig;
  readonly #observe: FrameObserver | undefined;
  readonly #fluid: Refrigerant;
  readonly #framer: Framer;
  readonly #runs: RunDetector = createRunDetector();
  readonly #detector: Detector;
  readonly #clamps = createClampWatch();
  readonly #freshness = createFreshness(JUDGED);
  readonly #period = (channel: ChannelKey): number | null =>
    this.#framer.clock(channel).last().period;
  readonly #history: History = createHistory(HISTORY_FRAMES, COLUMN_COUNT);
  readonly #spanLog: SpanLog;
  /** Channels, then figures, of the latest frame; NaN where absent. */
  readonly #columns = new Float64Array(COLUMN_COUNT).fill(NaN);
  /** The judged figures among them. */
  readonly #judged: number[] = JUDGED.map(() => NaN);
  readonly #read = (key: ChannelKey): number => this.#columns[channelIndex(key)] ?? NaN;
  /** All that is known of steadiness after the latest frame, made when it is asked for. */
  #seen: SteadinessView | null = null;
  #t: number | null = null;

  constructor(config: EngineConfig, observe?: FrameObserver) {
    this.#config = config;
    this.#observe = observe;
    this.#fluid = remembering(refrigerant(config.refrigerant));
    this.#detector = createDetector({ specs: specsFor(config), minimumRun: config.minimumRun });
    this.#framer = createFramer({
      paced: pacedChannels(config),
      correct: (channel, value) => this.#correct(channel, value),
      onFrame: (t, dt, channels, spoke) => this.#onFrame(t, dt, channels, spoke),
    });
    this.#spanLog = createSpanLog(
      COLUMN_COUNT,
      (averageOf, window, view) => {
        const silentFrom = window.to - SPAN_SILENCE_S;
        const isStale = (key: ChannelKey): boolean => this.#isSilent(key, silentFrom);
        return this.#content(averageOf, window, view, isStale);
      },
      (window) => this.#overHistory(window),
      () => this.#view(),
    );
  }

  #view(): SteadinessView {
    this.#seen ??= withMissingChannels(this.#detector.view(), this.#read);
    return this.#seen;
  }

  push(samples: readonly Sample[]): void {
    for (const sample of samples) {
      if (this.#t === null || sample.t > this.#t) this.#t = sample.t;
      this.#framer.push(sample);
    }
  }

  finish(): void {
    this.#framer.finish();
    this.#spanLog.finish(this.#t);
  }

  state(): EngineState {
    const window = this.#presentWindow();
    const figures =
      window === null ? {} : this.#content(this.#overHistory(window), window, this.#view()).figures;
    return {
      t: this.#t,
      steadiness: this.#view(),
      channels: this.#channelViews(),
      figures,
      counts: { ...this.#framer.counts },
      movedAlone: this.#clamps.moved(),
    };
  }

  snapshot(): Result<SnapshotContent, SnapshotRefusal> {
    const window = this.#presentWindow();
    if (window === null) return fail({ code: 'NOTHING_TO_READ' });
    const content = this.#content(this.#overHistory(window), window, this.#view());
    if (content.channels.length === 0) return fail({ code: 'NOTHING_TO_READ' });
    if (content.channels.every((reading) => reading.marks.includes('stale'))) {
      return fail({ code: 'STALE_CHANNELS', channels: content.channels.map((r) => r.channel) });
    }
    return ok(content);
  }

  spans(): readonly StateSpan[] {
    return this.#spanLog.spans();
  }

  #onFrame(t: number, dt: number, channels: Float64Array, spoke: Uint8Array): void {
    const columns = this.#columns;
    columns.set(channels);
    const read = this.#read;
    let column = channels.length;
    for (const row of FIGURE_ROWS) {
      columns[column] = row.compute(read, this.#fluid);
      column += 1;
    }
    this.#history.push(t, columns);
    this.#observe?.(t, columns);
    const running = this.#runs.push(
      t,
      read('suctionPressure'),
      readFirst(read, HIGH_SIDE),
      read('compressorCurrent'),
      movesNoHeat(this.#config.mode, {
        suctionSaturation: columns[SUCTION_SATURATION] ?? NaN,
        liquidSaturation: columns[LIQUID_SATURATION] ?? NaN,
        outdoorAir: read('outdoorAirTemp'),
        returnAir: read('returnAirTemp'),
      }),
    );
    this.#clamps.push(t, columns, running);
    for (let q = 0; q < JUDGED_COLUMNS.length; q += 1) {
      this.#judged[q] = columns[JUDGED_COLUMNS[q] ?? 0] ?? NaN;
    }
    const fresh = this.#freshness({ dt, channels, spoke, period: this.#period });
    this.#detector.push({ t, dt, values: this.#judged, running, fresh });
    this.#seen = null;
    this.#spanLog.push(t, dt, withMissingChannels(this.#detector.glance(), this.#read), columns);
  }

  /** The measured barometer where there is one, else what the session assumes. */
  #atmosphere(): Atmosphere {
    const barometer = this.#framer.clock('barometricPressure').last().value;
    return barometer === null ? this.#config.atmosphere : { pressure: barometer, kind: 'measured' };
  }

  #correct(channel: ChannelKey, value: number): number {
    const { gauge, offsets } = this.#config;
    const corrected = value + (offsets[channel] ?? 0);
    if (!gauge.channels.includes(channel)) return corrected;
    return corrected + (this.#atmosphere().pressure - gauge.convertedWith);
  }

  #isStale(channel: ChannelKey): boolean {
    return this.#t === null || this.#framer.clock(channel).stale(this.#t);
  }

  /** Whether a channel had nothing to say at time t, whatever became of it later. */
  #isSilent(channel: ChannelKey, t: number): boolean {
    const clock = this.#framer.clock(channel);
    const { valueT } = clock.last();
    return valueT === null || t - valueT > clock.limit();
  }

  #content(
    averageOf: AverageOf,
    window: Window,
    view: SteadinessGlance,
    isStale = (channel: ChannelKey): boolean => this.#isStale(channel),
  ): SnapshotContent {
    const movedAlone = this.#clamps.moved();
    return {
      window,
      state: view.state,
      reason: view.reason,
      ...readWindow(averageOf, view, isStale, {
        refrigerant: this.#fluid,
        config: this.#config,
        atmosphere: this.#atmosphere(),
        window,
      }),
      counts: { ...this.#framer.counts },
      ...(movedAlone.length === 0 ? {} : { movedAlone }),
    };
  }

  #presentWindow(): Window | null {
    const newest = this.#history.newest();
    const oldest = this.#history.oldest();
    // What was typed is read as it was typed: there is nothing to average it with.
    if (newest !== null && this.#config.marks.includes('typedByHand')) {
      return { from: newest - TYPED_S, to: newest };
    }
    if (this.#view().window !== null) return this.#view().window;
    if (oldest === null || newest === null) return null;
    return { from: Math.max(oldest - 1, newest - DEFAULT_WINDOW_S), to: newest };
  }

  /** Averages over frames kept, in blocks of whole periods when something swings. */
  #overHistory(window: Window): AverageOf {
    const { from, to } = window;
    const swing = this.#view().motions.find((m) => m.swing !== null)?.swing ?? null;
    if (swing !== null) {
      return (column) => averageOverPeriods(this.#history, column, window, swing.period);
    }
    const blocks = Math.min(MAX_BLOCKS, Math.max(MIN_BLOCKS, Math.floor((to - from) / BLOCK_S)));
    return (column) => this.#history.average(column, from, to, blocks);
  }

  #channelViews(): Partial<Record<ChannelKey, ChannelView>> {
    const views: Partial<Record<ChannelKey, ChannelView>> = {};
    for (const key of CHANNEL_KEYS) {
      const last = this.#framer.clock(key).last();
      if (last.t === -Infinity) continue;
      const stale = this.#isStale(key);
      views[key] = {
        value: stale && last.why !== null ? null : last.value,
        t: last.t,
        stale,
        why: last.why,
        period: last.period,
      };
    }
    return views;
  }
}

/** The detector knows quantities; people want to hear which sensor is missing. */
function withMissingChannels<View extends SteadinessGlance>(
  view: View,
  read: (key: ChannelKey) => number,
): View {
  if (view.reason.code !== 'missing') return view;
  const channels = missingChannels(view.reason.quantities, read);
  return { ...view, reason: { ...view.reason, channels } };
}
