import type { Clock } from '../../../drivers/clock.js';
import type { Asking } from '../../../drivers/listen/asking.js';
import type { Ear } from '../../../drivers/listen/ear.js';

/** A clock whose timers are due at once, each at its own time. */
export function hastyClock(): Clock {
  let nowMs = 0;
  return {
    nowMs: () => nowMs,
    after(delayMs, action) {
      let isCancelled = false;
      queueMicrotask(() => {
        nowMs += delayMs;
        if (!isCancelled) action();
      });
      return () => void (isCancelled = true);
    },
  };
}

/** A place where a device answers at once with the bytes that `answer` gives; null for silence. */
export function fakePlace(answer: (question: Buffer) => Uint8Array | string | null): {
  readonly asking: Asking;
  readonly asked: Buffer[];
} {
  const asked: Buffer[] = [];
  let heard = Buffer.alloc(0);
  const ear: Ear = {
    heard: () => heard,
    count: () => heard.length,
    forget: () => void (heard = Buffer.alloc(0)),
    isLost: () => false,
    onBytes: () => undefined,
    write(bytes) {
      const question = Buffer.from(bytes);
      asked.push(question);
      heard = Buffer.concat([heard, Buffer.from(answer(question) ?? '')]);
      return Promise.resolve();
    },
    port: null,
    close: () => Promise.resolve(),
  };
  return { asking: { ear, clock: hastyClock(), isOver: () => false }, asked };
}
