import { expect, it } from 'vitest';
import { LoopWatch } from '../../../daemon/time/loop-watch.js';
import { manualClock } from '../../manual-clock.js';

/** A watch on a loop that stands still for `heldMs` whenever the test says so. */
function watched() {
  const clock = manualClock();
  let heldMs = 0;
  const stalls: number[] = [];
  const loop = new LoopWatch({ ...clock, nowMs: () => clock.nowMs() + heldMs }, (ms) => stalls.push(ms));
  loop.start();
  return { clock, loop, stalls, hold: (ms: number) => (heldMs += ms) };
}

it.each([
  [251, 1],
  [200, 0],
  [2000, 1],
])('a loop that is held for %d ms, whenever it begins, is told %d times', (ms, times) => {
  for (let beganMs = 0; beganMs < 50; beganMs += 7) {
    const { clock, hold, stalls } = watched();
    clock.advance(1000 + beganMs);
    hold(ms);
    clock.advance(1000);
    expect(stalls).toHaveLength(times);
    for (const told of stalls) expect(told - ms).toBeLessThanOrEqual(50);
  }
});

it('is told to whoever looks first, and once', () => {
  const { clock, loop, hold, stalls } = watched();
  hold(3000);
  loop.look();
  clock.advance(1000);
  expect(stalls).toEqual([3000]);
});

it('looks no more once it is stopped', () => {
  const { clock, loop, hold, stalls } = watched();
  loop.stop();
  hold(3000);
  clock.advance(1000);
  expect(stalls).toEqual([]);
});
