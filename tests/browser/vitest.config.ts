import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: fileURLToPath(new URL('../..', import.meta.url)),
  test: {
    include: ['tests/browser/**/*.test.ts'],
    globalSetup: ['tests/browser/build.ts'],
    env: { TZ: 'Pacific/Auckland' },
    testTimeout: 180_000,
    hookTimeout: 120_000,
    fileParallelism: false,
    // A walk cannot go on from a step that failed.
    bail: 1,
  },
});
