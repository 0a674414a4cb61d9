import { keysIn } from './terminal-input.js';

/** What a key means, told by what is asked. */
export type Wish =
  | { readonly kind: 'next' | 'back' | 'quit' | 'other-check' }
  | { readonly kind: 'text' | 'override' | 'abort' | 'sign'; readonly text: string };

type Line = Extract<Wish, { text: string }>['kind'];

/** What the step asks for now. */
export interface Asked {
  /** A question that y and n answer is open. */
  readonly yesNo: boolean;
  /** The next thing is a name. */
  readonly name: boolean;
}

const PROMPTS: Readonly<Record<Line, string>> = {
  text: '> ',
  override: 'Reason to go on all the same: ',
  abort: 'Break off. Enter breaks off, Esc goes on. Why: ',
  sign: 'Name: ',
};

/** Keys that begin what a person types: a number, OL. */
const BEGINS_TEXT = /^[\d.,+\-O]$/;
const ENTER = /^[\r\n]$/;
const LONGEST = 500;

/** Makes wishes of keys: single ones, and lines where words are needed. */
export class PowerupKeys {
  readonly #asked: () => Asked;
  readonly #onWish: (wish: Wish) => void;
  #line: { readonly kind: Line; readonly text: string } | null = null;

  constructor(asked: () => Asked, onWish: (wish: Wish) => void) {
    this.#asked = asked;
    this.#onWish = onWish;
  }

  /** What is being typed with its prompt; null while keys count by themselves. */
  get typing(): string | null {
    return this.#line === null ? null : PROMPTS[this.#line.kind] + this.#line.text;
  }

  /** What a terminal in raw mode sent: one key, or several of a paste. */
  push(chunk: string): void {
    for (const key of keysIn(chunk)) this.#key(key);
  }

  /** A whole line where there are no keys: `n`, `o the reason`, `0.12`. */
  line(typed: string): void {
    const [, letter = '', after = ''] = /^\s*([a-z])(?:\s(.*))?$/.exec(typed) ?? [];
    const rest = after.trimStart();
    if (letter === 'o') return this.#onWish({ kind: 'override', text: rest });
    if (letter === 'a') return this.#onWish({ kind: 'abort', text: rest });
    if (letter === 't') return this.#onWish({ kind: 'text', text: rest });
    const { name, yesNo } = this.#asked();
    if (name && typed.trim().length > 1) return this.#onWish({ kind: 'sign', text: typed.trim() });
    if (typed.trim() === '' || (letter !== '' && rest === '' && !(yesNo && /[yn]/.test(letter)))) {
      return this.#single(letter === '' ? '\n' : letter);
    }
    this.#onWish({ kind: 'text', text: typed.trim() });
  }

  #key(key: string): void {
    if (key === '\u0003') return this.#onWish({ kind: 'quit' });
    if (this.#line === null) return this.#single(key);
    if (key === '\u001b') this.#line = null;
    else if (ENTER.test(key)) this.#finish(this.#line);
    else if (key === '\u007f' || key === '\b')
      this.#line = { ...this.#line, text: this.#line.text.slice(0, -1) };
    else if (key >= ' ' && this.#line.text.length < LONGEST)
      this.#begin(this.#line.kind, this.#line.text + key);
  }

  #single(key: string): void {
    const { yesNo, name } = this.#asked();
    if (yesNo && (key === 'y' || key === 'n')) return this.#onWish({ kind: 'text', text: key });
    if (key === 'n' || ENTER.test(key))
      return name ? this.#begin('sign', '') : this.#onWish({ kind: 'next' });
    if (key === 'b') return this.#onWish({ kind: 'back' });
    if (key === 'q') return this.#onWish({ kind: 'quit' });
    if (key === 'c') return this.#onWish({ kind: 'other-check' });
    if (key === 'o') return this.#begin('override', '');
    if (key === 'a') return this.#begin('abort', '');
    if (key === 't') return this.#begin('text', '');
    if (BEGINS_TEXT.test(key)) return this.#begin('text', key);
  }

  #begin(kind: Line, text: string): void {
    this.#line = { kind, text };
  }

  #finish({ kind, text }: { readonly kind: Line; readonly text: string }): void {
    this.#line = null;
    if (kind === 'text' && text.trim() === '') return;
    this.#onWish({ kind, text: text.trim() });
  }
}
