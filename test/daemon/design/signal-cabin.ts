import { readFileSync } from 'node:fs';
import type { Design } from '../../../daemon/design/design.js';
import { FileProblems, loadBench, loadDesign } from '../../../daemon/design/load.js';

const folder = new URL('../../../daemon/design/examples/signal-cabin/', import.meta.url);

/** The text of the example design and bench, as a person gets them. */
export const DESIGN_TEXT = readFileSync(new URL('signal-cabin.design.yaml', folder), 'utf8');
export const BENCH_TEXT = readFileSync(new URL('signal-cabin.bench.yaml', folder), 'utf8');

/** One replacement in a text; a test that looks for what isn't there must not pass unnoticed. */
export function changed(text: string, from: string, to: string): string {
  if (!text.includes(from)) throw new Error(`"${from}" doesn't stand in the example any more`);
  return text.replace(from, () => to);
}

/** One replacement: what stands in the example, and what to write instead. */
export type Change = readonly [from: string, to: string];

/** The example design with some replacements. */
export function cabin(...changes: readonly Change[]): Design {
  const text = changes.reduce((before, [from, to]) => changed(before, from, to), DESIGN_TEXT);
  return loadDesign(text, 'signal-cabin.design.yaml');
}

/** What loading complains about; fails when it doesn't. */
export function problemsOf(load: () => unknown): FileProblems {
  try {
    load();
  } catch (error) {
    if (error instanceof FileProblems) return error;
    throw error;
  }
  throw new Error('the file was taken without a word');
}

/** The message about the example design after one replacement. */
export function designMessage(from: string, to: string): string {
  const text = changed(DESIGN_TEXT, from, to);
  return problemsOf(() => loadDesign(text, 'signal-cabin.design.yaml')).message;
}

/** The message about the example bench after one replacement, loaded with or without its design. */
export function benchMessage(from: string, to: string, design?: Design): string {
  const text = changed(BENCH_TEXT, from, to);
  return problemsOf(() => loadBench(text, 'signal-cabin.bench.yaml', design)).message;
}
