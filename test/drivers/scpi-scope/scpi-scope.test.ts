import { describe, expect, it } from 'vitest';
import type { Capture, ChannelSpec, InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { dialectFrom } from '../../../drivers/scpi-scope/dialect.js';
import { scpiScope } from '../../../drivers/scpi-scope/scpi-scope.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, statesOf } from '../events.js';
import { randomBytes } from '../random-bytes.js';
import { definiteBlock } from './stand-in.js';

const IDENTITY = 'SIGNAL CABIN,BENCH SCOPE,0,1.0';
const INPUTS = { 'reservoir.volts': { input: 1, attenuation: 10 } };
const SAMPLES = Uint8Array.of(128, 138, 118, 10);
const LINE_END = Buffer.from('\n');

interface Given {
  readonly answers?: Readonly<Record<string, string | Uint8Array>>;
  readonly options?: Readonly<Record<string, unknown>>;
  readonly channels?: readonly ChannelSpec[];
}

/** A scope that answers at once with what `answers` says; what isn't there is answered by silence. */
function startWith({ answers = {}, options: more = {}, channels }: Given = {}) {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('scope');
  const events: InstrumentEvent[] = [];
  const captures: Capture[] = [];
  const heard: string[] = [];
  const replies: Record<string, string | Uint8Array> = {
    '*IDN?': IDENTITY,
    'SYST:ERR?': '0,"No error"',
    '*ESR?': '1',
    ':CHAN1:COUP?': 'DC',
    ':CHAN1:PROB?': '10',
    ':WAV:PRE?': '0,0,4,1,1E-3,-2E-3,0,0.1,12,128',
    ':WAV:DATA?': definiteBlock(SAMPLES),
    ...answers,
  };
  far.onBytes((bytes) => {
    const command = Buffer.from(bytes).toString().trimEnd();
    heard.push(command);
    const reply = replies[command];
    if (reply !== undefined) far.send(Buffer.concat([Buffer.from(reply), LINE_END]));
  });
  const options = { dialect: 'ten-field', inputs: INPUTS, interval_ms: 500, timeout_ms: 500, ...more };
  const running = scpiScope.start({
    instrument: 'scope',
    link,
    channels: channels ?? scpiScope.channelsOf(options),
    options,
    clock,
    emit: (event) => void events.push(event),
    onCapture: (capture) => void captures.push(capture),
  });
  return { clock, far, events, captures, heard, replies, running };
}

describe('scpi-scope', () => {
  it('sets the scope up, starts an acquisition, waits for its end and reads it', () => {
    const { clock, heard } = startWith();
    clock.advance(600);
    expect(heard.slice(0, 14)).toEqual([
      '*CLS',
      '*IDN?',
      'SYST:ERR?',
      ':STOP',
      ':WAV:POIN:MODE NORM',
      ':WAV:FORM BYTE',
      ':WAV:UNS ON',
      ':CHAN1:PROB 10',
      '*ESR?',
      'SYST:ERR?',
      ':SING',
      '*OPC',
      '*ESR?',
      ':WAV:SOUR CHAN1',
    ]);
    expect(heard.slice(14, 19)).toEqual([
      ':CHAN1:COUP?',
      ':CHAN1:PROB?',
      ':WAV:PRE?',
      ':WAV:DATA?',
      'SYST:ERR?',
    ]);
  });

  it('tells samples with what they are worth', () => {
    const { captures, clock, events } = startWith();
    clock.advance(300);
    expect(captures).toEqual([
      {
        atMs: 200,
        channel: 'reservoir.volts',
        unit: 'V',
        samples: SAMPLES,
        scale: 0.1,
        offset: 12 - 12.8,
        startSeconds: -2e-3,
        stepSeconds: 1e-3,
        coupling: 'dc',
        attenuation: 10,
        acquisition: 1,
      },
    ]);
    expect(statesOf(events)).toEqual(['open', 'reading']);
    expect(faultsOf(events)).toEqual([]);
  });

  it('captures again after the interval', () => {
    const { captures, clock } = startWith();
    clock.advance(2200);
    expect(captures.map(({ atMs, acquisition }) => [atMs, acquisition])).toEqual([
      [200, 1],
      [700, 2],
      [1200, 3],
      [1700, 4],
      [2200, 5],
    ]);
  });

  it('waits for a single capture as long as it takes', () => {
    const { captures, clock, events, replies } = startWith({
      answers: { '*ESR?': '0' },
      options: { captures: 'once', trigger_timeout_ms: 1000 },
    });
    clock.advance(600_000);
    expect(faultsOf(events)).toEqual([]);
    replies['*ESR?'] = '1';
    clock.advance(100);
    expect(captures).toHaveLength(1);
    clock.advance(600_000);
    expect(captures).toHaveLength(1);
    expect(scpiScope.intervalMs({ captures: 'once' })).toBeGreaterThan(24 * 3_600_000);
  });

  it('sees words in both byte orders as the scope was told to send them', () => {
    const words = Uint8Array.of(0x00, 0x80, 0x0a, 0x80); // low byte first: 0x8000 and 0x800A
    const { captures, clock } = startWith({
      options: { sample_bits: 16 },
      answers: { ':WAV:PRE?': '1,0,2,1,1E-3,0,0,0.1,0,32768', ':WAV:DATA?': definiteBlock(words) },
    });
    clock.advance(300);
    expect(Array.from(captures[0]?.samples ?? [])).toEqual([0x8000, 0x800a]);
  });

  it('takes an indefinite block by the points of the preamble', () => {
    const { captures, clock } = startWith({
      answers: { ':WAV:DATA?': Buffer.concat([Buffer.from('#0'), SAMPLES]) },
    });
    clock.advance(300);
    expect(captures[0]?.samples).toEqual(SAMPLES);
  });

  it('reads a megapoint', () => {
    const samples = new Uint8Array(1_000_000).fill(0x0a);
    const { captures, clock } = startWith({
      answers: {
        ':WAV:PRE?': '0,0,1000000,1,1E-6,0,0,0.1,0,0',
        ':WAV:DATA?': definiteBlock(samples),
      },
    });
    clock.advance(300);
    expect(captures[0]?.samples).toHaveLength(1_000_000);
  });

  it('can be told a dialect of its own', () => {
    const dialect = {
      ...dialectFrom('ten-field'),
      dialect: 'cabin',
      data: 'CURV?',
      coupling: null,
      attenuation: null,
    };
    const { captures, clock } = startWith({
      options: { dialect },
      answers: { 'CURV?': definiteBlock(SAMPLES) },
    });
    clock.advance(300);
    // The scope knows nothing of its 10:1 probe, so what is at its input counts ten times.
    expect(captures[0]).toMatchObject({ scale: 1, coupling: 'unknown', attenuation: 10 });
    expect(captures[0]?.offset).toBeCloseTo(10 * (12 - 12.8), 9);
  });
});

describe('scpi-scope in trouble', () => {
  it.each([
    ['too many', Buffer.concat([definiteBlock(SAMPLES), Buffer.from('x')])],
    ['too many, one put between', Buffer.concat([Buffer.from('#14'), Uint8Array.of(1, 2, 3, 4, 5)])],
    ['too many, in a block of another length', definiteBlock(Uint8Array.of(1, 2, 3, 4, 5))],
    ['too few', definiteBlock(SAMPLES).subarray(0, 6)],
    ['too few, in a block of another length', definiteBlock(SAMPLES.subarray(1))],
    ['none', Buffer.from('#10')],
    ['none, and no block', Buffer.from('12.06')],
    ['a second line', Buffer.concat([definiteBlock(SAMPLES), Buffer.from('\n12.06')])],
    ['an empty line', Buffer.concat([definiteBlock(SAMPLES), Buffer.from('\n')])],
  ])('shows nothing of a block with bytes %s, and the next one that is whole', (_, data) => {
    const { captures, clock, events, replies } = startWith({ answers: { ':WAV:DATA?': data } });
    clock.advance(3000);
    expect(captures).toEqual([]);
    expect(faultsOf(events).length).toBeGreaterThan(0);
    replies[':WAV:DATA?'] = definiteBlock(SAMPLES);
    clock.advance(2000);
    expect(captures.length).toBeGreaterThan(0);
    captures.forEach(({ samples }) => expect(samples).toEqual(SAMPLES));
  });

  it.each([
    ['the range', '0,0,4,1,1E-3,-2E-3,0,0.2,12,128'],
    ['the position', '0,0,4,1,1E-3,-2E-3,0,0.1,14,128'],
    ['the time base', '0,0,4,1,2E-3,-4E-3,0,0.1,12,128'],
  ])('shows no capture when somebody turned %s while it was read', (_, turned) => {
    const { captures, clock, events, far, replies } = startWith();
    let turns = 0;
    far.onBytes((bytes) => {
      const command = Buffer.from(bytes).toString().trimEnd();
      if (command === ':WAV:DATA?' && (turns += 1) === 1) replies[':WAV:PRE?'] = turned;
      const reply = replies[command];
      if (reply !== undefined) far.send(Buffer.concat([Buffer.from(reply), LINE_END]));
    });
    clock.advance(300);
    expect(captures).toEqual([]);
    expect(faultsOf(events)).toEqual([
      `not-understood: reservoir.volts is not read: the scope was set otherwise meanwhile: "${turned}"`,
    ]);
    clock.advance(1000);
    expect(captures.length).toBeGreaterThan(0);
  });

  it.each([
    ['untouched', 0.1],
    ['drawn larger', 0.05],
  ])('shows no capture twice that is still the one before, %s', (_, scale) => {
    // A scope that has not triggered still answers with its last trace, and some call that done.
    const trace = (seed: number): Uint8Array => Buffer.from(randomBytes(seed, 400));
    const { captures, clock, events, replies } = startWith({
      answers: { ':WAV:PRE?': '0,0,400,1,1E-3,0,0,0.1,0,128', ':WAV:DATA?': definiteBlock(trace(1)) },
    });
    clock.advance(300);
    replies[':WAV:PRE?'] = `0,0,400,1,1E-3,0,0,${scale},0,128`;
    clock.advance(3000);
    expect(captures).toHaveLength(1);
    expect(faultsOf(events)[0]).toBe(
      'not-understood: reservoir.volts is not read: its samples are those of the capture before; set the trigger to auto',
    );
    replies[':WAV:DATA?'] = definiteBlock(trace(2));
    clock.advance(500);
    expect(captures).toHaveLength(2);
  });

  it('takes a quiet trace for what it is, however often it comes', () => {
    const quiet = Uint8Array.from({ length: 400 }, (_, at) => 128 + (at % 3));
    const { captures, clock } = startWith({
      answers: { ':WAV:PRE?': '0,0,400,1,1E-3,0,0,0.1,0,128', ':WAV:DATA?': definiteBlock(quiet) },
    });
    clock.advance(2300);
    expect(captures).toHaveLength(5);
  });

  it('asks for the preamble of each input again, with the input chosen', () => {
    const { clock, heard } = startWith({
      options: { inputs: { 'reservoir.volts': 1, 'logic.volts': 2 } },
      answers: { ':CHAN2:COUP?': 'DC', ':CHAN2:PROB?': '1' },
    });
    clock.advance(300);
    const error = heard.lastIndexOf('SYST:ERR?');
    expect(heard.slice(error + 1, error + 5)).toEqual([
      ':WAV:SOUR CHAN1',
      ':WAV:PRE?',
      ':WAV:SOUR CHAN2',
      ':WAV:PRE?',
    ]);
  });

  it('does not read an input whose probe factor the scope has otherwise', () => {
    const { captures, clock, events } = startWith({ answers: { ':CHAN1:PROB?': '1' } });
    clock.advance(1000);
    expect(captures).toEqual([]);
    expect(faultsOf(events)[0]).toBe(
      'not-understood: reservoir.volts is not read: the scope takes its probe for 1:1, the bench file for 10:1',
    );
  });

  it('does not read an input whose coupling it does not understand', () => {
    const { captures, clock, events } = startWith({ answers: { ':CHAN1:COUP?': 'xDC' } });
    clock.advance(1000);
    expect(captures).toEqual([]);
    expect(faultsOf(events)[0]).toMatch(/its coupling is not understood; add the word to the dialect/);
  });

  it('shows no capture when the scope had something against how it was asked', () => {
    let error = '0,"No error"';
    const { captures, clock, events, far, heard, replies } = startWith();
    far.onBytes((bytes) => {
      const command = Buffer.from(bytes).toString().trimEnd();
      heard.push(command);
      if (command.startsWith(':WAV:SOUR')) error = '-224,"Illegal parameter value;CHAN1"';
      const reply = command === 'SYST:ERR?' ? error : replies[command];
      if (command === 'SYST:ERR?') error = '0,"No error"';
      if (reply !== undefined) far.send(Buffer.concat([Buffer.from(reply), LINE_END]));
    });
    clock.advance(1000);
    expect(captures).toEqual([]);
    expect(faultsOf(events)[0]).toMatch(
      /-224,"Illegal parameter value;CHAN1" while a capture was read, so it is not shown/,
    );
  });

  it('does not read a scope that refuses its settings', () => {
    const { captures, clock, events } = startWith({ answers: { 'SYST:ERR?': '-113,"Undefined header"' } });
    clock.advance(20_000);
    expect(captures).toEqual([]);
    expect(events.length).toBeLessThan(400);
  });

  it("reads no channel that isn't in volts or amps", () => {
    const { captures, clock, events } = startWith({
      channels: [{ name: 'reservoir.volts', measures: 'temperature' }],
    });
    clock.advance(1000);
    expect(captures).toEqual([]);
    expect(faultsOf(events)[0]).toMatch(/a scope captures volts or amps/);
  });

  it('gives up on a block that has stopped coming, not on one that is slow', () => {
    const { captures, clock, events, far, replies } = startWith({ answers: { ':WAV:DATA?': '' } });
    delete replies[':WAV:DATA?'];
    clock.advance(200);
    for (const byte of Buffer.concat([definiteBlock(SAMPLES), LINE_END])) {
      clock.advance(450);
      far.send(Uint8Array.of(byte));
    }
    clock.advance(10);
    expect(captures).toHaveLength(1);
    far.send(Buffer.from('#14ab'));
    clock.advance(3000);
    expect(captures).toHaveLength(1);
    expect(faultsOf(events).join()).toMatch(/no-answer: :WAV:DATA\? was not answered within 500 ms/);
  });
});

describe('the options of scpi-scope', () => {
  it('names its channels', () => {
    expect(scpiScope.channelsOf({ inputs: { 'logic.volts': 2 } })).toEqual([
      { name: 'logic.volts', measures: 'dc-volts' },
    ]);
  });

  it.each([
    [{ dialect: 'ten-field', inputs: { a: 1 } }, []],
    [
      {
        dialect: 'trace-dif',
        inputs: { a: { input: 4, attenuation: 100 } },
        sample_bits: 16,
        captures: 'once',
      },
      [],
    ],
    [{ dialect: 'other', inputs: { a: 1 } }, ['dialect']],
    [{ inputs: { a: 1 } }, ['dialect']],
    [{ dialect: 'ten-field' }, ['inputs']],
    [{ dialect: 'ten-field', inputs: { a: 0 } }, ['inputs']],
    [{ dialect: 'ten-field', inputs: { a: { input: 1, attenuation: -10 } } }, ['inputs']],
    [{ dialect: 'ten-field', inputs: {} }, ['inputs']],
    [{ dialect: 'ten-field', inputs: { a: 1 }, sample_bits: 12 }, ['sample_bits', 'sample_bits']],
    [{ dialect: 'ten-field', inputs: { a: 1 }, first_commands: ['*IDN?'] }, ['first_commands']],
    [{ dialect: 'ten-field', inputs: { a: 1 }, most_points: 1e9 }, ['most_points']],
    ['fast', ['options']],
  ])('%j has problems with %j', (options, keys) => {
    expect(scpiScope.checkOptions(options).map(({ key }) => key)).toEqual(keys);
  });
});
