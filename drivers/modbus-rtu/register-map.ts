import type { ChannelSpec, Measurand, OptionProblem } from '../driver.js';
import { numberOption, optionOf, optionProblems, type OptionRule } from '../options.js';
import { UNIT_OF } from '../units.js';
import { READ_HOLDING, READ_INPUT } from './frames.js';
import {
  BYTE_ORDERS,
  REGISTER_TYPES,
  registersFor,
  type ByteOrder,
  type RegisterType,
} from './register-values.js';

/** One channel and where its number stands. */
export interface RegisterSpec extends ChannelSpec {
  readonly unit: number;
  readonly functionCode: typeof READ_HOLDING | typeof READ_INPUT;
  readonly address: number;
  readonly type: RegisterType;
  readonly order: ByteOrder;
  readonly scale: number;
  readonly offset: number;
}

export const MOST_ENTRIES = 64;

const LAST_ADDRESS = 0xffff;
const REQUIRED = ['channel', 'unit', 'read', 'address', 'type', 'measures'];

const RULES: Readonly<Record<string, OptionRule>> = {
  channel: {
    allowed: 'a name such as lamps.case, up to 64 characters',
    accepts: (value) => typeof value === 'string' && /^\S{1,64}$/.test(value),
  },
  unit: wholeBetween(1, 247, "the device's own address on the line"),
  read: oneOf(['holding', 'input']),
  address: wholeBetween(0, LAST_ADDRESS, 'as sent over the line: 40001 in many manuals is holding 0'),
  type: oneOf(REGISTER_TYPES),
  order: oneOf(BYTE_ORDERS),
  scale: {
    allowed: 'a number other than 0; the register times it is in V, A, ohm, degrees C or Hz',
    accepts: (value) => typeof value === 'number' && Number.isFinite(value) && value !== 0,
  },
  offset: {
    allowed: 'a number, added after scale',
    accepts: (value) => typeof value === 'number' && Number.isFinite(value),
  },
  measures: oneOf(Object.keys(UNIT_OF)),
};

/** The entries of the register map that can be read; what is wrong with the others is in {@link mapProblems}. */
export function registersOf(options: unknown): readonly RegisterSpec[] {
  return entriesOf(options).flatMap((entry) => (entryProblems(entry).length === 0 ? [specOf(entry)] : []));
}

/** Checks the map of a bench file. Keys of problems say which entry: `registers.0.address`. */
export function mapProblems(options: unknown): readonly OptionProblem[] {
  const entries = entriesOf(options);
  return entries.flatMap((entry, index) => {
    const channel = optionOf(entry, 'channel');
    const isAgain = entries.findIndex((other) => optionOf(other, 'channel') === channel) < index;
    const problems = entryProblems(entry);
    const again = { key: 'channel', found: channel, allowed: 'each channel once' };
    return (isAgain && problems.length === 0 ? [again] : problems).map((problem) => ({
      ...problem,
      key: `registers.${index}.${problem.key}`,
    }));
  });
}

function entriesOf(options: unknown): readonly unknown[] {
  const entries = optionOf(options, 'registers');
  return Array.isArray(entries) ? entries.slice(0, MOST_ENTRIES) : [];
}

function entryProblems(entry: unknown): readonly OptionProblem[] {
  const missing = REQUIRED.filter((key) => optionOf(entry, key) === undefined);
  const problems = [
    ...optionProblems(entry, RULES),
    ...missing.map((key) => ({ key, found: undefined, allowed: RULES[key]?.allowed ?? '' })),
  ];
  return problems.length > 0 ? problems : sizeProblems(entry);
}

function sizeProblems(entry: unknown): readonly OptionProblem[] {
  const { type, address } = specOf(entry);
  const order = optionOf(entry, 'order');
  if (registersFor(type) === 1) {
    return order === undefined
      ? []
      : [{ key: 'order', found: order, allowed: `nothing for ${type}, whose high byte comes first always` }];
  }
  if (address < LAST_ADDRESS) return [];
  return [
    { key: 'address', found: address, allowed: `at most ${LAST_ADDRESS - 1}: ${type} takes two registers` },
  ];
}

function specOf(entry: unknown): RegisterSpec {
  return {
    name: optionOf(entry, 'channel') as string,
    measures: optionOf(entry, 'measures') as Measurand,
    unit: numberOption(entry, 'unit', 1),
    functionCode: optionOf(entry, 'read') === 'input' ? READ_INPUT : READ_HOLDING,
    address: numberOption(entry, 'address', 0),
    type: optionOf(entry, 'type') as RegisterType,
    order: (optionOf(entry, 'order') ?? 'ABCD') as ByteOrder,
    scale: numberOption(entry, 'scale', 1),
    offset: numberOption(entry, 'offset', 0),
  };
}

function wholeBetween(low: number, high: number, what: string): OptionRule {
  return {
    allowed: `a whole number from ${low} to ${high} (${what})`,
    accepts: (value) => Number.isInteger(value) && (value as number) >= low && (value as number) <= high,
  };
}

function oneOf(words: readonly string[]): OptionRule {
  return {
    allowed: words.join(', '),
    accepts: (value) => typeof value === 'string' && words.includes(value),
  };
}
