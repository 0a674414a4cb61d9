import { describe, expect, it } from 'vitest';
import { readingMaker } from '../../drivers/reading-of.js';

describe('readingMaker', () => {
  it('gives value, unit, channel and time', () => {
    const make = readingMaker({ name: 'logic.ripple', measures: 'ac-volts' });
    expect(make(0.012, null, 30)).toEqual({
      kind: 'reading',
      atMs: 30,
      channel: 'logic.ripple',
      value: 0.012,
      unit: 'Vrms',
    });
  });

  it('gives a mark and no number for what has none', () => {
    const make = readingMaker({ name: 'logic.volts', measures: 'dc-volts' });
    expect(make(NaN, 'overload', 0)).toMatchObject({ value: null, mark: 'overload' });
  });

  // Absolute zero is -273.15 degC (BIPM, SI brochure); the others are far beyond any bench meter (common practice).
  it.each([
    ['temperature', -273.16],
    ['temperature', 1e4],
    ['dc-volts', 1e6],
    ['ac-volts', -5],
    ['frequency', -50],
    ['dc-amps', Infinity],
    ['ohms', NaN],
  ] as const)('marks a %s of %d as out of range', (measures, value) => {
    expect(readingMaker({ name: 'x', measures })(value, null, 0)).toMatchObject({
      value: null,
      mark: 'out-of-range',
    });
  });

  // Boards with one-wire sensors print -127 degrees C for one that doesn't answer (common practice); it ends at -55.
  it('takes what boards print for a sensor that does not answer for no number', () => {
    const make = readingMaker({ name: 'lamps.case', measures: 'temperature' });
    expect(make(-127, null, 0)).toMatchObject({ value: null, unit: 'degC', mark: 'not-a-number' });
    expect(make(-126.9, null, 0)).toMatchObject({ value: -126.9 });
    expect(readingMaker({ name: 'x', measures: 'dc-volts' })(-127, null, 0)).toMatchObject({ value: -127 });
  });

  it.each([
    ['temperature', -273.15],
    ['dc-volts', -1000],
    ['ac-amps', 20],
    ['ohms', 1e9],
  ] as const)('lets a %s of %d be', (measures, value) => {
    expect(readingMaker({ name: 'x', measures })(value, null, 0)).toMatchObject({ value });
  });
});
