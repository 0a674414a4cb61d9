import { describe, expect, it } from 'vitest';
import type { ChannelSpec, InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { scpiMeter } from '../../../drivers/scpi-meter/scpi-meter.js';
import { firstWay, isCommandError } from '../../../drivers/scpi-meter/ways-of-reading.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, readingsOf } from '../events.js';

const VOLTS: ChannelSpec = { name: 'logic.volts', measures: 'dc-volts' };

/** A meter that knows only some commands: all others put -113 into its queue and stay silent, as SCPI has it. */
function meterThatKnows(known: Readonly<Record<string, string | null>>, options: unknown = {}) {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('meter');
  const events: InstrumentEvent[] = [];
  const heard: string[] = [];
  const queue: string[] = [];
  const answers: Readonly<Record<string, string | null>> = {
    '*IDN?': 'SIGNAL CABIN,BENCH METER,0,1.0',
    '*CLS': null,
    ...known,
  };
  far.onBytes((bytes) => {
    const command = Buffer.from(bytes).toString().trimEnd();
    heard.push(command);
    const answer = command === 'SYST:ERR?' ? (queue.shift() ?? '+0,"No error"') : answers[command];
    if (answer === undefined) queue.push(`-113,"Undefined header;${command}"`);
    else if (answer !== null) far.send(Buffer.from(`${answer}\r\n`));
  });
  const emit = (event: InstrumentEvent): void => void events.push(event);
  scpiMeter.start({ instrument: 'meter', link, channels: [VOLTS], options, clock, emit });
  return { clock, events, heard, queue };
}

describe('the way in which a meter is asked', () => {
  it('is READ? first, then MEASure?, then INITiate with FETCh?, then FETCh? alone', () => {
    const asked: string[] = [];
    for (let way: ReturnType<typeof firstWay> | null = firstWay(); way !== null; way = way.next())
      asked.push(`${way.before ?? ''} ${way.question('dc-volts')}`.trim());
    expect(asked).toEqual(['READ?', 'MEAS:VOLT:DC?', 'INIT FETC?', 'FETC?']);
  });

  // SCPI-1999 volume 2, 21.8.9: -100 to -199 are command errors.
  it('knows a command error by its number', () => {
    expect([-100, -113, -199, -200, -222, -350, 0, 113].map(isCommandError)).toEqual([
      true,
      true,
      true,
      false,
      false,
      false,
      false,
      false,
    ]);
  });

  it.each([
    ['READ?', { 'CONF:VOLT:DC': null, 'READ?': '5.01' }],
    ['MEAS:VOLT:DC?', { 'CONF:VOLT:DC': null, 'MEAS:VOLT:DC?': '5.01' }],
    ['MEAS:VOLT:DC?', { 'MEAS:VOLT:DC?': '5.01' }],
    ['FETC?', { 'CONF:VOLT:DC': null, INIT: null, 'FETC?': '5.01' }],
    ['FETC?', { 'CONF:VOLT:DC': null, 'FETC?': '5.01' }],
  ])('ends at %s for a meter that knows %j', (question, known) => {
    const { clock, events, heard } = meterThatKnows(known);
    clock.advance(30_000);
    expect(new Set(readingsOf(events))).toEqual(new Set(['logic.volts 5.01 V']));
    expect(heard.filter((command) => command === question).length).toBeGreaterThan(10);
    expect(heard.slice(-5)).toContain(question);
  });

  it('stays with a way that has brought a reading, whatever errors come later', () => {
    const { clock, heard, queue } = meterThatKnows({ 'CONF:VOLT:DC': null, 'READ?': '5.01' });
    clock.advance(1000);
    queue.push('-113,"Undefined header"');
    clock.advance(20_000);
    expect(heard.some((command) => command.startsWith('MEAS'))).toBe(false);
  });

  it('shows what the meter said, with what was sent and a semicolon in its text', () => {
    const { clock, events } = meterThatKnows({ 'CONF:VOLT:DC': null, 'MEAS:VOLT:DC?': '5.01' });
    clock.advance(10_000);
    expect(faultsOf(events)).toContain(
      'instrument-error: -113,"Undefined header;READ?" after an answer was missing or wrong',
    );
  });
});

describe('the settings of a reading', () => {
  const KNOWN = { 'CONF:VOLT:DC': null, 'CONF:VOLT:DC 10': null, 'READ?': '5.01' };

  it('fixes the range that is asked for', () => {
    const { clock, events, heard } = meterThatKnows(KNOWN, { ranges: { 'logic.volts': 10 } });
    clock.advance(1000);
    expect(heard).toContain('CONF:VOLT:DC 10');
    expect(readingsOf(events)).toContain('logic.volts 5.01 V');
  });

  it('leaves the range to the meter for auto', () => {
    const { clock, heard } = meterThatKnows(KNOWN, { ranges: { 'logic.volts': 'auto' } });
    clock.advance(1000);
    expect(heard).toContain('CONF:VOLT:DC');
  });

  it('does not read on a range that the meter refuses', () => {
    const { clock, events } = meterThatKnows(KNOWN, { ranges: { 'logic.volts': 3 } });
    clock.advance(1000);
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events)[0]).toMatch(/-113.* after CONF:VOLT:DC 3, so logic.volts is not read/);
  });

  it('sets the integration time, and reads on where the meter has none, saying so once', () => {
    const with10 = meterThatKnows({ ...KNOWN, 'VOLT:DC:NPLC 10': null }, { integration_cycles: 10 });
    with10.clock.advance(1000);
    expect(with10.heard).toContain('VOLT:DC:NPLC 10');
    expect(faultsOf(with10.events)).toEqual([]);
    const without = meterThatKnows(KNOWN, { integration_cycles: 10 });
    without.clock.advance(3000);
    expect(readingsOf(without.events)).toContain('logic.volts 5.01 V');
    expect(faultsOf(without.events)).toHaveLength(1);
    expect(faultsOf(without.events)[0]).toMatch(/after VOLT:DC:NPLC 10; the meter keeps its own/);
  });

  it('takes the field that is said to be the reading', () => {
    const several = { ...KNOWN, 'READ?': '+1.2034E+01VDC,+000123SECS,+00001RDNG#' };
    const said = meterThatKnows(several, { answer_field: 1 });
    said.clock.advance(2000);
    expect(new Set(readingsOf(said.events))).toEqual(new Set(['logic.volts 12.034 V']));
    const unsaid = meterThatKnows(several);
    unsaid.clock.advance(2000);
    expect(readingsOf(unsaid.events)).toEqual([]);
    expect(faultsOf(unsaid.events)[0]).toMatch(/but several; say which is the reading with answer_field/);
  });

  it.each([
    [{ ranges: { 'logic.volts': 'auto', 'lamps.volts': 100 } }, []],
    [{ ranges: { 'logic.volts': -1 } }, ['ranges']],
    [{ ranges: 10 }, ['ranges']],
    [{ integration_cycles: 0 }, ['integration_cycles']],
    [{ answer_field: 1.5 }, ['answer_field']],
  ])('%j has problems with %j', (options, keys) => {
    expect(scpiMeter.checkOptions(options).map(({ key }) => key)).toEqual(keys);
  });
});

describe('the error queue of a meter', () => {
  // Depths of 10, 20 and 30 by instrument; the last entry becomes -350 with either text (programming manuals).
  it.each([
    [10, 'Queue overflow'],
    [20, 'Too many errors'],
    [30, 'Queue overflow'],
  ])('is emptied when it holds %i with -350,"%s" at its end', (depth, text) => {
    const { clock, events, queue } = meterThatKnows({ 'CONF:VOLT:DC': null, 'READ?': '5.01' });
    queue.push(...Array.from({ length: depth - 1 }, () => '-113,"Undefined header"'), `-350,"${text}"`);
    clock.advance(5000);
    expect(events.filter((event) => event.kind === 'fault')).toHaveLength(depth);
    expect(faultsOf(events).at(-1)).toBe(`instrument-error: -350,"${text}" before the first reading`);
    expect(readingsOf(events)).toContain('logic.volts 5.01 V');
  });
});
