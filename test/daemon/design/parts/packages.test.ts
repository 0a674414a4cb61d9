import { describe, expect, it } from 'vitest';
import { packageNamed, PACKAGES } from '../../../../daemon/design/parts/packages.js';

describe('the packages', () => {
  // TO-220: 50 (ST LM317 Rev 19, National DS009063), 54 (TI SNOSBT0L), 65 (Fairchild LM78XX); TO-3: 39 (National).
  it.each([
    ['TO-220', [50, 54, 65]],
    ['TO-220FP', [60]],
    ['TO-3', [39]],
    ['TO-263', [62.5]],
    ['TO-252', [100, 103]],
    ['SOT-223', [66.8, 140]],
    // 78L05 sheets state 160 to 200 (from memory).
    ['TO-92', [160, 200]],
  ])('%s: what makers publish lies in its range', (name, published) => {
    const { low, high } = packageNamed(name).junctionAir;
    for (const resistance of published) {
      expect(resistance).toBeGreaterThanOrEqual(low);
      expect(resistance).toBeLessThanOrEqual(high);
    }
  });

  it('every figure is in order', () => {
    for (const { name, junctionCase, junctionAir, caseHeatCapacity } of PACKAGES.values()) {
      for (const { low, typical, high } of [junctionCase, junctionAir, caseHeatCapacity]) {
        expect(low, name).toBeLessThan(typical);
        expect(typical, name).toBeLessThan(high);
      }
    }
  });
});
