import { AnswerEnd } from './usbtmc-answer.js';
import type { DeviceMessage, WriteMessage } from './usbtmc-messages.js';

/** As much of an open device file as is needed. Both reject with the system's `code`. */
export interface DeviceFile {
  /** At most `length` bytes; none when the device had none this time, which doesn't mean that it is gone. */
  read(length: number): Promise<Uint8Array>;
  write(bytes: Uint8Array): Promise<void>;
  /** Whether the path still leads to the device that is open. A file that hung up gives no bytes for ever. */
  present(): Promise<boolean>;
}

export interface TalkOptions {
  readonly file: DeviceFile;
  /** Resolves when the message has been taken, so that no more is read than is taken. */
  readonly tell: (message: DeviceMessage) => Promise<void>;
  readonly pause: (ms: number) => Promise<void>;
}

const MOST_READ_BYTES = 64 * 1024;
const LINE_FEED = 10;
const QUESTION_MARK = 63;
/** The time-out of the device file ran out, or a signal came: there may still be an answer. */
const NO_ANSWER_YET: ReadonlySet<string> = new Set(['ETIMEDOUT', 'EAGAIN', 'EINTR']);
/** A read that ends at once with nothing is tried again after this, not in a tight loop. */
const PAUSE_MS = 20;
/** An answer that hasn't come by then isn't waited for any more. The device file's own time-out is 5 s. */
const MOST_EMPTY_READS = 500;
const MOST_OWED = 16;

/**
 * Writes what is to be written and reads an answer when there was a question in it: a device file blocks for seconds
 * when it is read with no answer pending. An answer that was given up because something new is to be written may
 * still come, so after the next question one answer more is read.
 */
export class UsbtmcTalk {
  readonly #options: TalkOptions;
  readonly #waiting: WriteMessage[] = [];
  #running = false;
  #gone = false;
  /** Answers that were given up and may still come. */
  #owed = 0;

  constructor(options: TalkOptions) {
    this.#options = options;
  }

  /** Takes a write in turn. Never rejects: trouble is told. */
  async write(message: WriteMessage): Promise<void> {
    this.#waiting.push(message);
    if (this.#running) return;
    this.#running = true;
    for (let next = this.#waiting.shift(); next !== undefined && !this.#gone; next = this.#waiting.shift()) {
      await this.#perform(next);
    }
    this.#running = false;
  }

  async #perform({ id, bytes }: WriteMessage): Promise<void> {
    const { file, tell } = this.#options;
    try {
      await file.write(bytes);
    } catch (problem) {
      if (!NO_ANSWER_YET.has(codeOf(problem))) return this.#end(problem);
      return tell({ kind: 'not-written', id, why: 'the device takes no bytes; switch it off and on again' });
    }
    await tell({ kind: 'written', id });
    const questions = questionsIn(bytes);
    if (questions === 0) return;
    try {
      await this.#readAnswers(questions);
    } catch (problem) {
      await this.#end(problem);
    }
  }

  async #readAnswers(questions: number): Promise<void> {
    for (let left = questions; left > 0; left -= 1) {
      if (await this.#readAnswer()) continue;
      this.#owed = Math.min(this.#owed + left, MOST_OWED);
      return;
    }
    // One at a time: if the device has dropped the old answer, this read blocks until the device file's time-out.
    if (this.#owed > 0 && (await this.#readAnswer())) this.#owed -= 1;
    else this.#owed = 0;
  }

  /** False when it was given up. */
  async #readAnswer(): Promise<boolean> {
    const end = new AnswerEnd();
    for (let empty = 0; empty < MOST_EMPTY_READS;) {
      const piece = await this.#readPiece();
      if (piece.length === 0) {
        if (!(await this.#options.file.present())) throw new DeviceGone();
        if (this.#waiting.length > 0) return false;
        empty += 1;
        await this.#options.pause(PAUSE_MS);
        continue;
      }
      empty = 0;
      end.take(piece);
      await this.#options.tell({ kind: 'bytes', bytes: piece });
      if (end.reached && piece.length < MOST_READ_BYTES) return true;
    }
    return false;
  }

  async #readPiece(): Promise<Uint8Array> {
    try {
      return await this.#options.file.read(MOST_READ_BYTES);
    } catch (problem) {
      if (NO_ANSWER_YET.has(codeOf(problem))) return new Uint8Array();
      throw problem;
    }
  }

  async #end(problem: unknown): Promise<void> {
    this.#gone = true;
    this.#waiting.length = 0;
    await this.#options.tell({ kind: 'gone', code: codeOf(problem) });
  }
}

/** The device file isn't there any more, as the system says it (POSIX ENOENT). */
class DeviceGone extends Error {
  override readonly name = 'DeviceGone';
  readonly code = 'ENOENT';
}

/** How many answers these bytes ask for: one a line with a question mark (IEEE 488.2, 6.3). */
function questionsIn(bytes: Uint8Array): number {
  let questions = 0;
  let asked = false;
  for (const byte of bytes) {
    if (byte === QUESTION_MARK) asked = true;
    if (byte !== LINE_FEED) continue;
    if (asked) questions += 1;
    asked = false;
  }
  return questions + (asked ? 1 : 0);
}

function codeOf(problem: unknown): string {
  const code = problem instanceof Error && 'code' in problem ? problem.code : undefined;
  return typeof code === 'string' ? code : 'unknown';
}
