import { describe, expect, it } from 'vitest';
import { Latest } from '../../../web/job/latest.js';

describe('what a slider asks', () => {
  it('is asked one at a time, and of those that wait only the newest', async () => {
    const latest = new Latest();
    const begun: number[] = [];
    const releases: (() => void)[] = [];
    const work = (name: number) => (): Promise<void> => {
      begun.push(name);
      return new Promise((resolve) => releases.push(resolve));
    };
    for (const name of [1, 2, 3, 4]) latest.ask(work(name));
    expect(begun).toEqual([1]);
    releases[0]?.();
    await expect.poll(() => begun).toEqual([1, 4]);
    releases[1]?.();
    latest.ask(work(5));
    await expect.poll(() => begun).toEqual([1, 4, 5]);
  });
});
