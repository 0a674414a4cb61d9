import { describe, expect, it } from 'vitest';
import { exceptionInWords } from '../../../drivers/modbus-rtu/exceptions.js';

describe('exceptionInWords', () => {
  // MODBUS Application Protocol V1.1b3, section 7.
  it.each([
    [1, 'illegal function'],
    [2, 'illegal data address'],
    [3, 'illegal data value'],
    [4, 'server device failure'],
    [5, 'acknowledge'],
    [6, 'server device busy'],
    [8, 'memory parity error'],
    [10, 'gateway path unavailable'],
    [11, 'gateway target device failed to respond'],
  ])('names %d as the standard does', (code, name) => {
    expect(exceptionInWords(code)).toContain(name);
  });

  it('bears a code that has no name', () => {
    expect(exceptionInWords(0xee)).toBe('exception EE, of no name in the standard');
  });
});
