import { RunClock, type Method } from '../method.ts';
import { Trailing } from './trailing.ts';

/** Averaging time of the reading taken when the time is over, s. */
const READING_S = 60;

/**
 * The fixed wait: 15 minutes of running, then read (California Title 24, Reference Residential
 * Appendices 2008, RA3.2.2). It knows no evidence.
 */
export function fixedTime(quantities: number, wait: number): Method {
  const clock = new RunClock();
  const trailing = new Trailing(quantities, READING_S);
  return {
    push(frame) {
      const { run, fresh } = clock.push(frame);
      if (fresh) trailing.clear();
      trailing.push(frame);
      return trailing.verdict(run >= wait);
    },
  };
}
