import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { pacedClock } from '../../../drivers/simulated/paced-clock.js';

describe('the paced clock', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  it('runs so many times as fast as the wall', () => {
    const clock = pacedClock(20);
    vi.advanceTimersByTime(100);
    expect(clock.nowMs()).toBe(2000);
  });

  it('runs timers in the order of their time, each at its own time', () => {
    const clock = pacedClock(20);
    const ran: [string, number][] = [];
    clock.after(60, () => ran.push(['late', clock.nowMs()]));
    clock.after(20, () => {
      ran.push(['early', clock.nowMs()]);
      clock.after(10, () => ran.push(['between', clock.nowMs()]));
    });
    const cancel = clock.after(5, () => ran.push(['cancelled', clock.nowMs()]));
    cancel();
    vi.advanceTimersByTime(5);
    expect(ran).toEqual([
      ['early', 20],
      ['between', 30],
      ['late', 60],
    ]);
  });

  it('slows down instead of jumping when the machine was busy', () => {
    const clock = pacedClock(20);
    const wall = vi.spyOn(performance, 'now').mockReturnValue(performance.now() + 4000);
    vi.advanceTimersByTime(5);
    expect(clock.nowMs()).toBe(500);
    wall.mockRestore();
  });

  it.each([0, -1, NaN, Infinity])('refuses a speed of %d', (speed) => {
    expect(() => pacedClock(speed)).toThrow(/^clock speed: found .*; a positive number is allowed/);
  });
});
