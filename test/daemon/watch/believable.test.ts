import { describe, expect, it } from 'vitest';
import { isBelievable } from '../../../daemon/watch/believable.js';
import { PLAUSIBLE } from '../../../drivers/plausible.js';
import { UNIT_OF } from '../../../drivers/units.js';

describe('a believable reading', () => {
  it.each(Object.entries(PLAUSIBLE))(
    'of %s is what our own drivers let through',
    (measurand, { low, high }) => {
      const unit = UNIT_OF[measurand as keyof typeof UNIT_OF];
      for (const value of [low, high, (low + high) / 2]) expect(isBelievable(value, unit)).toBe(true);
      for (const value of [low - 1e-3 * Math.abs(low) - 1, high * 1.001, NaN, Infinity, -Infinity]) {
        expect(isBelievable(value, unit)).toBe(false);
      }
    },
  );
});
