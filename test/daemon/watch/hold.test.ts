import { describe, expect, it } from 'vitest';
import { hasHeld, longer } from '../../../daemon/watch/hold.js';

// OPC 10000-9, B.1.5: the condition must hold for the whole delay.
describe('a delay', () => {
  const delay = { readings: 3, ms: 3000 };

  it('is over when both the time and the readings are reached', () => {
    const first = longer(null, 0);
    const third = longer(longer(first, 1500), 3000);
    expect(hasHeld(first, delay, 0)).toBe(false);
    expect(hasHeld(third, delay, 2999)).toBe(false);
    expect(hasHeld(third, delay, 3000)).toBe(true);
  });

  it('is not over by time alone', () => {
    expect(hasHeld(longer(longer(null, 0), 60_000), delay, 60_000)).toBe(false);
  });
});
