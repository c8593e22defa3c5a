import type { Mode } from '../../core/circuit/types.ts';
import { reasonFormat, reasonText } from '../../core/steadiness/reason-text.ts';
import type { Reason } from '../../core/steadiness/types.ts';
import type { UnitSystem } from '../app/format.ts';

/** Why the state is what it is, in the chosen units, of a unit that runs in this mode. */
export function reasonIn(reason: Reason, system: UnitSystem, mode: Mode): string {
  return unbroken(reasonText(reason, reasonFormat(system, mode)));
}

/** A number and its unit stay on one line, and so does ± with its number. */
function unbroken(text: string): string {
  return text
    .replace(/(\d) (?=(?:%|°[CF]|K|min|s|h)(?:\W|$))/g, '$1\u00a0')
    .replace(/ ± /g, '\u00a0±\u00a0');
}
