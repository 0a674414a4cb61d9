import { wrapped } from '../powerup-text.js';
import { keysIn } from '../terminal-input.js';
import { acknowledgePrompt, shelvePrompt } from './alarm-prompts.js';
import { cutOffPrompt } from './cut-off-prompts.js';
import { loadPrompt } from './load-prompt.js';
import { ENTER, type Hands, type Prompt } from './prompt.js';

const REMINDER = 'a acknowledge   s put aside   l load   c cut-off   ? help   Ctrl-C end';
const HELP = [
  'One key asks, the next one answers; Esc leaves everything as it is.',
  '  a  acknowledge an alarm, or reset one that is over',
  '  s  put an alarm aside for a time, or take it up again',
  '  l  say what the rails draw: idle, typical or full load',
  '  c  cut-off: take power away, arm, test, disarm, let power through',
  '  Ctrl-C  end the session; the supply stays as it is until you switch it off',
];
const LONGEST_WORDS = 12;
const ESCAPE = '\u001b';
const INTERRUPT = '\u0003';
const BACKSPACE = /[\u007f\b]/;

/** What a person at the terminal does beside looking, by single keys or by lines. */
export class WatchKeys {
  readonly #hands: Hands;
  readonly #onEnd: () => void;
  #prompt: Prompt | null = null;
  #words = '';

  /** @param onEnd called when the person wants to end the session */
  constructor(hands: Hands, onEnd: () => void) {
    this.#hands = hands;
    this.#onEnd = onEnd;
  }

  /** What is asked now, with what was typed so far; which keys there are while nothing is. */
  get lines(): readonly string[] {
    const asked = this.#asked();
    return asked.length === 0 ? [REMINDER] : [...asked.slice(0, -1), `${asked.at(-1)}${this.#words}`];
  }

  /** What a terminal sent that hands on each key. */
  push(chunk: string): void {
    for (const key of keysIn(chunk)) this.#key(key === '\r' ? ENTER : key);
  }

  /**
   * A whole line, where a person types lines: a key by itself, or the answer to what is asked.
   * @returns whether it was meant for this
   */
  line(typed: string): boolean {
    const text = typed.trim();
    const prompt = this.#prompt;
    if (prompt === null && !/^[aslc?]$/.test(text)) return false;
    if (prompt !== null && !prompt.wantsWords && text.length > 1) {
      this.#prompt = null;
      this.#hands.say('Left as it was.');
      return false;
    }
    if (prompt?.wantsWords === true) this.#answer(prompt, text);
    else this.#key(text === '' ? ENTER : text);
    for (const line of this.#asked()) this.#hands.say(line);
    return true;
  }

  #asked(): readonly string[] {
    return (this.#prompt?.lines() ?? []).flatMap((line, at, all) =>
      at === all.length - 1 ? [line] : wrapped(line, ''),
    );
  }

  #key(key: string): void {
    if (key === INTERRUPT) return this.#onEnd();
    if (this.#prompt === null) return this.#begin(key);
    if (key === ESCAPE) return this.#ask(null);
    if (!this.#prompt.wantsWords) return this.#answer(this.#prompt, key);
    if (key === ENTER) return this.#answer(this.#prompt, this.#words);
    if (BACKSPACE.test(key)) this.#words = this.#words.slice(0, -1);
    else if (key >= ' ' && this.#words.length < LONGEST_WORDS) this.#words += key;
  }

  /** What comes of it is told without the question that it answers. */
  #answer(prompt: Prompt, text: string): void {
    this.#ask(null);
    this.#ask(prompt.answer(text));
  }

  #ask(prompt: Prompt | null): void {
    this.#words = '';
    this.#prompt = prompt;
  }

  #begin(key: string): void {
    const hands = this.#hands;
    if (key === 'a') this.#ask(acknowledgePrompt(hands));
    else if (key === 's') this.#ask(shelvePrompt(hands));
    else if (key === 'l') this.#ask(loadPrompt(hands));
    else if (key === 'c') this.#ask(cutOffPrompt(hands));
    else if (key === '?') for (const line of HELP) hands.say(line);
  }
}
