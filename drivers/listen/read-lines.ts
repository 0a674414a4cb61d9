import type { ChannelSpec, InstrumentEvent } from '../driver.js';
import { memoryLinkPair } from '../links/memory.js';
import { textLines } from '../text-lines/text-lines.js';

type Reading = Extract<InstrumentEvent, { kind: 'reading' }>;

/**
 * What text-lines reads from each line, in the order of the lines. The driver itself reads them, so that nothing is
 * shown that it wouldn't do.
 * @param options have no problems by its `checkOptions`
 */
export function readLines(
  options: unknown,
  channels: readonly ChannelSpec[],
  lines: readonly string[],
): readonly (readonly Reading[])[] {
  const { link, far } = memoryLinkPair('heard');
  let readings: Reading[] = [];
  const running = textLines.start({
    instrument: 'heard',
    link,
    channels,
    options,
    clock: { nowMs: () => 0, after: () => () => undefined },
    emit: (event) => void (event.kind === 'reading' && readings.push(event)),
  });
  // The first line after opening may lack its beginning, so it isn't read.
  far.send(Buffer.from('.\n'));
  const found = lines.map((line) => {
    readings = [];
    far.send(Buffer.from(`${line}\n`));
    return readings;
  });
  void running.stop();
  return found;
}
