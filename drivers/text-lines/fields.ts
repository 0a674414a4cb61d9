import type { ChannelSpec } from '../driver.js';
import type { FaultTeller } from '../fault-teller.js';
import { unitPower } from '../lines/unit-words.js';
import { readingMaker, type ReadingMaker } from '../reading-of.js';
import { isReadable } from './line-board.js';
import { parsePattern, PatternProblem, type NumberPart } from './pattern.js';

export const MOST_FIELDS = 32;
const LONGEST_TITLE = 120;

/** What the device calls something, and the number of ours that it is. */
export interface Field {
  readonly title: string;
  readonly number: NumberPart;
}

/** A field that a channel wants, with what makes its readings. */
export interface WantedField {
  readonly title: string;
  readonly spec: ChannelSpec;
  /** Power of ten for numbers without a unit of their own. */
  readonly power: number;
  readonly make: ReadingMaker;
}

/**
 * The fields of an instrument's options: `{ T1: '{lamps.case} C' }` has the device's word on the left and on the right
 * what a pattern would say.
 * @throws {PatternProblem} for the first that can't be read.
 */
export function parseFields(given: Readonly<Record<string, string>>): readonly Field[] {
  return Object.entries(given).map(([title, source]) => {
    if (title.trim() === '' || title.length > LONGEST_TITLE) {
      throw new PatternProblem(
        `has the title "${title}"; write the device's own word, 1 to ${LONGEST_TITLE}`,
      );
    }
    const [number, ...others] = parsePattern(source).parts.filter(({ kind }) => kind !== 'blanks');
    if (number?.kind !== 'number' || others.length > 0) {
      throw new PatternProblem(`has more than one number and its unit; write only {name} and a unit`);
    }
    return { title: title.trim(), number };
  });
}

/** The fields that the bench's channels want; tells as faults which channels no field can serve. */
export function wantedFields(
  fields: readonly Field[],
  channels: readonly ChannelSpec[],
  faults: FaultTeller,
): readonly WantedField[] {
  const numbers = fields.map(({ number }) => number);
  return channels.flatMap((spec) => {
    if (!isReadable(spec, numbers, faults)) return [];
    return fields
      .filter(({ number }) => number.name === spec.name)
      .map(({ title, number }) => ({
        title,
        spec,
        power: unitPower(spec.measures, number.unit) ?? 0,
        make: readingMaker(spec),
      }));
  });
}
