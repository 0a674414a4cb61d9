import { withNumber } from './line-options.js';
import type { Measurand } from '../drivers/driver.js';
import { isRecord } from '../drivers/options.js';
import type { ProposedNumber } from '../drivers/listen/proposal.js';

type Options = Readonly<Record<string, unknown>>;

export interface NamedAs {
  readonly name: string;
  readonly measures: Measurand;
}

/** A drafted instrument's options in which a proposed number has another name and, where it was a guess, measures something else. */
export function withNumberNamed(
  driver: string,
  options: Options,
  number: ProposedNumber,
  as: NamedAs,
): Options {
  if (driver === 'scpi-scope') return withInputNamed(options, number.name, as.name);
  return driver === 'modbus-rtu'
    ? withRegisterNamed(options, number.name, as)
    : withNumber(options, number, as);
}

function withInputNamed(options: Options, was: string, is: string): Options {
  const inputs = isRecord(options['inputs']) ? options['inputs'] : {};
  const renamed = Object.entries(inputs).map(([name, input]) => [name === was ? is : name, input] as const);
  return { ...options, inputs: Object.fromEntries(renamed) };
}

function withRegisterNamed(options: Options, was: string, { name, measures }: NamedAs): Options {
  const registers: readonly unknown[] = Array.isArray(options['registers']) ? options['registers'] : [];
  return {
    ...options,
    registers: registers.map((each) =>
      isRecord(each) && each['channel'] === was ? { ...each, channel: name, measures } : each,
    ),
  };
}
