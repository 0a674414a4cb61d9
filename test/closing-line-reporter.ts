import type { Reporter, TestModule } from 'vitest/node';

/** Prints `N passed, N failed` alone on the last line, so that any runner can read the outcome. */
export default class ClosingLineReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    let passed = 0;
    let failed = unhandledErrors.length;
    let skipped = 0;
    for (const module of modules) {
      failed += module.errors().length;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state === 'passed') passed += 1;
        else if (state === 'skipped') skipped += 1;
        else failed += 1;
      }
    }
    console.log(`\n${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`);
  }
}
