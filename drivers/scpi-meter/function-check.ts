import type { Clock } from '../clock.js';
import type { Measurand } from '../driver.js';
import { OutOfStep, type InStep, type Talk } from '../scpi/in-step.js';
import { functionNamed } from './functions.js';

/** What a meter says of its function: the one that it was configured for, another, or nothing at all. */
export type FunctionSaid = 'same' | 'nothing' | { readonly another: string };

/** The meter doesn't know the question; the error that it may have noted for that is of our making. */
export class FunctionNotSaid extends OutOfStep {
  constructor() {
    super('it does not say its function, so a change by hand is not seen');
  }
}

/** The standard's question, with what may be left out left out (SCPI-1999 volume 2, SENSe:FUNCtion). */
const QUESTION = 'FUNC?';
/** By then a meter that doesn't know the question has shown readings, which don't count as silent so soon. */
const FIRST_ASKED_AFTER_MS = 5000;
const FIRST_ANSWER_MS = 300;

/**
 * Sees whether a meter still measures what it was configured for: a person at its keys may have set it to something
 * else, and its numbers don't tell. For one connection.
 */
export class FunctionCheck {
  readonly #inStep: InStep;
  readonly #clock: Clock;
  readonly #sinceMs: number;
  /** What the meter calls the functions that it was configured for. */
  readonly #names = new Map<Measurand, string>();
  /** Whether the meter answers; null before it was asked. */
  #isAnswered: boolean | null = null;

  constructor(inStep: InStep, clock: Clock) {
    this.#inStep = inStep;
    this.#clock = clock;
    this.#sinceMs = clock.nowMs();
  }

  /** Asks, unless the meter is known not to answer. After `nothing` it has to be got in step. @throws {OutOfStep} */
  *ask(measures: Measurand): Talk<FunctionSaid> {
    const isTooEarly =
      this.#isAnswered === null && this.#clock.nowMs() - this.#sinceMs < FIRST_ASKED_AFTER_MS;
    if (this.#isAnswered === false || isTooEarly) return 'same';
    const said = this.#isAnswered === null ? yield* this.#firstAnswer() : yield* this.#answer();
    if (said === null) return 'nothing';
    const own = this.#names.get(measures);
    const named = functionNamed(said);
    const isSame = own === undefined ? named === null || named === measures : said === own;
    if (!isSame) return { another: said };
    this.#names.set(measures, said);
    return 'same';
  }

  *#answer(): Talk<string> {
    return (yield* this.#inStep.ask(QUESTION)).text.trim();
  }

  *#firstAnswer(): Talk<string | null> {
    this.#isAnswered = false;
    try {
      const { text } = yield* this.#inStep.ask(QUESTION, { withinMs: FIRST_ANSWER_MS, mayBeUnknown: true });
      // A number is the answer of something that says its reading whatever it is asked.
      this.#isAnswered = Number.isNaN(Number(text));
      return text.trim();
    } catch (problem) {
      if (problem instanceof OutOfStep) return null;
      throw problem;
    }
  }
}
