import { name as nameRule } from './allowed.js';
import {
  highestRail,
  makes,
  suggestedHeatsink,
  suggestedRegulator,
  type NewDesign,
  type NewRail,
  type NewSource,
} from './new-design.js';
import { REGULATORS, regulatorNamed } from './parts/regulators.js';
import { RESERVED_NAMES } from './test-points.js';

/** One thing to ask. */
export interface Question {
  readonly text: string;
  /** Taken when nothing is typed. */
  readonly suggestion: string;
  /** What was wrong with the answer before, when it is asked again. */
  readonly complaint: string | null;
}

/** Asks by yielding; the answer comes back as it was typed. */
export type Questions<T> = Generator<Question, T, string>;

/** Reads an answer, or says what is allowed. */
export type Reader<T> = (typed: string) => { readonly value: T } | { readonly allowed: string };

/** One question until its answer will do. */
export function* ask<T>(text: string, suggestion: string | number, read: Reader<T>): Questions<T> {
  let complaint: string | null = null;
  for (;;) {
    const typed: string = yield { text, suggestion: String(suggestion), complaint };
    const answer = typed.trim() === '' ? String(suggestion) : typed.trim();
    const result = read(answer);
    if ('value' in result) return result.value;
    complaint = `found "${answer}"; ${result.allowed} is allowed`;
  }
}

/** Everything that a new design needs. */
export function* newDesignQuestions(): Questions<NewDesign> {
  const name = yield* ask('What is the supply called?', 'my supply', shortText);
  const mains = yield* ask('Mains: 230 V 50 Hz or 120 V 60 Hz?', 230, mainsVolts);
  const volts = yield* ask('Transformer: secondary volts at full load', 15, number(5, 60, 'volts'));
  const va = yield* ask('Transformer: VA', 30, number(1, 2000, 'volt-amperes'));
  const capacity_uF = yield* ask('Reservoir: microfarads', 4700, number(10, 200_000, 'microfarads'));
  const source: NewSource = { mains, volts, va, capacity_uF };
  const count = yield* ask('How many rails?', 1, wholeNumber(1, 6));
  const rails: NewRail[] = [];
  while (rails.length < count) rails.push(yield* railQuestions(source, rails));
  return { name, ...source, rails };
}

/** Everything that a rail of this source needs; `before`: the rails that are there already. */
export function* railQuestions(
  source: NewSource,
  before: readonly Pick<NewRail, 'name'>[],
): Questions<NewRail> {
  const which = `Rail ${before.length + 1}`;
  const name = yield* ask(`${which}: name`, `rail-${before.length + 1}`, freeName(before));
  const most = Math.floor(highestRail(source, regulatorNamed('LM317')) * 10) / 10;
  const volts = yield* ask(
    `${name}: volts`,
    Math.min(5, most),
    number(1.25, most, 'volts from this transformer'),
  );
  const full = yield* ask(`${name}: amps at full load`, 0.2, number(0.001, 5, 'amps'));
  const typical = yield* ask(`${name}: amps as a rule`, tidy(full * 0.7), number(0, full, 'amps'));
  const idle = yield* ask(`${name}: amps when idle`, tidy(typical * 0.2), number(0, typical, 'amps'));
  const regulator = yield* ask(
    `${name}: regulator`,
    suggestedRegulator(volts, full, source),
    regulatorName(volts, source),
  );
  const heatsink = yield* ask(
    `${name}: heatsink in K/W, or none`,
    suggestedHeatsink(volts, full, source),
    heatsinkSize,
  );
  const least = tidy(volts * 1.04);
  const high = yield* ask(
    `${name}: most volts that its load survives`,
    tidy(volts * 1.15),
    number(least, 100, 'volts above its own'),
  );
  return { name, volts, regulator, idle, typical, full, heatsink, high };
}

function tidy(value: number): number {
  return Number(value.toPrecision(3));
}

function number(low: number, high: number, of: string): Reader<number> {
  return (typed) => {
    const value = Number(typed.replace(',', '.'));
    if (Number.isFinite(value) && value >= low && value <= high) return { value };
    return { allowed: `a number from ${low} to ${high} (${of})` };
  };
}

function wholeNumber(low: number, high: number): Reader<number> {
  return (typed) => {
    const value = Number(typed);
    if (Number.isInteger(value) && value >= low && value <= high) return { value };
    return { allowed: `a whole number from ${low} to ${high}` };
  };
}

/** Printable, so that nothing typed at the terminal can end a line of the file. */
export function shortText(typed: string): ReturnType<Reader<string>> {
  const plain = /^[^\p{C}\p{Zl}\p{Zp}]{1,80}$/u.test(typed);
  return plain ? { value: typed } : { allowed: 'a name of 1 to 80 printable characters' };
}

function mainsVolts(typed: string): ReturnType<Reader<230 | 120>> {
  if (/^230(\s*V)?$/i.test(typed)) return { value: 230 };
  return /^120(\s*V)?$/i.test(typed) ? { value: 120 } : { allowed: '230 or 120' };
}

function freeName(before: readonly Pick<NewRail, 'name'>[]): Reader<string> {
  const taken: readonly string[] = [...RESERVED_NAMES, ...before.map(({ name }) => name)];
  return (typed) => {
    const checked = nameRule.safeParse(typed);
    if (!checked.success) return { allowed: checked.error.issues[0]?.message ?? 'another name' };
    if (taken.includes(typed)) return { allowed: `a name other than ${taken.join(', ')}` };
    return { value: typed };
  };
}

function regulatorName(volts: number, source: NewSource): Reader<string> {
  const fitting = [...REGULATORS.values()]
    .filter((part) => makes(part, volts, source))
    .map(({ name }) => name);
  return (typed) => {
    const known = fitting.find((name) => name.toLowerCase() === typed.toLowerCase());
    return known === undefined
      ? { allowed: `one that makes ${volts} V (${fitting.join(', ')})` }
      : { value: known };
  };
}

function heatsinkSize(typed: string): ReturnType<Reader<number | 'none'>> {
  if (typed.toLowerCase() === 'none') return { value: 'none' };
  const size = number(0.1, 100, 'K/W')(typed);
  return 'value' in size ? size : { allowed: `${size.allowed}, or none,` };
}
