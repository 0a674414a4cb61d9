import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { JsonNumberReader } from '../../../drivers/text-lines/json-number.js';

/** The value and what stands behind it; null when nothing is read. */
function read(text: string): readonly [value: number, rest: string] | null {
  const numbers = new JsonNumberReader();
  const end = numbers.read(Buffer.from(text), 0);
  return end < 0 ? null : [numbers.value, text.slice(end)];
}

describe('JsonNumberReader', () => {
  // RFC 8259, section 6.
  it.each([
    ['0}', 0, '}'],
    ['-0,', -0, ','],
    ['41.25 ', 41.25, ' '],
    ['-12.5e3]', -12_500, ']'],
    ['1E-2', 0.01, ''],
    ['7.x', null, null],
    ['1.e3', null, null],
    ['01', null, null],
    ['-01', null, null],
    ['+1', null, null],
    ['.5', null, null],
    ['-', null, null],
    ['', null, null],
    ['OL', null, null],
    ['--', null, null],
  ])('of %j gives %j', (text, value, rest) => {
    expect(read(text)).toEqual(value === null ? null : [value, rest]);
  });

  it('gives the double that JSON.parse gives, or nothing for what no instrument sends (seed 47)', () => {
    const number = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true }).map((n) => JSON.stringify(n)),
      fc.tuple(fc.integer(), fc.nat(999_999)).map(([whole, decimals]) => `${whole}.${decimals}`),
    );
    fc.assert(
      fc.property(number, (text) => {
        const found = read(`${text},`);
        if (found === null) expect(text.length).toBeGreaterThan(22);
        else expect(found).toEqual([JSON.parse(text), ',']);
      }),
      { seed: 47, numRuns: 3000 },
    );
  });
});
