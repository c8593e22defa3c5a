import { createDetector, type Detector } from '../../../../core/steadiness/detector.ts';
import type { SteadinessState, SteadinessView } from '../../../../core/steadiness/types.ts';

/** Tolerances of the tests, K: 1 °F, and 1.5 °F for the air. */
export const SPECS = [
  { key: 'suctionSaturation', tolerance: 5 / 9, required: true },
  { key: 'liquidSaturation', tolerance: 5 / 9, required: true },
  { key: 'superheat', tolerance: 5 / 9, required: true },
  { key: 'subcooling', tolerance: 5 / 9, required: true },
  { key: 'airDrop', tolerance: 7.5 / 9, required: false },
] as const;

/** Values of the five quantities at a time, K. */
export type Signal = (t: number) => readonly number[];

/** The five quantities at rest, with superheat moved by a function of time. */
export function superheatMoves(move: (t: number) => number): Signal {
  return (t) => [280, 315, 6 + move(t), 5, 11];
}

/** A repeatable noise of unit variance, white from frame to frame. */
export function noise(seed: number): () => number {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

export interface Play {
  readonly from: number;
  readonly to: number;
  readonly dt?: number;
  readonly running?: (t: number) => boolean | null;
}

/** Feeds a signal frame by frame and gives the view after each. */
export function play(detector: Detector, signal: Signal, p: Play): SteadinessView[] {
  const dt = p.dt ?? 1;
  const views: SteadinessView[] = [];
  for (let t = p.from + dt; t <= p.to; t += dt) {
    detector.push({ t, dt, values: signal(t), running: p.running?.(t) ?? true });
    views.push(detector.view());
  }
  return views;
}

/** A detector over the five quantities. */
export function detectorFor(minimumRun = 0): Detector {
  return createDetector({ specs: SPECS, minimumRun });
}

/** Whether any of the views is in a state. */
export function visits(views: readonly SteadinessView[], state: SteadinessState): boolean {
  return views.some((view) => view.state === state);
}
