import type { Noble } from '../../electron/radio/noble-types.ts';
import { requireNoble } from '../support/noble-sources.ts';

/** noble's own objects over bindings that a test holds; loads nothing native. */
export function nobleWith(bindings: unknown): Noble {
  const withBindings = requireNoble()('@abandonware/noble/with-bindings.js') as (
    b: unknown,
  ) => Noble;
  return withBindings(bindings);
}
