import { describe, expect, it } from 'vitest';
import { crc16, hasGoodCrc, withCrc } from '../../../drivers/modbus-rtu/crc.js';

const bytes = (hex: string): Uint8Array => Buffer.from(hex.replaceAll(' ', ''), 'hex');

// Frames quoted in several open-source MODBUS test suites, each CRC worked again outside.
const QUOTED = [
  '01 03 00 00 00 0A C5 CD',
  '02 03 00 00 00 0A C5 FE',
  '03 03 00 00 00 0A C4 2F',
  '11 03 00 6B 00 03 76 87',
  '11 03 06 AE 41 56 52 43 40 49 AD',
  '11 02 00 C4 00 16 BA A9',
  '11 04 00 08 00 01 B2 98',
  '01 03 00 00 00 2C 44 17',
  '01 06 00 01 00 03 98 0B',
];

// Bodies of MODBUS Application Protocol V1.1b3 with the CRC worked outside.
const FROM_THE_STANDARD = [
  '01 03 02 00 0A 38 43',
  '01 83 02 C0 F1',
  '01 10 00 01 00 02 04 00 0A 01 02 92 30',
  '0A 01 04 A1 00 01 AC 63',
  '0A 81 02 B0 53',
  '01 03 06 02 2B 00 00 00 64 05 7A',
];

describe('crc16', () => {
  // MODBUS over Serial Line V1.02, 6.2.2: the frame 02 07 has the CRC 1241, sent as 41 12.
  it('is the one of the standard', () => {
    expect(withCrc(bytes('02 07'))).toEqual(new Uint8Array(bytes('02 07 41 12')));
    expect(crc16(Buffer.from('123456789'))).toBe(0x4b37); // the check value that CRC catalogues print
  });

  it.each([...QUOTED, ...FROM_THE_STANDARD])('is good in %s', (frame) => {
    expect(hasGoodCrc(bytes(frame))).toBe(true);
    expect(Buffer.from(withCrc(bytes(frame).subarray(0, -2)))).toEqual(bytes(frame));
  });

  it.each(QUOTED)('notices any one bit that is wrong in %s', (frame) => {
    const good = bytes(frame);
    for (let bit = 0; bit < 8 * good.length; bit += 1) {
      const bad = Uint8Array.from(good);
      bad[bit >> 3] = (bad[bit >> 3] ?? 0) ^ (1 << (bit & 7));
      expect(hasGoodCrc(bad)).toBe(false);
    }
  });

  it('is in no frame of two bytes or fewer', () => {
    expect(hasGoodCrc(bytes('FF FF'))).toBe(false);
    expect(hasGoodCrc(new Uint8Array())).toBe(false);
  });
});
