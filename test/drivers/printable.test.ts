import { describe, expect, it } from 'vitest';
import { printable } from '../../drivers/printable.js';

describe('printable', () => {
  it.each([
    ['  12.06 V \r\n', '12.06 V'],
    ['41.3 °C 4.7 kΩ', '41.3 °C 4.7 kΩ'],
    ['a\x00b\x1b[1m', 'a\\x00b\\x1b[1m'],
    ['tab\there', 'tab\\x09here'],
    ['turned \u202e round', 'turned \\x202e round'],
    ['half \ud800 pair', 'half \\xd800 pair'],
    ['', ''],
  ])('shows %j as %j', (text, shown) => {
    expect(printable(text)).toBe(shown);
  });

  it('cuts long text, also when it grows by being escaped', () => {
    expect(printable('x'.repeat(200))).toHaveLength(200);
    expect(printable('x'.repeat(201))).toBe(`${'x'.repeat(199)}…`);
    expect(printable('\x01'.repeat(100_000))).toHaveLength(200);
    expect(printable('abcdef', 4)).toBe('abc…');
  });
});
