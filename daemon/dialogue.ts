import { createInterface, type Interface } from 'node:readline';
import { BadUse } from './command-line.js';
import { ask, type Question, type Questions, type Reader } from './design/new-questions.js';

/** Puts each question, hands its answer in; null when the lines end before the questions do. */
export async function answered<T>(
  questions: Questions<T>,
  lines: AsyncIterator<string>,
  print: (text: string) => void,
): Promise<T | null> {
  let step = questions.next('');
  while (step.done !== true) {
    print(prompt(step.value));
    const line = await lines.next();
    if (line.done === true) return null;
    step = questions.next(line.value);
  }
  return step.value;
}

function prompt({ text, suggestion, complaint }: Question): string {
  return `${complaint === null ? '' : `  ${complaint}\n`}${text} [${suggestion}] `;
}

/** Questions at the terminal, between which other things happen. */
export class Dialogue {
  readonly #terminal: Interface;
  readonly #lines: AsyncIterator<string>;
  readonly #print: (text: string) => void;
  readonly #interrupted = new AbortController();

  constructor() {
    this.#terminal = createInterface({ input: process.stdin, output: process.stdout });
    // Ctrl-C at a terminal comes as a key, not as a signal that would end the program.
    this.#terminal.once('SIGINT', () => {
      this.#interrupted.abort();
      this.#terminal.close();
    });
    this.#lines = this.#terminal[Symbol.asyncIterator]();
    // At a terminal the person's own Enter ends the line.
    const end = process.stdin.isTTY ? '' : '\n';
    this.#print = (text) => void process.stdout.write(`${text}${end}`);
  }

  /**
   * Asks until the answer will do.
   * @throws {BadUse} when no more answers come.
   */
  async ask<T extends string | number | boolean | object>(
    text: string,
    suggestion: string,
    read: Reader<T>,
  ): Promise<T> {
    const answer = await answered(ask(text, suggestion, read), this.#lines, this.#print);
    if (answer === null) throw new BadUse('\nNo more answers came; nothing was written.');
    return answer;
  }

  /**
   * Does what takes its time between two questions, until it is done or the person ends it with Ctrl-C.
   * @throws {BadUse} when it was ended.
   */
  async meanwhile<T>(work: (signal: AbortSignal) => Promise<T>): Promise<T> {
    const { signal } = this.#interrupted;
    const done = await work(signal);
    if (signal.aborted) throw new BadUse('\nEnded with Ctrl-C; nothing was written.');
    return done;
  }

  tell(text: string): void {
    console.log(text);
  }

  close(): void {
    this.#terminal.close();
  }
}
