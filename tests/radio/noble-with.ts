import { createRequire } from 'node:module';
import type { Noble } from '../../electron/radio/noble-types.ts';

/** noble's own objects over bindings that a test holds; loads nothing native. */
export function nobleWith(bindings: unknown): Noble {
  const require = createRequire(import.meta.url);
  const withBindings = require('@abandonware/noble/with-bindings.js') as (b: unknown) => Noble;
  return withBindings(bindings);
}
