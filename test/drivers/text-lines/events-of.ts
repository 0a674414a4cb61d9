import type { InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { textLines } from '../../../drivers/text-lines/text-lines.js';
import { manualClock } from '../../manual-clock.js';

/** What the driver makes of this text with these options. */
export function textLineEvents(options: unknown, text: string): readonly InstrumentEvent[] {
  const { link, far } = memoryLinkPair('board');
  const events: InstrumentEvent[] = [];
  textLines.start({
    instrument: 'board',
    link,
    channels: textLines.channelsOf(options),
    options,
    clock: manualClock(),
    emit: (event) => void events.push(event),
  });
  far.send(Buffer.from(text));
  return events;
}
