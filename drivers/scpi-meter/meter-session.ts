import type { Clock } from '../clock.js';
import type { ChannelSpec, InstrumentEvent } from '../driver.js';
import type { FaultTeller } from '../fault-teller.js';
import { printable } from '../printable.js';
import { readingMaker } from '../reading-of.js';
import type { StateTeller } from '../state-teller.js';
import type { Conversation, HeardLine, Outcome, Script, Wait } from './conversation.js';
import { configureCommand } from './functions.js';
import { parseReply } from './reply.js';

export interface MeterSettings {
  readonly intervalMs: number;
  readonly timeoutMs: number;
  readonly firstCommands: readonly string[];
}

export interface MeterSurroundings {
  readonly channels: readonly ChannelSpec[];
  readonly settings: MeterSettings;
  readonly clock: Clock;
  readonly conversation: Conversation;
  readonly send: (command: string) => void;
  readonly emit: (event: InstrumentEvent) => void;
  readonly faults: FaultTeller;
  readonly states: StateTeller;
  /** Who answered first on this link; null before anybody has. Outlives the connection. */
  readonly identity: { text: string | null };
}

/** Silence after which nothing more is expected of what was asked before. */
const QUIET_MS = 100;
const LONGEST_WAIT_FOR_QUIET_MS = 2000;
/** Silence after a reading that may have been a late one, in which a second one would show that it was. */
const QUIET_AFTER_DOUBTFUL_MS = 300;
/** Asked again this soon, so that a meter that wakes up is read again within two seconds. */
const LONGEST_WAIT_FOR_IDENTITY_MS = 1000;
const WRONG_DEVICE_PAUSE_MS = 1000;
/** The longest error queue seen in meters holds 30; one that never empties must not hold us up. */
const MOST_ERRORS_AT_ONCE = 32;
const MOST_REFUSALS = 3;

/** The answers can't be told apart any more: an answer is missing, too many, or not what was asked for. */
class OutOfStep extends Error {}

const LIKE_A_READING = /^\s*[+-]?[\d.]+(?:[eE][+-]?\d+)?[^\d,;]*$/;

type Talk<Result> = Generator<Wait, Result, Outcome>;
type Answer = HeardLine & { readonly text: string };

/**
 * What is said to a meter during one connection. Whenever question and answer may have lost each other, `*IDN?` is
 * asked until its known answer comes: a device answers in order (IEEE 488.2, chapter 6), so what was asked before has
 * been answered or dropped by then, and no late answer can be taken for the next one. For devices that don't keep to
 * that, the first reading after one that was given up isn't shown unless the late one has been seen.
 */
export class MeterSession {
  readonly #around: MeterSurroundings;
  readonly #refusals = new Map<string, number>();
  #configured: ChannelSpec['measures'] | null = null;
  #turn = 0;
  /** A `READ?` was given up and its answer hasn't been seen since. */
  #owesReading = false;

  constructor(around: MeterSurroundings) {
    this.#around = around;
  }

  *script(): Script {
    yield* this.#identify('*CLS');
    this.#around.settings.firstCommands.forEach((command) => this.#around.send(command));
    for (let when = 'before the first reading'; ; when = 'after an answer was missing or wrong') {
      try {
        yield* this.#showErrors(when);
        for (;;) yield* this.#round();
      } catch (problem) {
        if (!(problem instanceof OutOfStep)) throw problem;
        this.#around.states.notReading(problem.message);
        this.#configured = null;
        yield* this.#identify();
      }
    }
  }

  /** Goes through all channels once, beginning after the one that was asked last, and waits for the next round. */
  *#round(): Talk<void> {
    const { channels, clock, settings } = this.#around;
    const startMs = clock.nowMs();
    for (let asked = 0; asked < channels.length; asked += 1) {
      const channel = channels[this.#turn % channels.length];
      this.#turn = (this.#turn + 1) % channels.length;
      if (channel !== undefined && (yield* this.#configure(channel))) yield* this.#read(channel);
    }
    yield { for: 'delay', delayMs: Math.max(0, startMs + settings.intervalMs - clock.nowMs()) };
  }

  /** False when the meter refuses: it would go on measuring what it did before and call it this channel's value. */
  *#configure({ name, measures }: ChannelSpec): Talk<boolean> {
    const refusals = this.#refusals.get(name) ?? 0;
    if (refusals >= MOST_REFUSALS) return false;
    if (this.#configured === measures) return true;
    const command = configureCommand(measures);
    this.#configured = null;
    this.#around.send(command);
    if ((yield* this.#showErrors(`after ${command}, so ${name} is not read`)) > 0) {
      this.#refusals.set(name, refusals + 1);
      return false;
    }
    this.#refusals.delete(name);
    this.#configured = measures;
    return true;
  }

  *#read(channel: ChannelSpec): Talk<void> {
    const { emit, faults, states } = this.#around;
    if (this.#owesReading) yield* this.#passOverDoubtful();
    this.#owesReading = true;
    const answer = yield* this.#ask('READ?');
    this.#owesReading = false;
    const reply = parseReply(answer.text, channel.measures);
    if (reply === null) {
      faults.count('not-understood', `no single number of ${channel.measures}`, answer.text);
      throw new OutOfStep('the last answer was no reading');
    }
    states.reading();
    emit(readingMaker(channel)(reply.value, reply.mark, answer.atMs));
  }

  /** Asks for a reading that may get the late answer of an earlier one. Should both come, the next question tells. */
  *#passOverDoubtful(): Talk<void> {
    const { text } = yield* this.#ask('READ?');
    this.#around.faults.count('late-answer', 'not shown: it may belong to a READ? that was given up', text);
    yield { for: 'quiet', quietMs: QUIET_AFTER_DOUBTFUL_MS, withinMs: LONGEST_WAIT_FOR_QUIET_MS };
    this.#owesReading = false;
  }

  /** Empties the error queue and tells each error; returns how many there were. */
  *#showErrors(when: string): Talk<number> {
    for (let count = 0; count < MOST_ERRORS_AT_ONCE; count += 1) {
      const { text } = yield* this.#ask('SYST:ERR?');
      const code = /^\s*([+-]?\d{1,6})\s*(?:,|$)/.exec(text)?.[1];
      if (code === undefined) {
        this.#around.faults.count('not-understood', 'no entry of an error queue', text);
        throw new OutOfStep('SYST:ERR? was answered with something else');
      }
      if (Number(code) === 0) return count;
      this.#around.faults.tell('instrument-error', `${printable(text, 120)} ${when}`);
    }
    return MOST_ERRORS_AT_ONCE;
  }

  /** Asks one question and waits for its answer. */
  *#ask(question: string): Talk<Answer> {
    const { clock, faults, identity, send, settings } = this.#around;
    this.#refuseUnread(question);
    send(question);
    const deadlineMs = clock.nowMs() + settings.timeoutMs;
    for (;;) {
      const line = yield* this.#nextLine(deadlineMs);
      if (line === null) {
        faults.count(
          'no-answer',
          `${question} was not answered within ${settings.timeoutMs} ms (timeout_ms)`,
        );
        throw new OutOfStep(`${question} was not answered`);
      }
      const { text, atMs } = line;
      if (text === null) throw new OutOfStep(`the answer to ${question} was damaged`);
      if (text.trim() === identity.text) faults.count('late-answer', 'an answer to an earlier *IDN?', text);
      else if (text.trim() !== question) return { text, atMs };
    }
  }

  /** What has come unasked is an answer too many, or a late one: the next answer couldn't be trusted. */
  #refuseUnread(question: string): void {
    const { conversation, identity } = this.#around;
    let stray = conversation.midLine;
    for (const { text } of conversation.takeUnread()) {
      if (text === null) continue;
      this.#countLate(text, `came before ${question} was asked`);
      stray ||= text.trim() !== identity.text;
    }
    if (stray) throw new OutOfStep('something came that was not asked for');
  }

  *#nextLine(deadlineMs: number): Talk<HeardLine | null> {
    const withinMs = Math.max(0, deadlineMs - this.#around.clock.nowMs());
    const outcome = yield { for: 'line', withinMs };
    return typeof outcome === 'boolean' ? null : outcome;
  }

  /** Gets in step: ends when the meter has answered `*IDN?` as it did the first time, and is quiet. */
  *#identify(before?: string): Talk<void> {
    const { clock, emit, faults, identity, send, states } = this.#around;
    for (;;) {
      yield* this.#calmDown(identity.text !== null);
      if (before !== undefined) send(before);
      send('*IDN?');
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

  /** Waits until nothing more comes and drops what came. A greeting at the very first is no fault. */
  *#calmDown(isFault: boolean): Talk<void> {
    const { conversation } = this.#around;
    yield { for: 'quiet', quietMs: QUIET_MS, withinMs: LONGEST_WAIT_FOR_QUIET_MS };
    for (const { text } of conversation.startAfresh()) {
      if (isFault && text !== null) this.#countLate(text, 'came when nothing was asked');
    }
  }

  #countLate(text: string, saying: string): void {
    this.#around.faults.count('late-answer', saying, text);
    if (LIKE_A_READING.test(text)) this.#owesReading = false;
  }

  /** The first line that could be an identity; null, and a fault, when none comes. */
  *#awaitIdentity(): Talk<string | null> {
    const { clock, faults, identity, settings } = this.#around;
    const withinMs = Math.min(settings.timeoutMs, LONGEST_WAIT_FOR_IDENTITY_MS);
    const deadlineMs = clock.nowMs() + withinMs;
    let other = '';
    for (;;) {
      const line = yield* this.#nextLine(deadlineMs);
      if (line === null) break;
      const text = line.text?.trim() ?? '';
      if (isIdentity(text)) return text;
      if (text === '' || text === '*IDN?') continue;
      other = text;
      if (identity.text !== null) this.#countLate(text, 'came before the answer to *IDN?');
    }
    if (other !== '' && identity.text === null) {
      faults.count('wrong-device', 'answers to *IDN? without maker, model, serial number, firmware', other);
    } else faults.count('no-answer', `*IDN? was not answered within ${withinMs} ms; is this a SCPI meter?`);
    return null;
  }
}

/** Four fields apart by commas, the first a maker's name (IEEE 488.2, 10.14). */
function isIdentity(text: string): boolean {
  const fields = text.split(',', 4);
  return fields.length === 4 && /[A-Za-z]/.test(fields[0] ?? '');
}
