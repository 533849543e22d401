import type { Reporter, TestModule } from 'vitest/node';

/** Ends a run with "N passed, N failed, N skipped" alone on a line, so that any log reader can count it. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const count = { passed: 0, failed: 0, skipped: 0, pending: 0 };
    for (const module of modules) {
      for (const test of module.children.allTests()) count[test.result().state] += 1;
      // A file that could not even be loaded has no tests to count, yet must not pass silently.
      if (module.errors().length > 0) count.failed += 1;
    }
    console.log(`\n${count.passed} passed, ${count.failed} failed, ${count.skipped + count.pending} skipped`);
  }
}
