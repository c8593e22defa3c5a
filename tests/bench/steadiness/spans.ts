import type { StateSpan } from '../../../core/engine-types.ts';
import { specsFor } from '../../../core/circuit/judged.ts';
import { createDetector } from '../../../core/steadiness/detector.ts';
import type { Frame } from '../../../core/steadiness/types.ts';
import type { Session } from './session.ts';

/**
 * The bench scores the detector over the frames the engine made: this holds that against the engine
 * itself, whose spans must name the same states in the same order.
 *
 * @throws Error where they differ
 */
export function checkSpans(
  session: Session,
  frames: readonly Frame[],
  spans: readonly StateSpan[],
): void {
  const { config } = session;
  const detector = createDetector({ specs: specsFor(config), minimumRun: config.minimumRun });
  const states: string[] = [];
  for (const frame of frames) {
    detector.push(frame);
    const { state } = detector.view();
    if (states.at(-1) !== state) states.push(state);
  }
  // One state may be told in several spans (the average was declared anew).
  const engine = spans.map((span) => span.state).filter((state, i, all) => state !== all[i - 1]);
  // A state that began with the very last frame has no length, and so no span.
  if (engine.join() === states.join() || engine.join() === states.slice(0, -1).join()) return;
  throw new Error(
    `${session.family} ${session.seed}: engine ${engine.join()}, bench ${states.join()}`,
  );
}
