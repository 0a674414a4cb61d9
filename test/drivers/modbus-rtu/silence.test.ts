import { describe, expect, it } from 'vitest';
import { silenceMs, wireMs } from '../../../drivers/modbus-rtu/silence.js';

describe('silence between frames', () => {
  // MODBUS over Serial Line V1.02, 2.5.1.1: 3.5 characters of 11 bits, 1.750 ms above 19200 bit/s.
  it.each([
    [1200, 32.083],
    [9600, 4.01],
    [19_200, 2.005],
    [38_400, 1.75],
    [115_200, 1.75],
  ])('at %d baud is %d ms', (baud, expected) => {
    expect(silenceMs(baud)).toBeCloseTo(expected, 2);
  });

  it('counts eleven bits a character', () => {
    expect(wireMs(256, 9600)).toBeCloseTo(293.3, 1); // 256 x 11 / 9600, by hand
  });
});
