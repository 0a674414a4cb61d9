import { describe, expect, it } from 'vitest';
import { FOURTEEN_BYTE } from '../../../drivers/lcd-frames/frames/fourteen-byte.js';

describe.each([['fourteen-byte', FOURTEEN_BYTE]])('layout %s', (_, layout) => {
  const cells = [
    layout.minus,
    ...layout.digits.flatMap((digit) => Object.values(digit)),
    ...layout.points.map(({ cell }) => cell),
    ...Object.values(layout.symbols),
    ...layout.free,
  ];

  it('uses no bit twice', () => {
    expect(new Set(cells.map(([byte, bit]) => `${byte}.${bit}`)).size).toBe(cells.length);
  });

  it('stays within its bytes and their low halves', () => {
    expect(layout.bytes).toBeLessThanOrEqual(15);
    for (const [byte, bit] of cells) {
      expect(byte).toBeGreaterThanOrEqual(1);
      expect(byte).toBeLessThanOrEqual(layout.bytes);
      expect([0, 1, 2, 3]).toContain(bit);
    }
  });
});
