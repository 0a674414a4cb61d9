import { describe, expect, it } from 'vitest';
import { usualRegulationPercent, windingOf } from '../../../../daemon/design/parts/transformers.js';

describe('windingOf', () => {
  // Regulation = (no-load volts - rated volts) / rated volts, so 15 V, 2 A and 12 % are 1.8 V over 2 A.
  it('gives ohms for regulation and regulation for ohms', () => {
    const written = windingOf({ volts: 15, va: 30, regulation_percent: 12 }, 'bridge');
    expect(written).toMatchObject({ ratedAmps: 2, regulation: 0.12, regulationFrom: 'written' });
    expect(written.ohms).toBeCloseTo(0.9, 12);
    expect(windingOf({ volts: 15, amps: 2, winding_ohms: 0.9 }, 'bridge').regulation).toBeCloseTo(0.12, 12);
  });

  // 15-0-15 V of 60 VA: 2 A end to end. Even copper losses: 30 V x 12 % / 2 A = 1.8 ohm end to end, of which one half
  // sees a quarter of the primary's share and half the secondary's: 1.8 / 8 + 1.8 / 4 (common practice).
  it('sees a centre-tapped winding one half at a time', () => {
    const half = windingOf({ volts: 15, va: 60, regulation_percent: 12 }, 'centre-tap');
    expect(half).toMatchObject({ ratedVolts: 15, ratedAmps: 2, regulation: 0.12 });
    expect(half.ohms).toBeCloseTo(1.8 / 8 + 1.8 / 4, 12);
    expect(windingOf({ volts: 15, amps: 2, winding_ohms: 0.7 }, 'centre-tap').ohms).toBe(0.7);
  });

  it('takes the usual regulation when none is written', () => {
    const usual = windingOf({ volts: 15, va: 30 }, 'bridge');
    expect(usual).toMatchObject({ regulation: 0.13, regulationFrom: 'usual' });
  });

  it('needs a rating', () => {
    expect(() => windingOf({ volts: 15 }, 'bridge')).toThrow('transformer: va or amps is needed');
  });
});

describe('usualRegulationPercent', () => {
  // Common practice: tiny transformers sag by a third, a 200 VA toroid by some 7 %.
  it('falls with the rating and stays within its table', () => {
    const ratings = [0.5, 3, 8, 30, 75, 200, 5000];
    const percents = ratings.map(usualRegulationPercent);
    expect([...percents].sort((a, b) => b - a)).toEqual(percents);
    expect(percents[0]).toBe(40);
    expect(percents.at(-1)).toBe(5);
  });
});
