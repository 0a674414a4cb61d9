import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FileProblems } from '../../../daemon/design/file-problems.js';
import { loadBench, loadDesign } from '../../../daemon/design/load.js';
import { readYaml } from '../../../daemon/design/yaml-text.js';

const MANY = 300_000;

/** Every list ten times in the next one: "billion laughs", as it is called for XML. */
const LAUGHS = [...'bcdefghi']
  .map((name, at) => `${name}: &${name} [${Array(10).fill(`*${'abcdefgh'[at]}`).join(',')}]`)
  .join('\n');

// Kinds that are publicly listed (OWASP: deserialisation, prototype pollution, XML bombs), written in YAML 1.2.
const REFUSED: Readonly<Record<string, string>> = {
  'aliases of aliases': `a: &a [x,x,x,x,x,x,x,x,x,x]\n${LAUGHS}`,
  'an alias within itself': 'a: &a [*a]',
  'brackets without end': '['.repeat(MANY),
  'lists in lists on a line': '- '.repeat(MANY),
  'a prototype': '"__proto__": { armed: true }',
  'a prototype in escapes': '"\\u005f_proto__": { armed: true }',
  'a prototype further in': 'rails: { logic: { __proto__: { armed: true } } }',
  'a prototype by a merge': 'a: &a { x: 1 }\nb:\n  <<: *a\n  __proto__: { armed: true }',
  'anchors without end': Array.from({ length: 40_000 }, (_, at) => `a${at}: &a${at} x`).join('\n'),
  'tags without end': `a: ${'!a '.repeat(MANY)}`,
  'texts without end': `- ${'"a" '.repeat(150_000)}`,
  'list signs without end': '-\n'.repeat(MANY),
  'question marks without end': '?\n'.repeat(MANY),
  'colons without end': ':\n'.repeat(MANY),
  'one key without end': 'a: 1\n'.repeat(150_000),
  'parts without end': '---\n'.repeat(200_000),
  'empty lines without end': '\n'.repeat(900_000),
  'groups in brackets without end': `{${'a,'.repeat(MANY)}}`,
};

describe('a file of a stranger with', () => {
  it.each(Object.entries(REFUSED))('%s is refused with a sentence', (_, text) => {
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

it('whatever stands in a design or bench, it is read or refused, never thrown at (fast-check, seed 74)', () => {
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
});
