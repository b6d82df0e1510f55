import { defineConfig } from 'vitest/config';

// The odd time zone makes any use of the machine's local time visible as a failure.
export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**'],
    env: { TZ: 'Pacific/Auckland' },
    // Stories wait more than they work, so both cores of a small machine can be used.
    maxWorkers: 2,
    // A story that fails on a machine too busy to answer in Slack's three seconds is told once more.
    retry: process.env['CI'] ? 1 : 0,
    testTimeout: 30_000,
    hookTimeout: 30_000,
  },
});
