import type { Measurand, ReadingMark } from '../driver.js';
import { NumberReader, type DecimalMark } from '../lines/number-reader.js';
import { endOfUnitWord, isUnitByte, timesPower, unitPower } from '../lines/unit-words.js';
import type { Pattern, PatternPart } from './pattern.js';

const SPACE = 32;
const TAB = 9;
const ENCODER = new TextEncoder();
const DECODER = new TextDecoder();

/** A part of the pattern made ready for bytes. All have the same fields, so that the loop over them stays quick. */
interface Step {
  readonly kind: 'number' | 'text' | 'skip';
  /** There must be a blank before this; otherwise there may be any. */
  readonly needsBlank: boolean;
  /** The text to be matched, the unit as the line spells it, or the text that ends what is skipped. */
  readonly bytes: Uint8Array;
  readonly measurand: Measurand | undefined;
  /** Power of ten that goes with the pattern's own unit. */
  readonly power: number;
  /** How far a skip goes. */
  readonly until: 'text' | 'blank' | 'line-end';
}

/**
 * Matches whole lines of UTF-8 against one pattern. It goes through the line once and never back, so that its time
 * grows with the line's length and nothing else. Its results are fields, overwritten by the next line.
 */
export class LineMatcher {
  /** The names of the numbers, in the order of the line. */
  readonly names: readonly string[];
  /** What each is, in the unit of its measurand; NaN where a mark is set. Valid after `match` gave true. */
  readonly values: Float64Array;
  /** Where a word such as `OL` stood instead of a number. */
  readonly marks: (ReadingMark | null)[];
  readonly #steps: readonly Step[];
  readonly #numbers: NumberReader;

  /** `measures` says what a name measures where the bench file does; the pattern's unit word decides otherwise. */
  constructor(
    pattern: Pattern,
    measures: ReadonlyMap<string, Measurand> = new Map(),
    decimal: DecimalMark = 'point',
  ) {
    this.#numbers = new NumberReader(decimal);
    this.names = pattern.parts.flatMap((part) => (part.kind === 'number' ? [part.name] : []));
    this.values = new Float64Array(this.names.length);
    this.marks = this.names.map(() => null);
    this.#steps = stepsOf(pattern.parts, measures);
  }

  /** Whether the pattern describes the whole line; blanks at both ends don't matter. */
  match(line: Uint8Array): boolean {
    const steps = this.#steps;
    let at = skipBlanks(line, 0);
    let slot = 0;
    for (let index = 0; index < steps.length; index += 1) {
      const step = steps[index] as Step;
      if (step.needsBlank && !isBlank(line[at - 1])) return false;
      if (step.kind === 'number') {
        at = this.#matchNumber(line, at, step, slot);
        if (at < 0) return false;
        slot += 1;
      } else if (step.kind === 'text') {
        if (!hasBytesAt(line, at, step.bytes)) return false;
        at += step.bytes.length;
      } else {
        at = endOfSkip(line, at, step);
        if (at < 0) return false;
      }
      at = skipBlanks(line, at);
    }
    return at === line.length;
  }

  /** Where the number and its unit end; -1 when there is none. */
  #matchNumber(line: Uint8Array, from: number, step: Step, slot: number): number {
    const numbers = this.#numbers;
    if (!numbers.read(line, from)) return -1;
    this.marks[slot] = numbers.mark;
    const afterNumber = skipBlanks(line, numbers.end);
    if (step.measurand === undefined || step.bytes.length === 0) {
      this.values[slot] = timesPower(numbers.value, step.power);
      return afterNumber;
    }
    const ownEnd = afterNumber + step.bytes.length;
    const isOwn = hasBytesAt(line, afterNumber, step.bytes) && !isUnitByte(line[ownEnd]);
    const end = isOwn ? ownEnd : endOfUnitWord(line, afterNumber);
    const power = isOwn ? step.power : powerOf(line.subarray(afterNumber, end), step.measurand);
    if (power === undefined) return numbers.mark === null ? -1 : afterNumber;
    this.values[slot] = timesPower(numbers.value, power);
    return end;
  }
}

/** Blanks become a property of the step behind them. Around numbers they may be there though the pattern has none. */
function stepsOf(parts: readonly PatternPart[], measures: ReadonlyMap<string, Measurand>): Step[] {
  return parts.flatMap((part, index) => {
    if (part.kind === 'blanks') return [];
    const before = parts[index - 1];
    const needsBlank = before?.kind === 'blanks' && before.required;
    return [{ needsBlank, ...NO_CONTENT, ...contentOf(part, parts[index + 1], measures) }];
  });
}

type Content = Omit<Step, 'needsBlank'>;

const NO_CONTENT = { bytes: new Uint8Array(), measurand: undefined, power: 0, until: 'line-end' } as const;

function contentOf(
  part: Exclude<PatternPart, { kind: 'blanks' }>,
  next: PatternPart | undefined,
  measures: ReadonlyMap<string, Measurand>,
): Partial<Content> & Pick<Content, 'kind'> {
  if (part.kind === 'text') return { kind: 'text', bytes: ENCODER.encode(part.text) };
  if (part.kind === 'skip') {
    if (next?.kind === 'text') return { kind: 'skip', bytes: ENCODER.encode(next.text), until: 'text' };
    return { kind: 'skip', until: next?.kind === 'blanks' ? 'blank' : 'line-end' };
  }
  const measurand = part.measures && (measures.get(part.name) ?? part.measures);
  const power = measurand && unitPower(measurand, part.unit);
  const printed = part.isPrinted ? part.unit : '';
  return { kind: 'number', bytes: ENCODER.encode(printed), measurand, power: power ?? 0 };
}

function powerOf(word: Uint8Array, measurand: Measurand): number | undefined {
  return unitPower(measurand, DECODER.decode(word));
}

/** Where what is skipped ends; -1 when the text behind it never comes. Each byte is looked at once. */
function endOfSkip(line: Uint8Array, from: number, { bytes, until }: Step): number {
  if (until === 'line-end') return line.length;
  if (until === 'blank') {
    let at = from;
    while (at < line.length && !isBlank(line[at])) at += 1;
    return at;
  }
  return Buffer.from(line.buffer, line.byteOffset, line.byteLength).indexOf(bytes, from);
}

function hasBytesAt(line: Uint8Array, at: number, bytes: Uint8Array): boolean {
  if (at + bytes.length > line.length) return false;
  for (let i = 0; i < bytes.length; i += 1) if (line[at + i] !== bytes[i]) return false;
  return true;
}

function isBlank(byte: number | undefined): boolean {
  return byte === SPACE || byte === TAB;
}

function skipBlanks(line: Uint8Array, from: number): number {
  let at = from;
  while (at < line.length && isBlank(line[at])) at += 1;
  return at;
}
