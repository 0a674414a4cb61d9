import { describe, expect, it } from 'vitest';
import { CellReader } from '../../../drivers/text-lines/cell.js';

describe('CellReader', () => {
  it.each([
    ['12.06', 12.06],
    [' 12.06 mV ', 0.01206],
    ['4.7 kV', 4700],
    ['-1.5e-3', -0.0015],
  ])('reads %s', (cell, value) => {
    const found = new CellReader('point').read(cell, 'dc-volts', 0);
    expect(found?.mark).toBeNull();
    expect(found?.value).toBeCloseTo(value, 12); // a prefix costs one more rounding
  });

  it('takes the unit of the field where the cell has none', () => {
    expect(new CellReader('comma').read('12,5', 'dc-volts', -3)).toEqual({ value: 0.0125, mark: null });
  });

  it.each(['12,06', 'warm', '12 C', '1 2', '12.06.1', '0x10'])('finds no volts in %s', (cell) => {
    expect(new CellReader('point').read(cell, 'dc-volts', 0)).toBeNull();
  });

  it.each([
    ['OVLD', 'overload'],
    ['----', 'overload'],
    ['NaN', 'not-a-number'],
    ['', 'not-a-number'],
  ])('marks "%s" as %s', (cell, mark) => {
    expect(new CellReader('point').read(cell, 'ohms', 0)).toEqual({ value: NaN, mark });
  });
});
