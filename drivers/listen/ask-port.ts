import type { Clock } from '../clock.js';
import { printable } from '../printable.js';
import { systemClock } from '../system-clock.js';
import { openEar, type Ear } from './ear.js';
import type { Place } from './place.js';
import { identityIn } from './identity.js';
import { readsWell, wholeLines } from './readable.js';
import { waitUntil } from './wait-until.js';

/** What a port said when it was asked. */
export type Answer =
  /** It answered `*IDN?`. */
  | { readonly kind: 'identity'; readonly text: string }
  /** It prints lines by itself; one of them. */
  | { readonly kind: 'prints'; readonly text: string }
  /** Bytes that make no text at this speed. */
  | { readonly kind: 'garbled' }
  | { readonly kind: 'silent' }
  | { readonly kind: 'not-open'; readonly why: string };

const ANSWER_MS = 500;
/** A board that restarts when its port opens prints its first lines within this time. */
const FIRST_LINES_MS = 3000;

/**
 * Opens the place, asks `*IDN?` and tells what came. Opening restarts some boards. Never rejects: a place that can't be
 * opened is an answer too.
 */
export async function askPort(place: Place, baud: number, clock: Clock = systemClock()): Promise<Answer> {
  try {
    const ear = await openEar(place, baud);
    try {
      return await ask(ear, clock);
    } finally {
      await ear.close();
    }
  } catch (problem) {
    return { kind: 'not-open', why: problem instanceof Error ? problem.message : String(problem) };
  }
}

async function ask(ear: Ear, clock: Clock): Promise<Answer> {
  ear.write(Buffer.from('*IDN?\n')).catch(() => undefined); // one that takes no bytes doesn't answer
  const hasIdentity = () => identityIn(ear.heard()) !== null;
  await waitUntil(clock, ANSWER_MS, () => ear.isLost() || hasIdentity());
  // Two line ends have a whole line between them.
  const hasLines = () => wholeLines(ear.heard()).lines.length > 1;
  await waitUntil(clock, FIRST_LINES_MS, () => ear.isLost() || hasIdentity() || hasLines());
  return answerIn(ear.heard());
}

/** What the bytes of one speed are. */
export function answerIn(heard: Uint8Array): Answer {
  if (heard.length === 0) return { kind: 'silent' };
  if (!readsWell(heard)) return { kind: 'garbled' };
  const identity = identityIn(heard);
  if (identity !== null) return { kind: 'identity', text: identity };
  return { kind: 'prints', text: printable(wholeLines(heard).lines[0] ?? Buffer.from(heard).toString()) };
}
