import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    globalSetup: 'tests/setup.js',
    setupFiles: 'tests/support/chance.ts',
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
