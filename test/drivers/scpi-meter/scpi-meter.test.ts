import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ChannelSpec, InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { scpiMeter } from '../../../drivers/scpi-meter/scpi-meter.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, readingsOf, statesOf } from '../events.js';

const VOLTS: ChannelSpec = { name: 'logic.volts', measures: 'dc-volts' };
const RIPPLE: ChannelSpec = { name: 'logic.ripple', measures: 'ac-volts' };
const CASE: ChannelSpec = { name: 'logic.case', measures: 'temperature' };
const IDENTITY = 'SIGNAL CABIN,BENCH METER,0,1.0';

/** A meter that answers at once with what `answers` says; what isn't there is answered by silence. */
function startWith(channels: readonly ChannelSpec[], answers: Record<string, string>, options: unknown = {}) {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('meter');
  const events: InstrumentEvent[] = [];
  const heard: string[] = [];
  const say = (text: string): void => far.send(Buffer.from(text));
  const replies: Record<string, string> = {
    '*IDN?': `${IDENTITY}\n`,
    'SYST:ERR?': '0,"No error"\n',
    ...answers,
  };
  far.onBytes((bytes) => {
    const command = Buffer.from(bytes).toString().trimEnd();
    heard.push(command);
    const reply = replies[command];
    if (reply !== undefined) say(reply);
  });
  const emit = (event: InstrumentEvent): void => void events.push(event);
  const running = scpiMeter.start({ instrument: 'meter', link, channels, options, clock, emit });
  return { clock, far, events, heard, say, replies, running };
}

describe('scpi-meter', () => {
  it('asks who is there, clears, configures, looks for errors and reads', () => {
    const { clock, events, heard } = startWith([VOLTS], { 'READ?': '+1.20340000E+01\n' });
    clock.advance(1000);
    expect(heard.slice(0, 6)).toEqual(['*CLS', '*IDN?', 'SYST:ERR?', 'CONF:VOLT:DC', 'SYST:ERR?', 'READ?']);
    expect(heard.slice(6)).toEqual(['READ?']);
    expect(readingsOf(events)).toEqual(['logic.volts 12.034 V', 'logic.volts 12.034 V']);
    expect(events).toContainEqual({ kind: 'identity', atMs: 200, text: IDENTITY });
    expect(statesOf(events)).toEqual(['open', 'reading']);
  });

  it('measures several channels in turn, each configured before it is read', () => {
    const { clock, events, heard, replies, far } = startWith([VOLTS, RIPPLE], {});
    far.onBytes((bytes) => {
      const command = Buffer.from(bytes).toString().trimEnd();
      heard.push(command);
      if (command.startsWith('CONF:VOLT')) replies['READ?'] = command.endsWith('DC') ? '5.01\n' : '0.012\n';
      const reply = replies[command];
      if (reply !== undefined) far.send(Buffer.from(reply));
    });
    clock.advance(2000);
    expect(readingsOf(events).slice(0, 4)).toEqual([
      'logic.volts 5.01 V',
      'logic.ripple 0.012 Vrms',
      'logic.volts 5.01 V',
      'logic.ripple 0.012 Vrms',
    ]);
  });

  it('takes no number from junk, though it has one at its beginning', () => {
    const { clock, events, replies } = startWith([CASE], { 'READ?': '4\r\u0000\u00f4\u0003GE' });
    clock.advance(2000);
    expect(readingsOf(events)).toEqual([]);
    replies['READ?'] = '41.5\n';
    clock.advance(3000);
    expect(new Set(readingsOf(events))).toEqual(new Set(['logic.case 41.5 degC']));
  });

  it('keeps the interval from one round to the next', () => {
    const { clock, events } = startWith([VOLTS], { 'READ?': '5.01\n' }, { interval_ms: 250 });
    clock.advance(2000);
    const times = events.filter((event) => event.kind === 'reading').map(({ atMs }) => atMs);
    expect(times).toEqual([200, 450, 700, 950, 1200, 1450, 1700, 1950]);
  });

  it('stamps a reading with the time of the last byte of its answer', () => {
    const { clock, events, say } = startWith([VOLTS], { 'READ?': '+1.2034' });
    clock.advance(200);
    clock.advance(70);
    say('E+01\n');
    expect(events.at(-1)).toMatchObject({ kind: 'reading', atMs: 270, value: 12.034 });
  });

  // SCPI-1999 volume 1, 7.2.1 and the programming manuals of instruments: 9.9E37 for overload, 9.91E37 for NaN.
  it('gives marks instead of numbers', () => {
    const { clock, events, replies } = startWith([VOLTS], { 'READ?': '9.90000000E+37\n' });
    clock.advance(500);
    replies['READ?'] = '9.91E37\n';
    clock.advance(500);
    replies['READ?'] = '+2.5E+05\n';
    clock.advance(500);
    expect(readingsOf(events)).toEqual([
      'logic.volts overload V',
      'logic.volts not-a-number V',
      'logic.volts out-of-range V',
    ]);
  });

  it('sends the first commands once after each connection', () => {
    const options = { first_commands: ['SYST:REM', 'DISP OFF'] };
    const { clock, far, heard } = startWith([VOLTS], { 'READ?': '5.01\n' }, options);
    clock.advance(1000);
    far.unplug('pulled out');
    far.plugIn('meter');
    clock.advance(1000);
    expect(heard.filter((command) => options.first_commands.includes(command))).toEqual([
      'SYST:REM',
      'DISP OFF',
      'SYST:REM',
      'DISP OFF',
    ]);
  });

  it('asks nothing more once it is stopped', async () => {
    const { clock, heard, running } = startWith([VOLTS], { 'READ?': '5.01\n' });
    clock.advance(1000);
    await running.stop();
    const asked = heard.length;
    clock.advance(60_000);
    expect(heard).toHaveLength(asked);
  });
});

describe('scpi-meter in trouble', () => {
  // Texts of SCPI-1999 volume 2, 21.8 as instruments give them: -113 and -350; both forms of an empty queue.
  it('shows every entry of the error queue', () => {
    const queue = ['-113,"Undefined header"\n', '-350,"Queue overflow"\n', '+0,"No error"\n'];
    const { clock, events, replies, far } = startWith([VOLTS], { 'READ?': '5.01\n' });
    far.onBytes((bytes) => {
      const command = Buffer.from(bytes).toString().trimEnd();
      const reply = command === 'SYST:ERR?' ? (queue.shift() ?? '0,"No error"\n') : replies[command];
      if (reply !== undefined) far.send(Buffer.from(reply));
    });
    clock.advance(1000);
    expect(faultsOf(events)).toEqual([
      'instrument-error: -113,"Undefined header" before the first reading',
      'instrument-error: -350,"Queue overflow" before the first reading',
    ]);
    expect(readingsOf(events)).toContain('logic.volts 5.01 V');
  });

  it('does not hang on an error queue that never empties', () => {
    const { clock, events } = startWith([VOLTS], {
      'READ?': '5.01\n',
      'SYST:ERR?': '-100,"Command error"\n',
    });
    clock.advance(60_000);
    expect(readingsOf(events)).toEqual([]);
    expect(events.length).toBeLessThan(200);
  });

  it('does not read a channel whose function the meter refuses, and reads the others', () => {
    let error = '0,"No error"\n';
    const { clock, events, replies, far } = startWith([CASE, VOLTS], { 'READ?': '5.01\n' });
    far.onBytes((bytes) => {
      const command = Buffer.from(bytes).toString().trimEnd();
      if (command === 'CONF:TEMP') error = '-113,"Undefined header"\n';
      const reply = command === 'SYST:ERR?' ? error : replies[command];
      if (command === 'SYST:ERR?') error = '0,"No error"\n';
      if (reply !== undefined) far.send(Buffer.from(reply));
    });
    clock.advance(5000);
    expect(new Set(readingsOf(events))).toEqual(new Set(['logic.volts 5.01 V']));
    const refusal = 'instrument-error: -113,"Undefined header" after CONF:TEMP, so logic.case is not read';
    expect(faultsOf(events)).toEqual([refusal, refusal, refusal]);
  });

  it('never takes a late answer for the next one, however late it is', () => {
    for (const lateMs of [1, 50, 99, 100, 101, 150, 500, 1000, 1500, 3000, 10_000]) {
      const { clock, events, say, replies } = startWith([VOLTS], {});
      clock.advance(200);
      clock.advance(2000 + lateMs); // READ? has timed out by now
      say('11.11\n');
      replies['READ?'] = '22.22\n';
      clock.advance(5000);
      const readings = readingsOf(events);
      expect(readings, `late by ${lateMs} ms`).toContain('logic.volts 22.22 V');
      expect(readings, `late by ${lateMs} ms`).not.toContain('logic.volts 11.11 V');
      expect(faultsOf(events).join(), `late by ${lateMs} ms`).toMatch(/no-answer: READ\? was not answered/);
    }
  });

  it.each([2001, 2150, 2300, 2500, 3000])(
    'does not show a reading that comes %i ms late from a meter that answers everything else at once',
    (lateMs) => {
      const { clock, events, far, replies } = startWith([VOLTS], {});
      let asked = 0;
      far.onBytes((bytes) => {
        const command = Buffer.from(bytes).toString().trimEnd();
        const say = (text = ''): void => far.send(Buffer.from(text));
        if (command !== 'READ?') say(replies[command]);
        else if ((asked += 1) === 1) clock.after(lateMs, () => say('11.11\n'));
        else clock.after(20, () => say('22.22\n'));
      });
      clock.advance(10_000);
      expect(new Set(readingsOf(events))).toEqual(new Set(['logic.volts 22.22 V']));
      expect(faultsOf(events).join()).toMatch(/late-answer: /);
    },
  );

  it('does not join half a line that came unasked to the next answer', () => {
    const { clock, events, replies, heard } = startWith([VOLTS], { 'READ?': '5.01\n7' });
    clock.advance(300);
    replies['READ?'] = '5.02\n';
    clock.advance(2000);
    expect(new Set(readingsOf(events))).toEqual(new Set(['logic.volts 5.01 V', 'logic.volts 5.02 V']));
    expect(heard.filter((command) => command === '*IDN?')).toHaveLength(2);
  });

  it('gets in step again when an answer comes twice', () => {
    const { clock, events, replies, heard } = startWith([VOLTS], { 'READ?': '5.01\n5.03\n' });
    clock.advance(300);
    replies['READ?'] = '5.02\n';
    clock.advance(2000);
    expect(new Set(readingsOf(events))).toEqual(new Set(['logic.volts 5.01 V', 'logic.volts 5.02 V']));
    expect(faultsOf(events)).toEqual(['late-answer: came before READ? was asked: "5.03"']);
    expect(heard.filter((command) => command === '*IDN?')).toHaveLength(2);
  });

  it('gets in step again when the answers to all that was asked come at once', () => {
    const { clock, events, say, replies } = startWith([VOLTS], { '*IDN?': '' });
    clock.advance(10_000);
    say(`${IDENTITY}\n`.repeat(9));
    replies['*IDN?'] = `${IDENTITY}\n`;
    replies['READ?'] = '5.01\n';
    clock.advance(2000);
    expect(readingsOf(events)).toContain('logic.volts 5.01 V');
  });

  it('counts a second identity that comes while it waits for a reading, and goes on waiting', () => {
    const { clock, events, say } = startWith([VOLTS], {});
    clock.advance(300);
    say(`${IDENTITY}\n`);
    clock.advance(100);
    say('5.01\n');
    expect(readingsOf(events)).toEqual(['logic.volts 5.01 V']);
    expect(faultsOf(events)).toEqual([`late-answer: an answer to an earlier *IDN?: "${IDENTITY}"`]);
  });

  it('passes over a greeting before the first answer', () => {
    const { clock, events } = startWith([VOLTS], { '*IDN?': `ready.\r\n${IDENTITY}\r\n`, 'READ?': '5.01\n' });
    clock.advance(1000);
    expect(readingsOf(events)[0]).toBe('logic.volts 5.01 V');
    expect(faultsOf(events)).toEqual([]);
  });

  it('passes over the echo of its own questions', () => {
    const { clock, events } = startWith([VOLTS], {
      '*IDN?': `*IDN?\r\n${IDENTITY}\r\n`,
      'SYST:ERR?': 'SYST:ERR?\r\n0,"No error"\r\n',
      'READ?': 'READ?\r\n5.01\r\n',
    });
    clock.advance(1000);
    expect(readingsOf(events)[0]).toBe('logic.volts 5.01 V');
  });

  it('asks afresh after an answer that is no reading', () => {
    const { clock, events, replies } = startWith([VOLTS], { 'READ?': '12.0612.07\n' });
    clock.advance(250);
    replies['READ?'] = '5.01\n';
    clock.advance(1000);
    expect(readingsOf(events)[0]).toBe('logic.volts 5.01 V');
    expect(faultsOf(events)).toEqual(['not-understood: no single number of dc-volts: "12.0612.07"']);
  });

  it('does not read a device that prints numbers by itself', () => {
    const { clock, events, say } = startWith([VOLTS], { '*IDN?': '', 'SYST:ERR?': '' });
    for (let line = 0; line < 600; line += 1) {
      say('12.06\r\n');
      clock.advance(50);
    }
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events).join()).toMatch(/wrong-device: answers to \*IDN\? without maker/);
  });

  it('names the device that it expected when another answers, and reads the first again', () => {
    const { clock, events, far, replies } = startWith([VOLTS], { 'READ?': '5.01\n' });
    clock.advance(1000);
    far.unplug('pulled out');
    replies['*IDN?'] = 'SIGNAL CABIN,OTHER METER,0,1.0\n';
    far.plugIn('meter');
    clock.advance(5000);
    const before = readingsOf(events).length;
    expect(faultsOf(events)[0]).toBe(
      `wrong-device: answers instead of ${IDENTITY}, so it is not read: "SIGNAL CABIN,OTHER METER,0,1.0"`,
    );
    clock.advance(5000);
    expect(readingsOf(events)).toHaveLength(before);
    replies['*IDN?'] = `${IDENTITY}\n`;
    clock.advance(2000);
    expect(readingsOf(events).length).toBeGreaterThan(before);
  });

  // A serial line stays open while the meter at its end is switched off; then its settings are those of power-on.
  it.each([
    ['between two readings', 30_000, 10_000],
    ['for longer than from one reading to the next', 500, 10_000],
    ['as soon as it has answered', 4000, 3300],
  ])('sets a meter up anew that was switched off and on again %s', (_, intervalMs, offMs) => {
    for (const needsRemote of [true, false]) {
      const options = { interval_ms: intervalMs, first_commands: ['SYST:REM'] };
      const { clock, events, far, replies } = startWith([RIPPLE], {}, options);
      let state = { isOn: true, isRemote: false, isAc: false };
      far.onBytes((bytes) => {
        const command = Buffer.from(bytes).toString().trimEnd();
        if (!state.isOn) return;
        if (command === 'SYST:REM') state.isRemote = true;
        if (command === 'CONF:VOLT:AC') state.isAc = true;
        const reading = state.isRemote || !needsRemote ? (state.isAc ? '0.012\n' : '5.01\n') : undefined;
        const reply = command === 'READ?' ? reading : replies[command];
        if (reply !== undefined) far.send(Buffer.from(reply));
      });
      clock.advance(1000);
      state = { isOn: false, isRemote: false, isAc: false };
      clock.advance(offMs);
      state.isOn = true;
      const before = readingsOf(events).length;
      clock.advance(2 * intervalMs + 5000);
      expect(readingsOf(events).length).toBeGreaterThan(before);
      expect(new Set(readingsOf(events))).toEqual(new Set(['logic.ripple 0.012 Vrms']));
    }
  });

  it('gives every channel its turn when one of them is never answered', () => {
    const { clock, events, replies, far } = startWith([CASE, VOLTS], {});
    let configured = '';
    far.onBytes((bytes) => {
      const command = Buffer.from(bytes).toString().trimEnd();
      if (command.startsWith('CONF')) configured = command;
      const reply = command === 'READ?' && configured === 'CONF:VOLT:DC' ? '5.01\n' : replies[command];
      if (reply !== undefined) far.send(Buffer.from(reply));
    });
    clock.advance(20_000);
    expect(readingsOf(events).length).toBeGreaterThan(3);
  });
});

describe('scpi-meter on any wire', () => {
  const sizes = fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1 });

  it('reads the same however the answers are cut (seed 41)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -99, max: 99, noNaN: true }), { minLength: 1 }),
        sizes,
        (volts, cuts) => {
          const { clock, events, far, replies } = startWith([VOLTS], {}, { interval_ms: 50 });
          const left = volts.map((value) => `${value.toExponential(8)}\r\n`);
          far.onBytes((bytes) => {
            const command = Buffer.from(bytes).toString().trimEnd();
            const reply = command === 'READ?' ? left.shift() : replies[command];
            for (let at = 0, turn = 0; at < (reply ?? '').length; turn += 1) {
              const size = cuts[turn % cuts.length] ?? 1;
              far.send(Buffer.from((reply ?? '').slice(at, at + size)));
              at += size;
            }
          });
          clock.advance(200 + 50 * volts.length);
          expect(readingsOf(events)).toEqual(
            volts.map((value) => `logic.volts ${Number(value.toExponential(8))} V`),
          );
        },
      ),
      { seed: 41, numRuns: 50 },
    );
  });

  it('reads in junk only answers that came whole (seed 42)', () => {
    const junk = fc.uint8Array({ maxLength: 12 }).map((bytes) => Buffer.from(bytes).toString('latin1'));
    const answers = fc.array(fc.oneof(junk, fc.constantFrom('5.01\n', '5.0', '1\n', '\r\n', ',', 'OL\n')));
    fc.assert(
      fc.property(answers, (parts) => {
        const { clock, events, far, replies } = startWith([VOLTS], {}, { interval_ms: 50 });
        const left = [...parts];
        let sent = '';
        far.onBytes((bytes) => {
          const command = Buffer.from(bytes).toString().trimEnd();
          const reply = command === 'READ?' ? (left.shift() ?? '5.01\n') : (replies[command] ?? '');
          sent += reply;
          far.send(Buffer.from(reply, 'latin1'));
        });
        clock.advance(20_000);
        const whole = new Set(sent.split(/[\r\n]/).map((line) => line.trim()));
        const shown = events.flatMap((event) =>
          event.kind === 'reading' && event.value !== null ? [event.value] : [],
        );
        for (const value of new Set(shown)) {
          const wholeToo = [...whole].some(
            (line) => Number.parseFloat(line) === value && /^[-+\d.eE]+$/.test(line),
          );
          expect(wholeToo, String(value)).toBe(true);
        }
      }),
      { seed: 42, numRuns: 50 },
    );
  });
});

describe('the options of scpi-meter', () => {
  it('has an interval of half a second unless told otherwise', () => {
    expect(scpiMeter.intervalMs({})).toBe(500);
    expect(scpiMeter.intervalMs({ interval_ms: 2000 })).toBe(2000);
  });

  it.each([
    [{}, []],
    [{ interval_ms: 1000, timeout_ms: 5000, first_commands: ['SYST:REM'] }, []],
    [{ interval_ms: 10 }, ['interval_ms']],
    [{ timeout_ms: '2 s' }, ['timeout_ms']],
    [{ first_commands: ['*IDN?'] }, ['first_commands']],
    [{ first_commands: ['A\nB'] }, ['first_commands']],
    [{ intervall_ms: 1000 }, ['intervall_ms']],
    ['fast', ['options']],
  ])('%j has problems with %j', (options, keys) => {
    expect(scpiMeter.checkOptions(options).map(({ key }) => key)).toEqual(keys);
  });
});
