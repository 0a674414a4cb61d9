import type { ChannelSpec } from '../driver.js';
import type { FaultTeller } from '../fault-teller.js';
import type { DecimalMark } from '../lines/number-reader.js';
import { unitPower } from '../lines/unit-words.js';
import { readingMaker, type ReadingMaker } from '../reading-of.js';
import { LineMatcher } from './matcher.js';
import type { NumberPart, Pattern } from './pattern.js';

const DECODER = new TextDecoder();
const MOST_QUOTED = 200;

/** One way in which a line can be read. */
export interface LineReading {
  readonly matcher: LineMatcher;
  /** For each number of the line what makes its readings; undefined for a number that nobody wants. */
  readonly makers: readonly (ReadingMaker | undefined)[];
}

/** What one board's lines can look like, and whose each number is. */
export class LineBoard {
  readonly #alternatives: readonly LineReading[];
  readonly #faults: FaultTeller;

  /** Tells as faults which channels can't be read with these patterns. */
  constructor(
    patterns: readonly Pattern[],
    channels: readonly ChannelSpec[],
    faults: FaultTeller,
    decimal: DecimalMark = 'point',
  ) {
    const numbers = patterns.flatMap(({ parts }) => parts.filter((part) => part.kind === 'number'));
    const readable = channels.filter((spec) => isReadable(spec, numbers, faults));
    const makers = new Map(readable.map((spec) => [spec.name, readingMaker(spec)]));
    const measures = new Map(readable.map((spec) => [spec.name, spec.measures]));
    this.#faults = faults;
    this.#alternatives = patterns.map((pattern) => {
      const matcher = new LineMatcher(pattern, measures, decimal);
      return { matcher, makers: matcher.names.map((name) => makers.get(name)) };
    });
  }

  /** How to read this line; null, and counted, when no pattern describes it. The first pattern that fits wins. */
  match(line: Uint8Array): LineReading | null {
    for (const alternative of this.#alternatives) if (alternative.matcher.match(line)) return alternative;
    const text = DECODER.decode(line.subarray(0, MOST_QUOTED)).trim();
    if (text !== '') this.#faults.count('not-understood', 'a line that no pattern describes', text);
    return null;
  }
}

/** Whether one of the numbers is this channel's; tells as a fault why not. */
export function isReadable(spec: ChannelSpec, numbers: readonly NumberPart[], faults: FaultTeller): boolean {
  const own = numbers.filter((part) => part.name === spec.name);
  const wrong = own.find((part) => contradicts(part, spec));
  if (own.length === 0) {
    faults.tell('not-understood', `no pattern has {${spec.name}}, so this channel is never read`);
  } else if (wrong !== undefined) {
    const says = `the pattern has {${spec.name}} ${wrong.unit} (${wrong.measures})`;
    faults.tell('not-understood', `${says}, the bench file says ${spec.measures}; make the two agree`);
  }
  return own.length > 0 && wrong === undefined;
}

/** A plain `V` or `A` can be either kind, and no unit at all anything. */
function contradicts({ unit, measures }: NumberPart, spec: ChannelSpec): boolean {
  if (measures === undefined || measures === spec.measures) return false;
  return measures.startsWith('ac-') || unitPower(spec.measures, unit) === undefined;
}
