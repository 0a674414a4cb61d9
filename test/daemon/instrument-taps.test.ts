import { describe, expect, it } from 'vitest';
import { InstrumentTaps } from '../../daemon/instrument-taps.js';
import { memoryLinkPair } from '../../drivers/links/memory.js';
import { textLines } from '../../drivers/text-lines/text-lines.js';
import { manualClock } from '../manual-clock.js';

describe('what an instrument sends, beside what is read from it', () => {
  it('readings stand at the line that they came from, also when lines come together', () => {
    const clock = manualClock();
    const taps = new InstrumentTaps();
    const { link, far } = memoryLinkPair('board');
    const options = { pattern: 'T1: {T1} C' };
    textLines.start({
      instrument: 'board',
      link: taps.linkOf('board', link, () => clock.nowMs()),
      channels: textLines.channelsOf(options),
      options,
      clock,
      emit: (event) => void (event.kind === 'reading' && taps.note('board', event)),
    });
    far.send(Buffer.from('\nhello\nT1: 41.3 C\nT1: 41.4 C\n'));
    expect(
      taps.heard('board')?.map(({ text, readings }) => [text, ...readings.map(({ value }) => value)]),
    ).toEqual([['hello'], ['T1: 41.3 C', 41.3], ['T1: 41.4 C', 41.4]]);
  });

  it('an instrument without a cable has none', () => {
    const taps = new InstrumentTaps();
    taps.note('meter', { channel: 'volts', value: 5, unit: 'V' });
    expect(taps.heard('meter')).toBeNull();
  });
});
