import { FAHRENHEIT_FORMAT, KELVIN_FORMAT, reasonText } from '../../core/steadiness/reason-text.ts';
import type { Reason } from '../../core/steadiness/types.ts';
import type { UnitSystem } from '../app/format.ts';

/** Why the state is what it is, in the chosen units. */
export function reasonIn(reason: Reason, system: UnitSystem): string {
  const text = reasonText(reason, system === 'us' ? FAHRENHEIT_FORMAT : KELVIN_FORMAT);
  return reason.code === 'missing' && reason.channels.length > 0
    ? `${text} Look at: ${reason.channels.join(', ')}.`
    : text;
}
