import { textLines } from '../text-lines/text-lines.js';
import type { LineProposal } from './proposal.js';
import { readLines } from './read-lines.js';

/** What text-lines made of some lines. */
export interface Trial {
  /** Lines that gave at least one reading. */
  readonly read: number;
  readonly of: number;
}

/** Hands the lines to the driver itself, so that no proposal is made that it can't read. */
export function tryLines({ options, numbers }: LineProposal, lines: readonly string[]): Trial {
  if (textLines.checkOptions(options).length > 0) return { read: 0, of: lines.length };
  const channels = numbers.map(({ name, measures }) => ({ name, measures }));
  const read = readLines(options, channels, lines).filter((readings) => readings.length > 0).length;
  return { read, of: lines.length };
}
