import type { Reading } from '../reading-of.js';

/** Takes each reading as it is made. */
export type GiveReading = (reading: Reading) => void;

/** One way in which a board writes its lines. Made anew for every connection. */
export interface LineForm {
  /** Whether it can make something of what came before the first line end, which may lack its beginning. */
  readonly wantsFirst: boolean;
  /**
   * Reads a whole line and gives its readings; what isn't understood is counted as a fault. `isFirst` only when it
   * wants that.
   */
  take(line: Uint8Array, atMs: number, isFirst: boolean): void;
  /**
   * For floods: reads the line that begins at `start` among whole lines when it is like the one before, and gives its
   * readings. Where its line feed stands; -1 when it isn't, and `take` has to read it.
   */
  readonly takeAlike?: (lines: Uint8Array, start: number, atMs: number) => number;
}
