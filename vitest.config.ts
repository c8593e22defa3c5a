import { defineConfig } from 'vitest/config';

/**
 * Two projects: `unit` needs only Node and is part of `npm run check`; `e2e` drives the real
 * program in a real browser.
 */
export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'unit',
          include: ['tests/{unit,property,contract,reference}/**/*.test.ts'],
          environment: 'node',
          testTimeout: 60_000,
          globalSetup: ['tests/support/noble-setup.ts'],
        },
      },
      {
        test: {
          name: 'e2e',
          include: ['tests/e2e/**/*.test.ts'],
          environment: 'node',
          testTimeout: 120_000,
          hookTimeout: 180_000,
          fileParallelism: false,
          globalSetup: ['tests/e2e/global-setup.ts'],
        },
      },
    ],
  },
});
