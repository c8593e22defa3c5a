/** Sends a session through the real engine and keeps the frames it made on the way. */
import { figureColumn } from '../../../core/circuit/content.ts';
import { HIGH_SIDE, readFirst } from '../../../core/circuit/figures.ts';
import { createRunDetector } from '../../../core/circuit/run-detector.ts';
import { createEngine } from '../../../core/engine.ts';
import type { StateSpan } from '../../../core/engine-types.ts';
import type { Frame } from '../../../core/steadiness/types.ts';
import { channelIndex } from '../../../core/stream/channel-index.ts';
import type { ChannelKey } from '../../../core/stream/channels.ts';
import { QUANTITIES, type Session } from './session.ts';

/** What the engine made of a session. */
export interface Capture {
  readonly frames: readonly Frame[];
  readonly spans: readonly StateSpan[];
}

/** Runs the engine over a session. */
export function capture(session: Session): Capture {
  const frames: Frame[] = [];
  const runs = createRunDetector();
  let before = NaN;
  const engine = createEngine(session.config, (t, columns) => {
    const read = (key: ChannelKey): number => columns[channelIndex(key)] ?? NaN;
    const running = runs.push(
      t,
      read('suctionPressure'),
      readFirst(read, HIGH_SIDE),
      read('compressorCurrent'),
    );
    const values = QUANTITIES.map((key) => columns[figureColumn(key)] ?? NaN);
    frames.push({ t, dt: Number.isNaN(before) ? 1 : t - before, values, running });
    before = t;
  });
  engine.push(session.samples);
  engine.finish();
  return { frames, spans: engine.spans() };
}
