import { describe, expect, it } from 'vitest';
import type { InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { scpiMeter } from '../../../drivers/scpi-meter/scpi-meter.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, readingsOf } from '../events.js';

const IDENTITY = 'SIGNAL CABIN,BENCH METER,0,1.0';
const READING = 'logic.volts 5.01 V';

/** What a meter makes of the bytes that it hears: what it sends at once. */
type Device = (heard: string) => string;

function readThrough(device: Device, options: unknown = {}) {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('meter');
  const events: InstrumentEvent[] = [];
  far.onBytes((bytes) => far.send(Buffer.from(device(Buffer.from(bytes).toString('latin1')))));
  scpiMeter.start({
    instrument: 'meter',
    link,
    channels: [{ name: 'logic.volts', measures: 'dc-volts' }],
    options,
    clock,
    emit: (event) => void events.push(event),
  });
  return { clock, events };
}

/** The answer of a meter that knows SCPI's words; silence for commands. */
function answerTo(message: string): string | undefined {
  return new Map([
    ['*IDN?', IDENTITY],
    ['SYST:ERR?', '+0,"No error"'],
    ['READ?', '+5.01000000E+00'],
  ]).get(message);
}

describe('a meter that echoes', () => {
  // Serial lines in character mode send back each character as it comes and CR LF for a line's end (common practice).
  it.each([
    ['every line whole', (heard: string) => heard.replace('\n', '\r\n')],
    ['every line with CR CR LF', (heard: string) => heard.replace('\n', '\r\r\n')],
  ])('is read past the echo of commands and questions: %s', (_, echo) => {
    const { clock, events } = readThrough(
      (heard) => {
        const answer = answerTo(heard.trim());
        return echo(heard) + (answer === undefined ? '' : `${answer}\r\n`);
      },
      { first_commands: ['SYST:REM'], integration_cycles: 10 },
    );
    clock.advance(2000);
    expect(readingsOf(events)).toHaveLength(4);
    expect(new Set(readingsOf(events))).toEqual(new Set([READING]));
    expect(faultsOf(events)).toEqual([]);
  });

  it('still has to send each reading only once', () => {
    let readings = 0;
    const { clock, events } = readThrough((heard) => {
      const answer = heard === 'READ?\n' && (readings += 1) === 2 ? '5.02\r\n5.03' : answerTo(heard.trim());
      return heard + (answer === undefined ? '' : `${answer}\r\n`);
    });
    clock.advance(5000);
    expect(faultsOf(events)).toEqual(['late-answer: came before READ? was asked: "5.03"']);
    expect(readingsOf(events)).not.toContain('logic.volts 5.03 V');
  });
});

describe('a meter with blank lines around its answers', () => {
  it.each(['\r\n', '\n\r', '\n'])('is read where they end in %j', (end) => {
    const { clock, events } = readThrough((heard) => {
      const answer = answerTo(heard.trim());
      return answer === undefined ? '' : `${end}${answer}${end}${end}`;
    });
    clock.advance(2000);
    expect(readingsOf(events)).toHaveLength(4);
    expect(faultsOf(events)).toEqual([]);
  });
});
