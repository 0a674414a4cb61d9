import { describe, expect, it } from 'vitest';
import type { Hook } from '../../../daemon/hooks/hook.js';
import {
  HookQueue,
  LONGEST_GOODBYE_MS,
  MOST_AT_ONCE,
  MOST_WAITING,
  type HookOutcome,
} from '../../../daemon/hooks/hook-queue.js';
import { manualClock } from '../../manual-clock.js';

const settled = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** A hook that hangs until it is let go, or told that it takes too long. */
function hangingHook() {
  const going: (() => void)[] = [];
  const hook: Hook = {
    name: 'run siren',
    priority: 'high',
    timeoutMs: 10_000,
    deliver: (_text, signal) =>
      new Promise((resolve, reject) => {
        going.push(resolve);
        signal.addEventListener('abort', () => reject(new Error('it took too long')));
      }),
  };
  return { hook, going };
}

function queue() {
  const clock = manualClock();
  const told: HookOutcome[] = [];
  return { clock, told, queue: new HookQueue(clock, (outcome) => told.push(outcome)) };
}

describe('deliveries to hooks', () => {
  it('go on a few at a time, in order', async () => {
    const { queue: hooks, told } = queue();
    const { hook, going } = hangingHook();
    for (let n = 0; n < 10; n += 1) hooks.deliver(hook, `a${n}`, '{}');
    expect(going.length).toBe(MOST_AT_ONCE);
    going.forEach((go) => go());
    await settled();
    expect(going.length).toBe(2 * MOST_AT_ONCE);
    expect(told.map(({ alarm, failed }) => [alarm, failed])).toEqual(
      ['a0', 'a1', 'a2', 'a3'].map((alarm) => [alarm, null]),
    );
  });

  it('that hang are ended in their time, and the next ones go on', async () => {
    const { queue: hooks, told, clock } = queue();
    const { hook, going } = hangingHook();
    for (let n = 0; n < 5; n += 1) hooks.deliver(hook, `a${n}`, '{}');
    clock.advance(10_000);
    await settled();
    expect(told.map(({ failed }) => failed)).toEqual(Array.from({ length: 4 }, () => 'it took too long'));
    expect(going.length).toBe(5);
  });

  it('that would wait too long are told as left out', () => {
    const { queue: hooks, told } = queue();
    const { hook } = hangingHook();
    for (let n = 0; n < MOST_AT_ONCE + MOST_WAITING + 1; n += 1) hooks.deliver(hook, `a${n}`, '{}');
    expect(told).toEqual([
      {
        hook: 'run siren',
        alarm: `a${MOST_AT_ONCE + MOST_WAITING}`,
        failed: expect.stringMatching(/wait already/) as string,
      },
    ]);
  });

  it('stop: what runs comes to its end, what waits is dropped', async () => {
    const { queue: hooks, told } = queue();
    const { hook, going } = hangingHook();
    for (let n = 0; n < 10; n += 1) hooks.deliver(hook, `a${n}`, '{}');
    const stopped = hooks.stop();
    going.forEach((go) => go());
    await stopped;
    expect(told.length).toBe(MOST_AT_ONCE);
  });

  it('stop: what hangs is ended after a moment, and nothing is begun any more', async () => {
    const { queue: hooks, told, clock } = queue();
    const { hook, going } = hangingHook();
    hooks.deliver(hook, 'a0', '{}');
    const stopped = hooks.stop();
    clock.advance(LONGEST_GOODBYE_MS);
    await stopped;
    hooks.deliver(hook, 'a1', '{}');
    expect(told.map(({ alarm, failed }) => [alarm, failed])).toEqual([['a0', 'it took too long']]);
    expect(going.length).toBe(1);
  });
});
