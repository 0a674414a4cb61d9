const LINE_FEED = 10;
const HASH = 35;
const ZERO = 48;
const NINE = 57;

/**
 * Sees where an answer ends: at a line feed that isn't inside a definite data block (IEEE 488.2, 8.7.9). The device
 * file hands an answer over in pieces and doesn't say which is the last.
 */
export class AnswerEnd {
  #place: 'text' | 'digit-count' | 'digits' | 'block' = 'text';
  #last = LINE_FEED;
  #digitsLeft = 0;
  #bytesLeft = 0;

  /** Whether the last byte taken ended an answer. */
  get reached(): boolean {
    return this.#place === 'text' && this.#last === LINE_FEED;
  }

  take(piece: Uint8Array): void {
    for (let at = 0; at < piece.length; at += 1) {
      if (this.#place === 'block') {
        const inBlock = Math.min(this.#bytesLeft, piece.length - at);
        this.#bytesLeft -= inBlock;
        at += inBlock - 1;
        if (this.#bytesLeft === 0) this.#enter('text', 0);
      } else this.#takeByte(piece[at] as number);
    }
  }

  #takeByte(byte: number): void {
    const isDigit = byte >= ZERO && byte <= NINE;
    if (this.#place === 'digits' && isDigit) {
      this.#bytesLeft = this.#bytesLeft * 10 + (byte - ZERO);
      this.#digitsLeft -= 1;
      if (this.#digitsLeft === 0) this.#enter(this.#bytesLeft > 0 ? 'block' : 'text', byte);
    } else if (this.#place === 'digit-count' && isDigit && byte > ZERO) {
      this.#digitsLeft = byte - ZERO;
      this.#bytesLeft = 0;
      this.#enter('digits', byte);
    } else this.#enter(byte === HASH && this.#mayBeginBlock() ? 'digit-count' : 'text', byte);
  }

  /** A block begins an answer, or stands behind a blank, a comma or a bracket. */
  #mayBeginBlock(): boolean {
    return this.#last === LINE_FEED || this.#last === 32 || this.#last === 44 || this.#last === 40;
  }

  #enter(place: 'text' | 'digit-count' | 'digits' | 'block', byte: number): void {
    this.#place = place;
    this.#last = byte;
  }
}
