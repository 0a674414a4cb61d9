import { expect, it } from 'vitest';
import { WallDate } from '../../../daemon/time/wall-date.js';
import { manualClock } from '../../manual-clock.js';

it('a clock that is set is noticed once, with both times; a small correction is not', () => {
  const clock = manualClock();
  let aheadMs = 0;
  const date = new WallDate(clock, () => Date.UTC(2026, 10, 25, 8) + clock.nowMs() + aheadMs);
  clock.advance(60_000);
  aheadMs = 900;
  expect(date.jump()).toBeNull();
  aheadMs = 3_600_000;
  expect(date.jump()).toEqual({
    was: new Date('2026-11-25T08:01:00.000Z'),
    is: new Date('2026-11-25T09:01:00.000Z'),
  });
  expect(date.jump()).toBeNull();
});
