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

  constructor() {
    this.#terminal = createInterface({ input: process.stdin, output: process.stdout });
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

  tell(text: string): void {
    console.log(text);
  }

  close(): void {
    this.#terminal.close();
  }
}
