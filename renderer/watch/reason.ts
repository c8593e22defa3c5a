import type { Mode } from '../../core/circuit/types.ts';
import { reasonFormat, reasonText } from '../../core/steadiness/reason-text.ts';
import type { Reason } from '../../core/steadiness/types.ts';
import type { UnitSystem } from '../app/format.ts';
import { unbroken } from '../app/unbroken.ts';

/** Why the state is what it is, in the chosen units, of a unit that runs in this mode. */
export function reasonIn(reason: Reason, system: UnitSystem, mode: Mode): string {
  return unbroken(reasonText(reason, reasonFormat(system, mode)));
}
