import { defineConfig } from 'vitest/config';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['test/**/*.test.ts'],
    globalSetup: ['./test/setup/page-folder.ts'],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    // Most of the time goes to waiting for programs, pages and ports, so two run together even on two cores.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    // Every file that loads the program's code anew costs more than most files' cases; none leaves anything behind.
    isolate: false,
    dangerouslyIgnoreUnhandledErrors: false,
    reporters: ['default', './test/closing-line-reporter.ts'],
  },
});
