import type { Clock } from '../clock.js';
import type { Ear } from './ear.js';
import { waitUntil } from './wait-until.js';

/** One open place where something may answer. */
export interface Asking {
  readonly ear: Ear;
  readonly clock: Clock;
  /** Whether the person, or the device by going away, has ended it. */
  readonly isOver: () => boolean;
}

/** Sends a question and waits until what came is an answer; null when none comes in time. */
export async function askOnce<Answer>(
  { ear, clock, isOver }: Asking,
  question: Uint8Array,
  withinMs: number,
  answerIn: (heard: Buffer) => Answer | null,
): Promise<Answer | null> {
  ear.forget();
  let answer: Answer | null = null;
  // A device that takes no bytes is one that doesn't answer.
  ear.write(question).catch(() => undefined);
  await waitUntil(clock, withinMs, () => isOver() || (answer = answerIn(ear.heard())) !== null);
  return answer;
}
