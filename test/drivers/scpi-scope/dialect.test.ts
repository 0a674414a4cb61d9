import { describe, expect, it } from 'vitest';
import { dialectFrom, DIALECT_NAMES, dialectProblems } from '../../../drivers/scpi-scope/dialect.js';

describe('dialects', () => {
  it.each(DIALECT_NAMES)('%s comes with the program and is whole', (name) => {
    expect(dialectProblems(name)).toEqual([]);
    expect(dialectProblems(dialectFrom(name))).toEqual([]);
    expect(dialectFrom(name)?.dialect).toBe(name);
  });

  const ten = dialectFrom('ten-field');

  it.each([
    [{ ...ten, data: ':WAV:DATA' }, 'dialect.data'],
    [{ ...ten, start: [':SING?'] }, 'dialect.start'],
    [{ ...ten, start: ':SING' }, 'dialect.start'],
    [{ ...ten, setup: ['A\nB'] }, 'dialect.setup'],
    [{ ...ten, done: { ask: '*ESR?', bit: 16 } }, 'dialect.done'],
    [{ ...ten, samples: [] }, 'dialect.samples'],
    [{ ...ten, samples: [{ bits: 12, signed: true, byteOrder: 'big', setup: [] }] }, 'dialect.samples'],
    [{ ...ten, preamble: { ...ten?.preamble, fields: ['points'] } }, 'dialect.preamble'],
    [{ ...ten, preamble: { ...ten?.preamble, formula: 'x+y' } }, 'dialect.preamble'],
    [{ ...ten, coupling: { ask: 'C?', answers: { DC: 'direct' } } }, 'dialect.coupling'],
    [{ ...ten, attenuation: { ask: 'A?' } }, 'dialect.attenuation'],
    [{ ...ten, about: undefined }, 'dialect.about'],
    ['other', 'dialect'],
    [7, 'dialect'],
  ])('refuses %#, naming its key', (written, key) => {
    expect(dialectProblems(written).map((problem) => problem.key)).toEqual([key]);
    expect(dialectFrom(written)).toBeNull();
  });
});
