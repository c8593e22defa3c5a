/**
 * Structural sharing: `next` with every part that equals the same part of `prev` replaced by
 * `prev`'s own object. Selectors on parts then return stable references, so only what changed is
 * drawn again. Plain data only (objects, arrays, primitives), as crosses the bridge.
 */
export function share<T>(prev: T, next: T): T {
  if (Object.is(prev, next)) return prev;
  if (Array.isArray(prev) && Array.isArray(next)) return shareArray(prev, next) as T;
  if (isRecord(prev) && isRecord(next)) return shareRecord(prev, next) as T;
  return next;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function shareArray(prev: readonly unknown[], next: readonly unknown[]): readonly unknown[] {
  const merged = next.map((item, i) => (i < prev.length ? share(prev[i], item) : item));
  const same = prev.length === next.length && merged.every((item, i) => Object.is(item, prev[i]));
  return same ? prev : merged;
}

function shareRecord(
  prev: Record<string, unknown>,
  next: Record<string, unknown>,
): Record<string, unknown> {
  const keys = Object.keys(next);
  const merged: Record<string, unknown> = {};
  let same = Object.keys(prev).length === keys.length;
  for (const key of keys) {
    const shared = Object.hasOwn(prev, key) ? share(prev[key], next[key]) : next[key];
    merged[key] = shared;
    same &&= Object.hasOwn(prev, key) && Object.is(shared, prev[key]);
  }
  return same ? prev : merged;
}
