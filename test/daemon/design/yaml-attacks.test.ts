import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FileProblems } from '../../../daemon/design/file-problems.js';
import { loadBench, loadDesign } from '../../../daemon/design/load.js';
import { readYaml } from '../../../daemon/design/yaml-text.js';
import { REFUSED_YAML } from './refused-yaml.js';

describe('a file of a stranger with', () => {
  it.each(Object.entries(REFUSED_YAML))('%s is refused with a sentence', (_, text) => {
    for (const read of [readYaml, loadDesign, loadBench]) {
      expect(() => read(text, 'cabin.yaml')).toThrow(FileProblems);
    }
    expect(({} as Record<string, unknown>)['armed']).toBeUndefined();
  });

  it.each([
    'a: !!js/function "function () { process.exit(7) }"',
    'a: !!python/object/apply:os.system ["exit 7"]',
    'a: !<tag:yaml.org,2002:js/undefined> ""',
    'a: !!binary cHJvY2Vzcw==',
  ])('a program in a tag, %s, stays text or is refused', (text) => {
    let found: unknown = null;
    try {
      found = readYaml(text, 'cabin.yaml').value;
    } catch (error) {
      expect(error).toBeInstanceOf(FileProblems);
    }
    expect(typeof (found as { a?: unknown } | null)?.a).not.toBe('function');
  });
});

it(
  'whatever stands in a design or bench, it is read or refused, never thrown at (fast-check, seed 74)',
  { timeout: 120_000 },
  () => {
    const sign = fc.constantFrom(
      ...'\n\n  :-[]{}&*!|>?,#"\'%@`ab1.~<=',
      '__proto__',
      'rails:',
      'mains:',
      '\t',
      '\u0000',
      '\uD800',
    );
    fc.assert(
      fc.property(fc.array(sign, { maxLength: 60 }), (signs) => {
        for (const read of [loadDesign, loadBench]) {
          try {
            read(signs.join(''), 'cabin.yaml');
          } catch (error) {
            expect(error).toBeInstanceOf(FileProblems);
          }
        }
      }),
      { seed: 74, numRuns: 1500 },
    );
  },
);
