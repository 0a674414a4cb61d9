import type { FaultTeller } from '../fault-teller.js';
import { timesPower } from '../lines/unit-words.js';
import type { DecimalMark } from '../lines/number-reader.js';
import { CellReader, type CellValue } from './cell.js';
import type { WantedField } from './fields.js';
import type { GiveReading, LineForm } from './line-form.js';

const DECODER = new TextDecoder();
const MOST_QUOTED = 200;

/** Lines that are one JSON object each (RFC 8259). A title is a key, or a path of keys with dots: `temperatures.t1`. */
export function jsonForm(
  fields: readonly WantedField[],
  decimal: DecimalMark,
  faults: FaultTeller,
  give: GiveReading,
): LineForm {
  const cells = new CellReader(decimal);

  function refuse(why: string, text: string): void {
    faults.count('not-understood', why, text.slice(0, MOST_QUOTED));
  }

  function valueOf(found: unknown, { spec, power }: WantedField): CellValue | null {
    if (typeof found === 'number') return { value: timesPower(found, power), mark: null };
    if (typeof found === 'string') return cells.read(found, spec.measures, power);
    return found === null ? { value: NaN, mark: 'not-a-number' } : null;
  }

  return {
    wantsFirst: false,
    take(line, atMs) {
      const text = DECODER.decode(line).trim();
      if (text === '') return;
      const object = parsed(text);
      if (object === undefined) return refuse('a line that is not a JSON object', text);
      const found = fields
        .map((field) => ({ field, raw: keyed(object, field.title) }))
        .filter(({ raw }) => raw !== undefined)
        .map(({ field, raw }) => ({ field, value: valueOf(raw, field) }));
      if (found.length === 0) return refuse('a JSON object with none of the fields', text);
      const bad = found.find(({ value }) => value === null);
      if (bad !== undefined) return refuse(`${bad.field.title} holds no number`, text);
      for (const { field, value } of found) if (value) give(field.make(value.value, value.mark, atMs));
    },
  };
}

function parsed(text: string): object | undefined {
  // A flood of other lines would cost an exception each.
  if (!text.startsWith('{') || !text.endsWith('}')) return undefined;
  try {
    const found: unknown = JSON.parse(text);
    return typeof found === 'object' && found !== null && !Array.isArray(found) ? found : undefined;
  } catch (problem) {
    if (problem instanceof SyntaxError) return undefined;
    throw problem;
  }
}

/** What stands under a key, or under a path of keys; undefined when nothing does. */
function keyed(object: object, title: string): unknown {
  if (Object.hasOwn(object, title)) return (object as Record<string, unknown>)[title];
  let found: unknown = object;
  for (const key of title.split('.')) {
    if (typeof found !== 'object' || found === null || !Object.hasOwn(found, key)) return undefined;
    found = (found as Record<string, unknown>)[key];
  }
  return found;
}
