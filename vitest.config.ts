import { defineConfig } from 'vitest/config';

// The odd time zone makes any use of the machine's local time visible as a failure.
export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**'],
    env: { TZ: 'Pacific/Auckland' },
    testTimeout: 20_000,
    hookTimeout: 20_000,
  },
});
