/**
 * The first place where two plain values differ, in words, or null where they are the same to the
 * last bit. Both are compared as JSON keeps them: a number's shortest text reads back to the same
 * double, and an absent field is the same as an undefined one.
 */
export function firstDifference(stored: unknown, again: unknown): string | null {
  return differ(plain(stored), plain(again), '');
}

function plain(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value)) as unknown;
}

function differ(a: unknown, b: unknown, path: string): string | null {
  if (isObject(a) && isObject(b) && Array.isArray(a) === Array.isArray(b)) {
    for (const key of new Set([...Object.keys(a), ...Object.keys(b)])) {
      const found = differ(a[key], b[key], path === '' ? key : `${path}.${key}`);
      if (found !== null) return found;
    }
    return null;
  }
  if (a === b) return null;
  return `${path} is ${shown(a)} in the record and ${shown(b)} when computed again`;
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}

function shown(value: unknown): string {
  return value === undefined ? 'absent' : JSON.stringify(value);
}
