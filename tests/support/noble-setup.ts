import { requireNoble } from './noble-sources.ts';

/** Once before the unit project: several test files at a time must not install the same thing. */
export function setup(): void {
  requireNoble();
}
