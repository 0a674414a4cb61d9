import { describe, expect, it } from 'vitest';
import { mainsVolts } from '../../../daemon/predict/mains.js';
import { cabin } from '../design/signal-cabin.js';

describe('mainsVolts', () => {
  // EN 50160: 95 % of a week within 10 %, so 207 to 253 V at 230 V.
  it('EN 50160', () => {
    const { low, typical, high } = mainsVolts(cabin().mains);
    expect(typical).toBe(230);
    expect(low).toBeCloseTo(207, 9);
    expect(high).toBeCloseTo(253, 9);
  });

  // ANSI C84.1 Range B service: 110 to 127 V at 120 V (from memory).
  it('ANSI C84.1', () => {
    const { mains } = cabin(
      ['volts: 230', 'volts: 120'],
      ['hertz: 50', 'hertz: 60'],
      ['EN 50160 #', 'ANSI C84.1 #'],
    );
    const { low, high } = mainsVolts(mains);
    expect(low).toBeCloseTo(110, 1);
    expect(high).toBeCloseTo(127, 1);
  });

  it('own percents', () => {
    const { mains } = cabin(['tolerance: EN 50160', 'tolerance: { low_percent: -6, high_percent: 4 }']);
    expect(mainsVolts(mains).low).toBeCloseTo(216.2, 6);
    expect(mainsVolts(mains).high).toBeCloseTo(239.2, 6);
  });

  it('what the person measured replaces both', () => {
    const { low, typical, high } = mainsVolts(cabin().mains, 241);
    expect(typical).toBe(241);
    expect(low).toBeGreaterThan(236);
    expect(high).toBeLessThan(246);
  });
});
