import type { DescriptionFailure } from '../../core/radio/description.ts';
import type { ZeroCheckFailure } from '../../core/radio/zero-check.ts';
import { PASCAL_PER_PSI } from '../../core/units/pressure.ts';

const both = (pa: number): string =>
  `${(pa / PASCAL_PER_PSI).toFixed(1)} psi (${(pa / 1000).toFixed(1)} kPa)`;

/** Why a zero check was refused, and what to do, in words. */
export function sayZeroRefusal(failure: ZeroCheckFailure): string {
  switch (failure.code) {
    case 'TOO_FEW':
      return `only ${failure.have} of ${failure.need} values have come; wait a little and try again`;
    case 'TOO_SHORT':
      return `${failure.have_s.toFixed(0)} of ${failure.need_s} seconds are there; wait and try again`;
    case 'NOT_STILL':
      return `the reading moves by ${both(failure.spread_Pa)}; leave the gauge open to the air until it is still`;
    case 'NO_BAROMETER':
      return 'an absolute sensor is checked against the barometer: give the site’s altitude or a measured pressure first';
    case 'IMPLAUSIBLE':
      return `it reads ${both(failure.offset_Pa)} off, more than a zero error (${both(failure.limit_Pa)}). Make sure that nothing is connected and the gauge is open to the air; if it is, the sensor or its gauge/absolute setting is wrong`;
  }
}

/** What is wrong with a description, in words. */
export function sayDescriptionRefusal(failure: DescriptionFailure): string {
  if (failure.code === 'NOT_JSON') return `it is not JSON: ${failure.message}`;
  return failure.issues.map((issue) => `${issue.path}: ${issue.message}`).join('; ');
}
