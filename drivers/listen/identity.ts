import { printable } from '../printable.js';
import { wholeLines } from './readable.js';

/** Four fields with commas between: IEEE 488.2, 10.14.3. */
const IDENTITY = /^[^,]+,[^,]*,[^,]*,.*$/;

/** The answer to `*IDN?` among what was heard, made printable; null when nothing looks like one. */
export function identityIn(bytes: Uint8Array): string | null {
  const { first, lines } = wholeLines(bytes);
  const answer = [first, ...lines].find((line) => IDENTITY.test(line.trim()));
  return answer === undefined ? null : printable(answer);
}
