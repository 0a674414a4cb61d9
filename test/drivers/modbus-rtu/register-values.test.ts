import { describe, expect, it } from 'vitest';
import { BYTE_ORDERS, markOf, rawNumber, scaled } from '../../../drivers/modbus-rtu/register-values.js';

const bytes = (hex: string): Uint8Array => Buffer.from(hex, 'hex');

// IEEE 754 single precision in the four orders, worked outside.
const FLOATS: readonly (readonly [number, readonly string[]])[] = [
  [123_456, ['47F12000', '200047F1', 'F1470020', '0020F147']],
  [23.5, ['41BC0000', '000041BC', 'BC410000', '0000BC41']],
  [230, ['43660000', '00004366', '66430000', '00006643']],
];

describe('rawNumber', () => {
  it.each(
    FLOATS.flatMap(([value, hexes]) =>
      BYTE_ORDERS.map((order, index) => [value, order, hexes[index] ?? ''] as const),
    ),
  )('reads %d in the order %s from %s', (value, order, hex) => {
    expect(rawNumber(bytes(hex), 0, 'float32', order)).toBe(value);
  });

  // Two's complement, worked by hand.
  it.each([
    ['int16', 'ABCD', '022B', 555], // MODBUS Application Protocol V1.1b3, 6.3: 022B is 555
    ['int16', 'ABCD', 'FFFE', -2],
    ['int16', 'DCBA', '022B', 555],
    ['uint16', 'ABCD', 'FFFE', 65_534],
    ['int32', 'ABCD', 'FFFFFFFE', -2],
    ['int32', 'CDAB', '00010000', 1],
    ['uint32', 'ABCD', 'FFFFFFFE', 4_294_967_294],
    ['uint32', 'DCBA', '01000000', 1],
  ] as const)('reads %s in the order %s from %s as %d', (type, order, hex, expected) => {
    expect(rawNumber(bytes(hex), 0, type, order)).toBe(expected);
  });

  it('reads at its place among others', () => {
    expect(rawNumber(bytes('022B00000064'), 4, 'int16', 'ABCD')).toBe(100);
  });
});

describe('scaled', () => {
  it.each([
    [3, 0.1, 0, 0.3],
    [-127, 0.1, 0, -12.7],
    [1234, 0.01, -40, -27.66],
    [5, 2, 1, 11],
    [700, 0.001, 0, 0.7],
    [10, -0.5, 0, -5],
    [1, 100, 0, 100],
    [3, 0.4, 0, 1.2],
  ])('%d times %d plus %d is %d', (raw, scale, offset, expected) => {
    expect(scaled(raw, scale, offset)).toBeCloseTo(expected, 12);
  });

  it('makes 0.3 of 3 tenths, to the last bit', () => {
    expect(scaled(3, 0.1, 0)).toBe(0.3);
  });
});

describe('markOf', () => {
  it('marks what a float says instead of a number', () => {
    expect(markOf(rawNumber(bytes('7FC00000'), 0, 'float32', 'ABCD'))).toBe('not-a-number');
    expect(markOf(rawNumber(bytes('7F800000'), 0, 'float32', 'ABCD'))).toBe('overload');
    expect(markOf(rawNumber(bytes('FF800000'), 0, 'float32', 'ABCD'))).toBe('overload');
    expect(markOf(-40)).toBeNull();
  });
});
