import { describe, expect, it } from 'vitest';
import type { InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { textLines } from '../../../drivers/text-lines/text-lines.js';
import { manualClock } from '../../manual-clock.js';

function board() {
  const { link, far } = memoryLinkPair('board');
  const clock = manualClock();
  const events: InstrumentEvent[] = [];
  const options = { pattern: 'T: {case} C' };
  const emit = (event: InstrumentEvent): void => void events.push(event);
  textLines.start({
    instrument: 'board',
    link,
    channels: textLines.channelsOf(options),
    options,
    clock,
    emit,
  });
  const whys = (): readonly string[] =>
    events.flatMap((event) => (event.kind === 'state' && event.state === 'reading' ? [event.why] : []));
  return { clock, far, whys };
}

const say = (...lines: readonly string[]): Buffer => Buffer.from(lines.map((line) => `${line}\r\n`).join(''));

describe('a board that restarts when its port opens', () => {
  it('is told by what it printed before its first reading, after each opening', () => {
    const { clock, far, whys } = board();
    far.send(say('', 'Signal board 1.2', 'ready', 'T: 41.3 C', 'T: 41.4 C'));
    expect(whys()).toEqual([
      'readings come in, after 2 lines of something else ("Signal board 1.2"): some boards restart when their port opens',
    ]);
    far.unplug('pulled out');
    clock.advance(1000);
    far.plugIn('board');
    far.send(say('', 'T: 41.3 C'));
    expect(whys()[1]).toBe('readings come in');
  });

  it('is not told for lines that no start-up explains', () => {
    const { clock, far, whys } = board();
    clock.advance(60_000);
    far.send(say('', 'door open', 'T: 41.3 C'));
    expect(whys()).toEqual(['readings come in']);
  });
});
