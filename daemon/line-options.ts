import type { Measurand } from '../drivers/driver.js';
import type { ProposedNumber } from '../drivers/listen/proposal.js';

/** A unit word for each that stands for nothing else. */
const UNIT_WORDS: Readonly<Record<Measurand, string>> = {
  'dc-volts': 'V',
  'ac-volts': 'VAC',
  'dc-amps': 'A',
  'ac-amps': 'AAC',
  ohms: 'ohm',
  temperature: 'C',
  frequency: 'Hz',
};

/** text-lines options in which a proposed number has another name and, where it was a guess, measures something else. */
export function withNumber(
  options: Readonly<Record<string, unknown>>,
  number: ProposedNumber,
  as: { readonly name: string; readonly measures: Measurand },
): Readonly<Record<string, unknown>> {
  const entries = Object.entries(options).map(([key, value]) => [key, inValue(value, number, as)] as const);
  return Object.fromEntries(entries);
}

function inValue(value: unknown, number: ProposedNumber, as: { name: string; measures: Measurand }): unknown {
  if (Array.isArray(value)) return value.map((each) => inValue(each, number, as));
  if (typeof value === 'object' && value !== null) {
    return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, inValue(each, number, as)]));
  }
  if (typeof value !== 'string') return value;
  const { name, isSure } = number;
  const [was, is] = [UNIT_WORDS[number.measures], UNIT_WORDS[as.measures]];
  const measured = isSure
    ? value
    : value
        .replaceAll(`{${name} ${was}}`, `{${name} ${is}}`)
        .replaceAll(`{${name}} ${was}`, `{${name}} ${is}`);
  return measured.replaceAll(`{${name}}`, `{${as.name}}`).replaceAll(`{${name} `, `{${as.name} `);
}
