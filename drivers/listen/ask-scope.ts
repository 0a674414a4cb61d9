import { DIALECT_NAMES, dialectFrom, type Dialect } from '../scpi-scope/dialect.js';
import { numberIn } from '../scpi-scope/preamble.js';
import { askOnce, type Asking } from './asking.js';
import { identityIn } from './identity.js';
import { readsWell, wholeLines } from './readable.js';

/** A scope that speaks one of the dialects, and which of its inputs answer. */
export interface FoundScope {
  readonly dialect: string;
  readonly inputs: readonly number[];
}

const ANSWER_MS = 600;
const MOST_INPUTS = 4;
const PAIR = /^\s*[+-]?\d+\s*,/;

/**
 * Asks what the dialects of scpi-scope ask of an input: its coupling and its attenuation. Only questions are sent, and
 * the errors that they may leave in the instrument's queue are taken out again. Null when no dialect is answered.
 */
export async function askScope(asking: Asking): Promise<FoundScope | null> {
  const scope = new ScopeQuestions(asking);
  for (const name of DIALECT_NAMES) {
    const dialect = dialectFrom(name);
    if (dialect === null || !(await scope.speaks(dialect))) continue;
    const inputs = [1];
    while (inputs.length < MOST_INPUTS && (await scope.hasInput(dialect, inputs.length + 1))) {
      inputs.push(inputs.length + 1);
    }
    await scope.clearErrors();
    return { dialect: name, inputs };
  }
  await scope.clearErrors();
  return null;
}

class ScopeQuestions {
  readonly #asking: Asking;
  #unanswered = 0;

  constructor(asking: Asking) {
    this.#asking = asking;
  }

  async speaks(dialect: Dialect): Promise<boolean> {
    const { attenuation, preamble } = dialect;
    if (!(await this.hasInput(dialect, 1))) return false;
    if (attenuation !== null) {
      const factor = numberIn((await this.#ask(forInput(attenuation.ask, 1))) ?? '');
      if (factor === null || factor <= 0) return false;
    }
    // Counters have inputs with a coupling and an attenuation too (SCPI-1999 volume 2, INPut), and are configured.
    return preamble !== null || (await this.#isSet(dialect)) || (await this.#ask('CONF?')) === null;
  }

  /** Whether the input's coupling is one of the dialect's words. */
  async hasInput({ coupling }: Dialect, input: number): Promise<boolean> {
    if (coupling === null) return false;
    const word = (await this.#ask(forInput(coupling.ask, input)))?.toUpperCase();
    return word !== undefined && Object.hasOwn(coupling.answers, word);
  }

  /** As many errors as questions that weren't understood can have left. */
  async clearErrors(): Promise<void> {
    for (let left = this.#unanswered; left > 0; left -= 1) {
      const entry = await this.#ask('SYST:ERR?');
      if (entry === null || !PAIR.test(entry) || /^[+-]?0\s*,/.test(entry)) return;
    }
  }

  /** Whether the first thing that the dialect sets can be asked for, as every setting of SCPI can. */
  async #isSet({ setup: [first] }: Dialect): Promise<boolean> {
    return first !== undefined && (await this.#ask(`${first.split(' ')[0] ?? ''}?`)) !== null;
  }

  /** The answer's text; null when none comes, or one to an earlier *IDN?. */
  async #ask(question: string): Promise<string | null> {
    if (this.#asking.isOver()) return null;
    const answer = await askOnce(this.#asking, Buffer.from(`${question}\n`), ANSWER_MS, (heard) => {
      const { first, lines } = wholeLines(heard);
      const text = [first, ...lines]
        .map((line) => line.trim())
        .find((line) => line !== '' && line !== question);
      return text !== undefined && readsWell(heard) && identityIn(heard) === null ? text : null;
    });
    if (answer === null) this.#unanswered += 1;
    return answer;
  }
}

function forInput(question: string, input: number): string {
  return question.replaceAll('{input}', String(input));
}
