import { describe, expect, it } from 'vitest';
import { regulatorWatts } from '../../../daemon/predict/dissipation.js';

describe('regulatorWatts', () => {
  // Taiwan Semiconductor TS2940, p. 4: 3.3 V to 2.5 V at 1 A with 11 mA of its own: 800 + 36 = 836 mW.
  it('TS2940 example', () => {
    expect(regulatorWatts(3.3, 2.5, 1, 0.011)).toBeCloseTo(0.8363, 4);
  });

  // TI TPS758xx SLVS330D and TPS725xx SLVS341E: 3.3 V to 2.5 V at 3 A and at 1 A.
  it.each([
    [3, 2.4],
    [1, 0.8],
  ])('%d A through 0.8 V make %d W', (amps, watts) => {
    expect(regulatorWatts(3.3, 2.5, amps, 0)).toBeCloseTo(watts, 12);
  });

  it('a rail above its input makes no negative heat', () => {
    expect(regulatorWatts(3, 5, 1, 0)).toBe(0);
  });
});
