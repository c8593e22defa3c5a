import { meanAtRest } from '../../../core/steadiness/rest.ts';
import { createDetector } from '../../../core/steadiness/detector.ts';
import type { QuantitySpec } from '../../../core/steadiness/types.ts';
import type { Method } from './method.ts';

/** Stillpoint's own detector as a method of the bench. */
export function ours(specs: readonly QuantitySpec[], minimumRun: number): Method {
  const detector = createDetector({ specs, minimumRun });
  return {
    push(frame) {
      detector.push(frame);
      const view = detector.view();
      const still = meanAtRest(view);
      const { motions } = view;
      return {
        still,
        declaredAt: view.declaredAt,
        disturbed: view.state === 'disturbed',
        declared: motions.map((m) => m.value ?? NaN),
        expected: motions.map((m) => (m.value ?? NaN) + (m.drift ?? NaN)),
        halfWidths: motions.map((m) => m.driftU ?? NaN),
        timeLeft: view.timeLeft,
      };
    },
  };
}
