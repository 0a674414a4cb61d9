import { defineConfig } from 'vitest/config';
import { fileURLToPath } from 'node:url';

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['test/**/*.test.ts'],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    dangerouslyIgnoreUnhandledErrors: false,
    reporters: ['default', './test/closing-line-reporter.ts'],
  },
});
