import { describe, expect, it, vi } from 'vitest';
import { scaledClock } from '../../../drivers/simulated/clock.js';
import { manualClock } from '../../manual-clock.js';

describe('the scaled clock', () => {
  it('runs so many times as fast as the wall', () => {
    let wallMs = 5000;
    const clock = scaledClock(20, () => wallMs);
    expect(clock.nowMs()).toBe(0);
    wallMs += 50;
    expect(clock.nowMs()).toBe(1000);
  });

  it('shortens its timers, and cancels them', () => {
    vi.useFakeTimers();
    try {
      const clock = scaledClock(20);
      const ran: string[] = [];
      clock.after(1000, () => ran.push('kept'));
      const cancel = clock.after(1000, () => ran.push('cancelled'));
      cancel();
      vi.advanceTimersByTime(49);
      expect(ran).toEqual([]);
      vi.advanceTimersByTime(1);
      expect(ran).toEqual(['kept']);
    } finally {
      vi.useRealTimers();
    }
  });

  it.each([0, -1, NaN, Infinity])('refuses a speed of %d', (speed) => {
    expect(() => scaledClock(speed)).toThrow(/^clock speed: found .*; a positive number is allowed/);
  });
});

describe('the manual clock', () => {
  it('runs due timers in the order of their time, each at its own time', () => {
    const clock = manualClock();
    const ran: [string, number][] = [];
    clock.after(20, () => ran.push(['late', clock.nowMs()]));
    clock.after(10, () => {
      ran.push(['early', clock.nowMs()]);
      clock.after(5, () => ran.push(['between', clock.nowMs()]));
    });
    clock.advance(30);
    expect(ran).toEqual([
      ['early', 10],
      ['between', 15],
      ['late', 20],
    ]);
    expect(clock.nowMs()).toBe(30);
  });

  it('leaves cancelled timers out', () => {
    const clock = manualClock();
    let ran = false;
    const cancel = clock.after(10, () => (ran = true));
    cancel();
    clock.advance(20);
    expect(ran).toBe(false);
  });
});
