import type { Clock } from '../clock.js';

const LOOK_EVERY_MS = 20;

/** Waits that long, or until it is so. */
export async function waitUntil(clock: Clock, ms: number, isSo: () => boolean): Promise<void> {
  const untilMs = clock.nowMs() + ms;
  while (!isSo() && clock.nowMs() < untilMs) {
    await new Promise<void>((resolve) => void clock.after(LOOK_EVERY_MS, resolve));
  }
}
