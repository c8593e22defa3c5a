import { defineConfig } from 'vitest/config';

/** The tests against an independent Bluetooth stack; started by `tests/radio/run.ts`. */
export default defineConfig({
  root: new URL('../..', import.meta.url).pathname,
  test: {
    name: 'radio',
    include: ['tests/radio/**/*.stack.ts'],
    environment: 'node',
    testTimeout: 90_000,
    hookTimeout: 60_000,
    fileParallelism: false,
  },
});
