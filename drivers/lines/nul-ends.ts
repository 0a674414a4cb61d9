const NUL = 0;
const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;

/**
 * Takes away the NULs that some boards send behind every line end, the end of a string in C. Those that stand there only
 * now and then are left where they are and spoil their line: a break on the wire leaves a NUL in place of the first
 * digits. Make a new one for every connection.
 */
export class NulEnds {
  /** Whether nothing but NULs has come since the last line end. A connection begins in the middle of a line. */
  #isAtStart = false;
  /** Whether the line under way began with NULs, and whether the one before it did. */
  #hasNul = false;
  #hadNul = false;

  /** The chunk without the NULs that belong to line ends. It changes the chunk given. */
  trimmed(chunk: Uint8Array): Uint8Array {
    if (this.#hasNul || this.#hadNul || chunk.includes(NUL)) return this.#compacted(chunk);
    if (chunk.length > 0) this.#isAtStart = isEnd(chunk[chunk.length - 1]);
    return chunk;
  }

  /** One loop, as junk may have a NUL in every chunk. */
  #compacted(chunk: Uint8Array): Uint8Array {
    let isAtStart = this.#isAtStart;
    let hasNul = this.#hasNul;
    let hadNul = this.#hadNul;
    let kept = 0;
    for (let at = 0; at < chunk.length; at += 1) {
      const byte = chunk[at] as number;
      if (byte === NUL && isAtStart) {
        hasNul = true;
        if (hadNul) continue;
      } else if (isEnd(byte)) {
        if (!isAtStart) {
          hadNul = hasNul;
          hasNul = false;
        }
        isAtStart = true;
      } else isAtStart = false;
      chunk[kept] = byte;
      kept += 1;
    }
    this.#isAtStart = isAtStart;
    this.#hasNul = hasNul;
    this.#hadNul = hadNul;
    return chunk.subarray(0, kept);
  }
}

function isEnd(byte: number | undefined): boolean {
  return byte === LINE_FEED || byte === CARRIAGE_RETURN;
}
