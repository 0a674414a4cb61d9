import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readPageMessage } from '../../../daemon/serve/page-message.js';

/** Deeper than the stack of a program that looks inside by calling itself. */
const DEEP = '['.repeat(100_000) + ']'.repeat(100_000);

describe('a message of an attacker', () => {
  it.each([
    ['nests without end', DEEP],
    ['has a kind that nests without end', `{"kind":${DEEP}}`],
    ['has a text that nests without end', `{"kind":"note","text":${DEEP}}`],
    ['has a photo that nests without end', `{"kind":"note","text":"x","photo":${DEEP}}`],
    ['has a key that nests without end', `{"kind":"snapshot","x":${DEEP}}`],
    ['names what every object has', '{"kind":"constructor"}'],
    ['names the prototype', '{"kind":"__proto__"}'],
    ['has a prototype', '{"kind":"note","text":"x","__proto__":{"kind":"snapshot"}}'],
    ['has a constructor', '{"kind":"note","text":"x","constructor":{"prototype":{"mayAct":true}}}'],
    ['is null', 'null'],
    ['is empty', ''],
    ['says the kind twice', '{"kind":"snapshot","kind":"nothing"}'],
  ])('that %s is refused with a sentence, and no object is changed', (_, text) => {
    const { message, why } = readPageMessage(text);
    expect(message).toBeNull();
    expect(why?.length).toBeLessThan(300);
    expect(({} as Record<string, unknown>)['mayAct']).toBeUndefined();
  });

  it('never throws, whatever it is (fast-check, seed 73)', () => {
    const kinds = fc.constantFrom(
      'acknowledge',
      'shelve',
      'cut-off',
      'note',
      'probe',
      'typed',
      'load',
      'step',
    );
    const near = fc
      .tuple(kinds, fc.dictionary(fc.string(), fc.jsonValue()))
      .map(([kind, rest]) => JSON.stringify({ ...rest, kind }));
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.json(), near), (text) => {
        const { message, why } = readPageMessage(text);
        expect(message === null).toBe(why !== null);
      }),
      { seed: 73, numRuns: 1000 },
    );
  });
});
