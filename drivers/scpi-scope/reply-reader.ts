import { isUtf8 } from 'node:buffer';
import type { FaultTeller } from '../fault-teller.js';
import type { LineReader } from '../lines/line-reader.js';
import type { HeardLine } from '../scpi/conversation.js';

/** What a reply may hold. */
export interface BlockRules {
  readonly mostBytes: number;
  /**
   * How long an indefinite block is, known beforehand or from the text before it. The standard ends such a block by
   * END, which a plain stream of bytes doesn't have. Null where it isn't known: the block is refused.
   */
  readonly indefiniteBytes: (textBefore: string) => number | null;
}

/** The longest text of a reply, its block not counted. */
const MOST_TEXT_BYTES = 4096;

const LINE_FEED = 10;
const QUOTE = 34;
const HASH = 35;
const ZERO = 48;
const NINE = 57;
/** What may stand before the `#` of a block: nothing, a blank, a comma, a bracket. */
const BEFORE_BLOCK: ReadonlySet<number> = new Set([32, 44, 40]);

type Place = 'text' | 'digit-count' | 'digits' | 'block' | 'dropped';

/**
 * Takes replies apart: lines of text, which may hold one data block each (IEEE 488.2, 8.7.9 and 8.7.10) while blocks
 * are allowed. A definite block begins with `#`, the number of digits that follow, and the number of bytes in these
 * digits; an indefinite one with `#0`. A line that can't be right is dropped whole.
 */
export class ReplyReader implements LineReader {
  readonly #keep: (line: HeardLine) => void;
  readonly #faults: FaultTeller;
  readonly #text = Buffer.allocUnsafeSlow(MOST_TEXT_BYTES);
  #rules: BlockRules | null = null;
  #place: Place = 'text';
  #textLength = 0;
  #quoted = false;
  #digitsLeft = 0;
  #blockBytes = 0;
  #block: Uint8Array | null = null;
  #blockLength = 0;
  #atMs = 0;
  #ended = false;

  constructor(keep: (line: HeardLine) => void, faults: FaultTeller) {
    this.#keep = keep;
    this.#faults = faults;
  }

  /** Whether a line has begun that hasn't ended. */
  get midLine(): boolean {
    return this.#place !== 'text' || this.#textLength > 0;
  }

  /** Says what the next replies may hold; null for text only. */
  allowBlocks(rules: BlockRules | null): void {
    this.#rules = rules;
  }

  push(chunk: Uint8Array, atMs: number): void {
    this.#atMs = atMs;
    for (let at = 0; at < chunk.length && !this.#ended;) at = this.#take(chunk, at);
  }

  end(): void {
    this.#ended = true;
  }

  /** Takes one byte, or all that belongs to a block; returns where to go on. */
  #take(chunk: Uint8Array, at: number): number {
    if (this.#place === 'block') return this.#takeBlock(chunk, at);
    const byte = chunk[at] as number;
    if (this.#place === 'dropped') {
      if (byte === LINE_FEED) this.#startLine();
    } else if (this.#place === 'digit-count') this.#takeDigitCount(byte);
    else if (this.#place === 'digits') this.#takeDigit(byte);
    else if (byte === LINE_FEED) this.#finish();
    else if (byte === HASH && this.#mayBeginBlock()) this.#place = 'digit-count';
    else this.#takeText(byte);
    return at + 1;
  }

  #mayBeginBlock(): boolean {
    if (this.#rules === null || this.#block !== null || this.#quoted) return false;
    return this.#textLength === 0 || BEFORE_BLOCK.has(this.#text[this.#textLength - 1] as number);
  }

  #takeText(byte: number): void {
    if (byte === 0) return this.#drop('not-text', 'a reply with a NUL byte; check the link');
    if (this.#textLength === MOST_TEXT_BYTES) {
      return this.#drop('line-too-long', `a reply with more than ${MOST_TEXT_BYTES} bytes of text`);
    }
    if (byte === QUOTE) this.#quoted = !this.#quoted;
    this.#text[this.#textLength] = byte;
    this.#textLength += 1;
  }

  #takeDigitCount(byte: number): void {
    if (byte < ZERO || byte > NINE) return this.#dropHeader(byte);
    this.#digitsLeft = byte - ZERO;
    this.#blockBytes = 0;
    if (this.#digitsLeft > 0) this.#place = 'digits';
    else {
      const before = this.#text.toString('latin1', 0, this.#textLength);
      const bytes = this.#rules?.indefiniteBytes(before) ?? null;
      if (bytes === null) {
        this.#drop('not-understood', 'a block of indefinite length (#0) whose length nothing tells');
      } else this.#beginBlock(bytes);
    }
  }

  #takeDigit(byte: number): void {
    if (byte < ZERO || byte > NINE) return this.#dropHeader(byte);
    this.#blockBytes = this.#blockBytes * 10 + (byte - ZERO);
    this.#digitsLeft -= 1;
    if (this.#digitsLeft === 0) this.#beginBlock(this.#blockBytes);
  }

  #beginBlock(bytes: number): void {
    const most = this.#rules?.mostBytes ?? 0;
    if (bytes > most) {
      return this.#drop(
        'line-too-long',
        `a block of ${bytes} bytes; at most ${most} are taken (most_points)`,
      );
    }
    // A buffer of its own, from address 0: words in it are aligned, and it can be handed on without a copy.
    this.#block = new Uint8Array(bytes);
    this.#blockLength = 0;
    this.#place = bytes === 0 ? 'text' : 'block';
    this.#takeText(HASH);
  }

  #takeBlock(chunk: Uint8Array, at: number): number {
    const block = this.#block as Uint8Array;
    const end = Math.min(chunk.length, at + block.length - this.#blockLength);
    block.set(chunk.subarray(at, end), this.#blockLength);
    this.#blockLength += end - at;
    if (this.#blockLength === block.length) this.#place = 'text';
    return end;
  }

  #dropHeader(byte: number): void {
    this.#drop('not-understood', `a block header with byte ${byte} where a digit has to be`);
    if (byte === LINE_FEED) this.#startLine();
  }

  #drop(code: 'not-text' | 'line-too-long' | 'not-understood', detail: string): void {
    this.#faults.count(code, detail);
    this.#place = 'dropped';
    this.#block = null;
    this.#keep({ text: null, atMs: this.#atMs });
  }

  #finish(): void {
    const bytes = this.#text.subarray(0, this.#textLength);
    const block = this.#block;
    const line = { text: bytes.toString('utf8'), atMs: this.#atMs };
    if (!isUtf8(bytes)) {
      this.#faults.count('not-text', 'a reply that is not UTF-8 text; check the link');
      this.#keep({ text: null, atMs: this.#atMs });
    } else this.#keep(block === null ? line : { ...line, block });
    this.#startLine();
  }

  #startLine(): void {
    this.#place = 'text';
    this.#textLength = 0;
    this.#quoted = false;
    this.#block = null;
  }
}
