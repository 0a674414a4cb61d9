import { numberBetween, numberOption, optionOf, optionProblems, type OptionRule } from '../options.js';
import { lineOutput, type LineWords } from './line-output.js';
import type { OutputDriver } from './output.js';

const WORD: OptionRule = {
  allowed: 'a line of 1 to 80 printable ASCII characters',
  accepts: (value) => typeof value === 'string' && /^[\x20-\x7e]{1,80}$/.test(value) && value.trim() !== '',
};

/** What is said and heard unless the bench file says otherwise; a contact that is closed lets power through. */
const DEFAULT_WORDS = {
  on: 'CLOSE',
  off: 'OPEN',
  ask: 'STATE',
  alive: 'ALIVE',
  says_on: 'CLOSED',
  says_off: 'OPENED',
} as const;

const RULES = {
  on: WORD,
  off: WORD,
  ask: WORD,
  alive: WORD,
  says_on: WORD,
  says_off: WORD,
  alive_ms: numberBetween(100, 60_000, 'ms; the board should wait for three of them before it opens'),
  timeout_ms: numberBetween(50, 10_000, 'ms'),
};

/** A relay board that takes a line of text for each command and opens when the keep-alive line stops coming. */
export const relayLines: OutputDriver = {
  name: 'relay-lines',
  switches: 'relay boards that take lines of text and open when the keep-alive stops',
  checkOptions: (options) => {
    const problems = optionProblems(options, RULES);
    return problems.length > 0 ? problems : sameWords(options);
  },
  start: (context) => lineOutput(context, wordsOf(context.options)),
};

function sameWords(options: unknown): ReturnType<OutputDriver['checkOptions']> {
  const found = wordOf(options, 'says_off');
  if (found.trim() !== wordOf(options, 'says_on').trim()) return [];
  return [{ key: 'says_off', found, allowed: 'another line than says_on' }];
}

function wordsOf(options: unknown): LineWords {
  const [saysOn, saysOff] = [wordOf(options, 'says_on').trim(), wordOf(options, 'says_off').trim()];
  return {
    on: wordOf(options, 'on'),
    off: wordOf(options, 'off'),
    ask: wordOf(options, 'ask'),
    alive: wordOf(options, 'alive'),
    aliveMs: numberOption(options, 'alive_ms', 1000),
    timeoutMs: numberOption(options, 'timeout_ms', 1000),
    positionIn(line) {
      const said = line.trim();
      if (said === saysOn) return 'on';
      return said === saysOff ? 'off' : null;
    },
  };
}

function wordOf(options: unknown, key: keyof typeof DEFAULT_WORDS): string {
  const written = optionOf(options, key);
  return typeof written === 'string' ? written : DEFAULT_WORDS[key];
}
