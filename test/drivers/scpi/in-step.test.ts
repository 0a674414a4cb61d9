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

describe('a meter that sends a NUL behind each line', () => {
  it.each(['\n\0', '\r\n\0\0'])('is read: %j', (end) => {
    const { clock, events } = readThrough((heard) => {
      const answer = answerTo(heard.trim());
      return answer === undefined ? '' : answer + end;
    });
    clock.advance(5000);
    expect(readingsOf(events).length).toBeGreaterThan(5);
    expect(new Set(readingsOf(events))).toEqual(new Set([READING]));
  });
});

describe('a meter that ends messages with CR', () => {
  /** Takes what stands before each CR, a line feed left from the message before it aside. */
  function carriageReturnMeter(): Device {
    let input = '';
    return (heard) => {
      input += heard;
      const messages = input.split('\r');
      input = messages.pop() ?? '';
      return messages.map((message) => `${answerTo(message.trim()) ?? ''}\r`).join('');
    };
  }

  it('is found and read, and asked in its own way from then on', () => {
    const heard: string[] = [];
    const device = carriageReturnMeter();
    const { clock, events } = readThrough((bytes) => {
      heard.push(bytes);
      return device(bytes);
    });
    clock.advance(5000);
    expect(readingsOf(events).length).toBeGreaterThan(3);
    expect(heard.slice(-4)).toEqual(Array(4).fill('READ?\r\n'));
  });

  it('is not the meter that takes line feeds only, which is found however late it wakes up', () => {
    for (let wakesMs = 0; wakesMs < 6000; wakesMs += 370) {
      let isAwake = false;
      const { clock, events } = readThrough((heard) => {
        const answer = heard.includes('\r') ? undefined : answerTo(heard.trim());
        return isAwake && answer !== undefined ? `${answer}\n` : '';
      });
      clock.advance(wakesMs);
      isAwake = true;
      clock.advance(4000);
      expect(readingsOf(events).length, `awake after ${wakesMs} ms`).toBeGreaterThan(0);
    }
  });
});

describe('an identity that is not as the standard has it', () => {
  it.each([
    'SIGNAL CABIN BENCH METER V1.07',
    'SIGNAL CABIN,BENCH METER,1.0',
    ',BENCH METER,0,1.0',
    '"BENCH METER"',
  ])('is taken when it comes twice: %s', (identity) => {
    const { clock, events } = readThrough((heard) => {
      const answer = heard.trim() === '*IDN?' ? identity : answerTo(heard.trim());
      return answer === undefined ? '' : `${answer}\n`;
    });
    clock.advance(5000);
    expect(events).toContainEqual(expect.objectContaining({ kind: 'identity', text: identity }));
    expect(readingsOf(events).length).toBeGreaterThan(3);
    expect(faultsOf(events)).toEqual([]);
  });

  it.each([
    ['changes', (turn: number) => `BENCH METER ${turn}`],
    ['is a number', () => '12.06'],
    ['is a reading', () => '12.06 V'],
    ['has a line behind it', () => 'ready.\nready.'],
  ])('is not taken when it %s', (_, identityAt) => {
    let turn = 0;
    const { clock, events } = readThrough((heard) => {
      const answer = heard.trim() === '*IDN?' ? identityAt((turn += 1)) : answerTo(heard.trim());
      return answer === undefined ? '' : `${answer}\n`;
    });
    clock.advance(20_000);
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events).join()).toMatch(/wrong-device: answers to \*IDN\? without maker/);
  });
});

describe('a meter without an error queue', () => {
  /** IEEE 488.2, 11.5.1: bit 5 of the event status register is a command error, and reading it clears it. */
  function meterWithoutQueue(status: (hasFailed: boolean) => string, refuses: string): Device {
    let hasFailed = false;
    return (heard) => {
      const message = heard.trim();
      hasFailed ||= message === 'SYST:ERR?' || message === refuses;
      if (message === '*ESR?') {
        const answer = status(hasFailed);
        hasFailed = false;
        return `${answer}\n`;
      }
      const answer = message === 'SYST:ERR?' ? undefined : answerTo(message);
      return answer === undefined ? '' : `${answer}\n`;
    };
  }
  const honest = (hasFailed: boolean): string => (hasFailed ? '+160' : '0'); // with power on, bit 7

  it('is asked for its event status instead, and read', () => {
    const { clock, events } = readThrough(meterWithoutQueue(honest, ''));
    clock.advance(10_000);
    expect(readingsOf(events).length).toBeGreaterThan(5);
    expect(faultsOf(events).filter((fault) => fault.startsWith('instrument-error'))).toEqual([]);
  });

  it('is not read where that says that the function was refused', () => {
    const { clock, events } = readThrough(meterWithoutQueue(honest, 'CONF:VOLT:DC'));
    clock.advance(10_000);
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events)).toContain(
      'instrument-error: *ESR? says command error after CONF:VOLT:DC, so logic.volts is not read',
    );
  });

  it.each([
    ['never tells of an error', '0'],
    ['answers something else', 'OFF'],
  ])('is not read where its event status %s', (_, status) => {
    const { clock, events } = readThrough(meterWithoutQueue(() => status, ''));
    clock.advance(20_000);
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events).join()).toMatch(/tells of errors neither by SYST:ERR\? nor by \*ESR\?/);
  });
});
