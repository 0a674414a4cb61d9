import type { Clock } from '../clock.js';
import type { FaultTeller } from '../fault-teller.js';
import type { StateTeller } from '../state-teller.js';
import type { BusTalk, Talk } from './bus-talk.js';
import { doubt, type BusUnit } from './bus-unit.js';
import {
  answerBytes,
  fits,
  framesIn,
  hexOf,
  requestBytes,
  SHORTEST_FRAME_BYTES,
  withoutEcho,
  type AnswerFrame,
  type ReadRequest,
} from './frames.js';
import { afterAnswers, hasRegisters, isMarker } from './pending.js';
import { silenceMs, wireMs } from './silence.js';

export interface BusSettings {
  readonly intervalMs: number;
  readonly timeoutMs: number;
  readonly baud: number;
}

export interface BusSurroundings {
  readonly units: readonly BusUnit[];
  readonly settings: BusSettings;
  readonly clock: Clock;
  readonly talk: BusTalk;
  readonly send: (bytes: Uint8Array) => void;
  readonly faults: FaultTeller;
  readonly states: StateTeller;
}

/** A whole answer and when its last byte came. */
export interface Answer {
  readonly frame: AnswerFrame;
  readonly atMs: number;
}

/**
 * How a question is asked: for `registers` that are to be read; as a `knock`, for registers to see whether anybody
 * answers; as a `marker`, before whose answer late ones may come; as a `first marker`, which needn't be answered.
 */
export type Manner = 'registers' | 'knock' | 'marker' | 'first marker';

/** An answer of full length that is still no good after this much silence won't get better. */
const DAMAGED_QUIET_MS = 50;
const LONGEST_NOISE_MS = 2000;

/** Questions and answers on the line during one connection. What comes that isn't an answer is counted. */
export class BusLine {
  readonly #around: BusSurroundings;
  #heardUnits: readonly number[] = [];

  constructor(around: BusSurroundings) {
    this.#around = around;
  }

  nowMs(): number {
    return this.#around.clock.nowMs();
  }

  /** Whether a whole answer of this unit, to whatever, came since the latest question. */
  wasHeard({ unit }: BusUnit): boolean {
    return this.#heardUnits.includes(unit);
  }

  /** Asks once and notes what may still come. Null, and a fault, when no good answer came in time. */
  *ask(unit: BusUnit, request: ReadRequest, manner: Manner): Talk<Answer | null> {
    const { send, settings, talk } = this.#around;
    yield* this.awaitSilence();
    const question = requestBytes(request);
    unit.pending = [...unit.pending, { request, askedAtMs: this.nowMs() }];
    send(question);
    const underWayMs = wireMs(question.length + answerBytes(request), settings.baud);
    const deadlineMs = this.nowMs() + settings.timeoutMs + underWayMs;
    for (;;) {
      const frame = this.#findAnswer(unit, request, manner);
      if (frame !== null) return this.#take(request, frame);
      const isLong = manner === 'registers' && this.#heardFor(request).length >= answerBytes(request);
      const untilMs = isLong ? Math.min(deadlineMs, talk.lastByteMs + DAMAGED_QUIET_MS) : deadlineMs;
      if (this.nowMs() >= untilMs) break;
      yield { untilMs, orBytes: true };
    }
    this.#giveUp(request, manner);
    return null;
  }

  /** Waits until nothing has come for as long as the standard demands between frames, and drops what came. */
  *awaitSilence(): Talk<void> {
    const { faults, settings, states, talk } = this.#around;
    let noiseSinceMs = this.nowMs();
    for (;;) {
      const untilMs = talk.lastByteMs + silenceMs(settings.baud);
      if (this.nowMs() >= untilMs) break;
      if (this.nowMs() - noiseSinceMs >= LONGEST_NOISE_MS) {
        noiseSinceMs = this.nowMs();
        faults.count(
          'not-understood',
          'the line is never silent, so nothing can be asked',
          hexOf(talk.heard),
        );
        states.notReading('the line is never silent');
      }
      yield { untilMs, orBytes: false };
    }
    this.#dropUnasked();
  }

  #heardFor(request: ReadRequest): Uint8Array {
    return withoutEcho(this.#around.talk.heard, request);
  }

  /**
   * The answer, when it is the last that came of its unit and nothing stands behind it. A line without bias makes a
   * stray byte or two before and after each answer, which do no harm as the answer has its CRC.
   */
  #findAnswer({ pending }: BusUnit, request: ReadRequest, manner: Manner): AnswerFrame | null {
    const heard = this.#heardFor(request);
    const own = framesIn(heard).filter(({ unit }) => unit === request.unit);
    const frame = own.at(-1);
    if (frame === undefined || !fits(frame, request)) return null;
    if (heard.length - frame.end >= SHORTEST_FRAME_BYTES) return null;
    if (manner !== 'registers') return frame;
    const isOnly = own.filter((other) => !isMarker(other)).length === 1;
    return isOnly && !hasRegisters(afterAnswers(pending, own)) ? frame : null;
  }

  #take(request: ReadRequest, frame: AnswerFrame): Answer {
    const { faults, talk } = this.#around;
    const heard = this.#heardFor(request);
    const frames = framesIn(heard);
    const said = `beside the answer of unit ${request.unit}`;
    if (frames.length > 1) faults.count('late-answer', `an earlier one ${said}`, hexOf(heard));
    else if (heard.length > frame.end - frame.start) {
      faults.count('not-understood', `stray bytes ${said}`, hexOf(heard));
    }
    this.#settleWith(frames);
    return { frame, atMs: talk.lastByteMs };
  }

  /** Notes what these answers settle, each once, and forgets the bytes. */
  #settleWith(frames: readonly AnswerFrame[]): void {
    const { talk, units } = this.#around;
    for (const unit of units) {
      const own = frames.filter((frame) => frame.unit === unit.unit);
      unit.pending = afterAnswers(unit.pending, own);
      if (own.some(isMarker)) unit.markers = 'heeded';
    }
    this.#heardUnits = frames.map(({ unit }) => unit);
    talk.forget();
  }

  /** Nobody has asked for what has come since the last answer. */
  #dropUnasked(): void {
    const { faults, talk, units } = this.#around;
    if (talk.heard.length === 0) return;
    const frames = framesIn(talk.heard);
    const code = frames.length > 0 ? 'late-answer' : 'not-understood';
    faults.count(code, 'came when nothing was asked', hexOf(talk.heard));
    this.#settleWith(frames);
    units.filter((unit) => this.wasHeard(unit)).forEach(doubt);
  }

  /** Says what came instead of an answer. */
  #giveUp(request: ReadRequest, manner: Manner): void {
    const { faults, settings, units } = this.#around;
    const { unit, functionCode, address, count } = request;
    const heard = this.#heardFor(request);
    const frames = framesIn(heard);
    const stranger = frames.find((frame) => units.every((known) => known.unit !== frame.unit));
    const question = `unit ${unit}, function ${functionCode}, ${count} from address ${address}`;
    if (heard.length === 0) {
      const why = `${question}: no answer within ${settings.timeoutMs} ms (timeout_ms)`;
      if (manner !== 'first marker') faults.count('no-answer', why);
    } else if (stranger !== undefined) {
      faults.count('wrong-device', `${question}: answered by unit ${stranger.unit}`, hexOf(heard));
    } else if (frames.length > 0) {
      faults.count('late-answer', `${question}: an answer to something else came`, hexOf(heard));
    } else {
      faults.count('not-understood', `${question}: a damaged or unfinished answer`, hexOf(heard));
    }
    this.#settleWith(frames);
  }
}
