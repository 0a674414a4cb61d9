import { wrapped } from './powerup-text.js';

/** Lines that scroll, and below them one line that is written anew. */
export class PowerupScreen {
  readonly #output: NodeJS.WriteStream;
  #live = '';

  constructor(output: NodeJS.WriteStream) {
    this.#output = output;
  }

  readonly print = (text: string): void => {
    for (const line of wrapped(text, ''))
      this.#output.write(this.#output.isTTY ? `\r\u001b[K${line}\n${this.#live}` : `${line}\n`);
  };

  /** Where nobody looks at a terminal, or it takes nothing, the live line is left out. */
  readonly live = (line: string): void => {
    if (!this.#output.isTTY || this.#output.writableLength > 0 || line === this.#live) return;
    this.#live = line;
    this.#output.write(`\r\u001b[K${line}`);
  };

  /** In red where the terminal shows colours (https://no-color.org). */
  readonly red = (text: string): string =>
    this.#output.isTTY && (process.env['NO_COLOR'] ?? '') === '' ? `\u001b[31m${text}\u001b[39m` : text;
}
