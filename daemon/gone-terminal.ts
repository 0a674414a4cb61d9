import { closeSync, fstatSync } from 'node:fs';
import { isatty } from 'node:tty';

const STANDARD = [0, 1, 2] as const;

/**
 * Node gives a terminal back as it was when the program ends, and aborts where that can't be done because the terminal's
 * window was closed meanwhile. A descriptor that is closed is left alone. Call before the first line.
 */
export function endWithoutTerminal(): void {
  process.on('exit', () => STANDARD.forEach(closeIfGone));
}

/** What is a device and no terminal is one that has hung up; or /dev/null, which nobody misses. */
function closeIfGone(descriptor: number): void {
  try {
    if (fstatSync(descriptor).isCharacterDevice() && !isatty(descriptor)) closeSync(descriptor);
  } catch {
    // Nothing is left to be told to anybody.
  }
}
