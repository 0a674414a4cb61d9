import type { InstrumentEvent } from '../driver.js';
import { memoryLinkPair } from '../links/memory.js';
import { textLines } from '../text-lines/text-lines.js';
import type { LineProposal } from './proposal.js';

/** What text-lines made of some lines. */
export interface Trial {
  /** Lines that gave at least one reading. */
  readonly read: number;
  readonly of: number;
}

/** Hands the lines to the driver itself, so that no proposal is made that it can't read. */
export function tryLines({ options, numbers }: LineProposal, lines: readonly string[]): Trial {
  if (textLines.checkOptions(options).length > 0) return { read: 0, of: lines.length };
  const { link, far } = memoryLinkPair('heard');
  let readings = 0;
  const running = textLines.start({
    instrument: 'heard',
    link,
    channels: numbers.map(({ name, measures }) => ({ name, measures })),
    options,
    clock: { nowMs: () => 0, after: () => () => undefined },
    emit: (event: InstrumentEvent) => void (readings += event.kind === 'reading' ? 1 : 0),
  });
  far.send(Buffer.from('.\n'));
  let read = 0;
  for (const line of lines) {
    const before = readings;
    far.send(Buffer.from(`${line}\n`));
    if (readings > before) read += 1;
  }
  void running.stop();
  return { read, of: lines.length };
}
