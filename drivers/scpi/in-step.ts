import type { Clock } from '../clock.js';
import type { InstrumentEvent } from '../driver.js';
import type { FaultTeller } from '../fault-teller.js';
import { Echoes } from '../lines/echoes.js';
import { printable } from '../printable.js';
import type { StateTeller } from '../state-teller.js';
import type { Conversation, HeardLine, Outcome, Wait } from './conversation.js';
import { eventErrorsIn } from './event-errors.js';
import type { CommandSender } from './send.js';

/** What is needed to talk to an instrument over one connection. */
export interface TalkSurroundings {
  readonly clock: Clock;
  readonly conversation: Conversation;
  readonly send: CommandSender;
  readonly emit: (event: InstrumentEvent) => void;
  readonly faults: FaultTeller;
  readonly states: StateTeller;
  /** Who answered first on this link; null before anybody has. Outlives the connection. */
  readonly identity: { text: string | null };
  /** How long an answer may take, in ms. */
  readonly timeoutMs: number;
  /** What the instrument is taken for, in words: `a SCPI meter`. */
  readonly kind: string;
  /** Whether `*ESR?` may stand in for an error queue: not where it is asked for something else, which would clear it. */
  readonly asksEvents: boolean;
  /** Sees every line that came unasked or too late. */
  readonly onLate?: (text: string) => void;
}

export type Talk<Result> = Generator<Wait, Result, Outcome>;
export type Answer = HeardLine & { readonly text: string };

export interface AskLimits {
  /** The longest wait for the whole answer; the time-out unless said. */
  readonly withinMs?: number;
  /** The longest silence within it; as long as the whole wait unless said. */
  readonly silenceMs?: number;
  /** Whether silence is no fault, as the instrument needn't know the question. */
  readonly mayBeUnknown?: boolean;
}

/** The answers can't be told apart any more: an answer is missing, too many, or not what was asked for. */
export class OutOfStep extends Error {}

/** Silence after which nothing more is expected of what was asked before. */
const QUIET_MS = 100;
export const LONGEST_WAIT_FOR_QUIET_MS = 2000;
/** Asked again this soon, so that an instrument that wakes up is read again within two seconds. */
const LONGEST_WAIT_FOR_IDENTITY_MS = 1000;
const WRONG_DEVICE_PAUSE_MS = 1000;
/** The longest error queue seen in instruments holds 30; one that never empties must not hold us up. */
export const MOST_ERRORS_AT_ONCE = 32;
/** So many questions for an error without an entry for an answer, and the instrument may have no queue. */
const MOST_MISSED_ENTRIES = 2;
/** SCPI-1999 volume 2, 21.8: a number, a comma and a text in quotes, which may hold commas and semicolons. */
const ERROR_ENTRY = /^\s*([+-]?\d{1,6})\s*(?:,|$)/;

/**
 * Questions and answers over one connection that can't get out of step. Whenever they may have lost each other,
 * `*IDN?` is asked until its known answer comes: a device answers in order (IEEE 488.2, chapter 6), so what was asked
 * before has been answered or dropped by then, and no late answer can be taken for the next one.
 */
export class InStep {
  readonly #around: TalkSurroundings;
  readonly #echoes = new Echoes();
  /** What answered once to `*IDN?` without being an identity as the standard has it. */
  #proposed: string | null = null;
  #missedEntries = 0;
  /** Where errors are known to be told; null before that has been seen. */
  #errorsIn: 'queue' | 'events' | null = null;

  constructor(around: TalkSurroundings) {
    this.#around = around;
  }

  /** Sends a command or a question, whose echo is then no answer. */
  say(message: string): void {
    this.#echoes.sent(message);
    this.#around.send(message);
  }

  /** Asks one question and waits for its answer. @throws {OutOfStep} */
  *ask(question: string, limits: AskLimits = {}): Talk<Answer> {
    const { clock, faults, identity, timeoutMs } = this.#around;
    const { withinMs = timeoutMs, silenceMs, mayBeUnknown = false } = limits;
    this.refuseUnread(question);
    this.say(question);
    const deadlineMs = clock.nowMs() + withinMs;
    for (;;) {
      const line = yield* this.#nextLine(deadlineMs, silenceMs);
      if (line === null) {
        const waitedMs = Math.min(withinMs, silenceMs ?? withinMs);
        const saying = `${question} was not answered within ${waitedMs} ms (timeout_ms)`;
        if (!mayBeUnknown) faults.count('no-answer', saying);
        throw new OutOfStep(`${question} was not answered`);
      }
      const { text } = line;
      if (text === null) throw new OutOfStep(`the answer to ${question} was damaged`);
      if (text.trim() === identity.text) faults.count('late-answer', 'an answer to an earlier *IDN?', text);
      else if (!this.#echoes.take(text)) return { ...line, text };
    }
  }

  /** Empties the error queue and tells each error; returns their numbers. @throws {OutOfStep} */
  *showErrors(when: string): Talk<readonly number[]> {
    if (this.#errorsIn === 'events') return yield* this.#showEvents(when);
    if (this.#errorsIn === null && this.#missedEntries === MOST_MISSED_ENTRIES && this.#around.asksEvents) {
      return yield* this.#tryEvents();
    }
    const numbers: number[] = [];
    while (numbers.length < MOST_ERRORS_AT_ONCE) {
      this.#missedEntries += 1;
      const { text } = yield* this.ask('SYST:ERR?');
      const code = ERROR_ENTRY.exec(text)?.[1];
      if (code === undefined) {
        this.#around.faults.count('not-understood', 'no entry of an error queue', text);
        throw new OutOfStep('SYST:ERR? was answered with something else');
      }
      this.#errorsIn = 'queue';
      if (Number(code) === 0) return numbers;
      numbers.push(Number(code));
      this.#around.faults.tell('instrument-error', `${printable(text, 120)} ${when}`);
    }
    return numbers;
  }

  /** An instrument that didn't know `SYST:ERR?` has a command error to tell of now; one that doesn't, never tells. */
  *#tryEvents(): Talk<readonly number[]> {
    this.#missedEntries = 0;
    const { text } = yield* this.ask('*ESR?');
    if (eventErrorsIn(text)?.some(({ number }) => number === -100) !== true) {
      const why = 'tells of errors neither by SYST:ERR? nor by *ESR?, so it is not read';
      this.#around.faults.count('not-understood', why, text);
      throw new OutOfStep('nothing tells whether a command was taken');
    }
    this.#errorsIn = 'events';
    return [];
  }

  /** The same as with a queue, from the register that reading clears (IEEE 488.2, 11.5.1). */
  *#showEvents(when: string): Talk<readonly number[]> {
    const { text } = yield* this.ask('*ESR?');
    const errors = eventErrorsIn(text);
    if (errors === null) {
      this.#around.faults.count('not-understood', 'no event status', text);
      throw new OutOfStep('*ESR? was answered with something else');
    }
    for (const { words } of errors)
      this.#around.faults.tell('instrument-error', `*ESR? says ${words} ${when}`);
    return errors.map(({ number }) => number);
  }

  /** What has come unasked is an answer too many, or a late one: the next answer couldn't be trusted. */
  refuseUnread(question: string): void {
    const { conversation, identity } = this.#around;
    let stray = conversation.midLine;
    for (const { text } of conversation.takeUnread()) {
      if (text === null || this.#echoes.take(text)) continue;
      this.#countLate(text, `came before ${question} was asked`);
      stray ||= text.trim() !== identity.text;
    }
    if (stray) throw new OutOfStep('something came that was not asked for');
  }

  /** Gets in step: ends when the instrument has answered `*IDN?` as it did the first time, and is quiet. */
  *identify(before?: string): Talk<void> {
    const { clock, emit, faults, identity, states } = this.#around;
    for (;;) {
      yield* this.#calmDown(identity.text !== null);
      if (before !== undefined) this.say(before);
      this.say('*IDN?');
      const found = yield* this.#awaitIdentity();
      if (found === null) continue;
      if (identity.text === null || identity.text === found) {
        identity.text = found;
        yield* this.#calmDown(true);
        emit({ kind: 'identity', atMs: clock.nowMs(), text: printable(found) });
        return;
      }
      faults.count(
        'wrong-device',
        `answers instead of ${printable(identity.text, 80)}, so it is not read`,
        found,
      );
      states.notReading('another device answers');
      yield { for: 'delay', delayMs: WRONG_DEVICE_PAUSE_MS };
    }
  }

  *#nextLine(deadlineMs: number, silenceMs?: number): Talk<HeardLine | null> {
    const withinMs = Math.max(0, deadlineMs - this.#around.clock.nowMs());
    const outcome = yield { for: 'line', withinMs, ...(silenceMs !== undefined && { silenceMs }) };
    return typeof outcome === 'boolean' ? null : outcome;
  }

  /** Waits until nothing more comes and drops what came. A greeting at the very first is no fault. */
  *#calmDown(isFault: boolean): Talk<void> {
    const { conversation } = this.#around;
    yield { for: 'quiet', quietMs: QUIET_MS, withinMs: LONGEST_WAIT_FOR_QUIET_MS };
    for (const { text } of conversation.startAfresh()) {
      if (isFault && text !== null && !this.#echoes.take(text))
        this.#countLate(text, 'came when nothing was asked');
    }
  }

  #countLate(text: string, saying: string): void {
    this.#around.faults.count('late-answer', saying, text);
    this.#around.onLate?.(text);
  }

  /** The first line that could be an identity; null when none comes, which is a fault unless one is proposed. */
  *#awaitIdentity(): Talk<string | null> {
    const { clock, faults, identity, kind, send, timeoutMs } = this.#around;
    const withinMs = Math.min(timeoutMs, LONGEST_WAIT_FOR_IDENTITY_MS);
    const deadlineMs = clock.nowMs() + withinMs;
    let other = '';
    let others = 0;
    for (;;) {
      const line = yield* this.#nextLine(deadlineMs);
      if (line === null) break;
      const text = line.text?.trim() ?? '';
      if (isIdentity(text) || text === identity.text) return text;
      if (text === '' || this.#echoes.take(text)) continue;
      other = text;
      others += 1;
      if (identity.text !== null) this.#countLate(text, 'came before the answer to *IDN?');
    }
    const before = this.#proposed;
    this.#proposed = identity.text === null && others === 1 && LIKE_A_NAME.test(other) ? other : null;
    if (this.#proposed !== null && (before === null || before === other)) return before;
    if (other === '' && identity.text === null) send.changeEnd();
    if (other !== '' && identity.text === null) {
      faults.count('wrong-device', 'answers to *IDN? without maker, model, serial number, firmware', other);
    } else faults.count('no-answer', `*IDN? was not answered within ${withinMs} ms; is this ${kind}?`);
    return null;
  }
}

/** Not the number that a device sends by itself. */
const LIKE_A_NAME = /^[^\d+.-].*[A-Za-z]/;

/** Four fields apart by commas, the first a maker's name (IEEE 488.2, 10.14). */
function isIdentity(text: string): boolean {
  const fields = text.split(',', 4);
  return fields.length === 4 && /[A-Za-z]/.test(fields[0] ?? '');
}
