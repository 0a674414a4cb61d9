import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { textLines } from '../../../drivers/text-lines/text-lines.js';
import { manualClock } from '../../manual-clock.js';
import { driverContract, type DeviceSurroundings, type GoodDevice } from '../contract.js';
import { faultsOf, readingsOf } from '../events.js';

const FIELDS = { 'cases.lamps': '{lamps.case} C', u: '{logic.volts} mV' };

function print(fields: object, text: string): InstrumentEvent[] {
  const { link, far } = memoryLinkPair('board');
  const events: InstrumentEvent[] = [];
  const options = { format: 'json', fields };
  const emit = (event: InstrumentEvent): void => void events.push(event);
  const channels = textLines.channelsOf(options);
  textLines.start({ instrument: 'board', link, channels, options, clock: manualClock(), emit });
  far.send(Buffer.from(`\n${text}\n`));
  return events;
}

describe('text-lines with format json', () => {
  it.each([
    ['{"cases":{"lamps":41.3},"u":5012,"at":7}', ['lamps.case 41.3 degC', 'logic.volts 5.012 V']],
    ['{"cases.lamps":41.3}', ['lamps.case 41.3 degC']],
    ['{"u":"OL"}', ['logic.volts overload V']],
    ['{"u":"5.01 V"}', ['logic.volts 5.01 V']],
    ['{"u":"5010"}', ['logic.volts 5.01 V']],
    ['{"u":null}', ['logic.volts not-a-number V']],
    ['{"u":1e999}', ['logic.volts out-of-range V']],
  ])('reads %s', (line, readings) => {
    const events = print(FIELDS, line);
    expect(readingsOf(events)).toEqual(readings);
    expect(faultsOf(events)).toEqual([]);
  });

  // RFC 8259 knows no such words, yet C's printf writes them (C11, 7.21.6.1), and boards ovf: common practice.
  it.each([
    ['{"u":nan,"cases":{"lamps":41.3}}', ['logic.volts not-a-number V', 'lamps.case 41.3 degC']],
    ['{"cases":{"lamps": -nan },"u":5012}', ['logic.volts 5.012 V', 'lamps.case not-a-number degC']],
    ['{"u":NaN}', ['logic.volts not-a-number V']],
    ['{"u":inf}', ['logic.volts overload V']],
    ['{"u":-Infinity}', ['logic.volts overload V']],
    ['{"u":ovf,"n":[nan, 1,inf]}', ['logic.volts overload V']],
  ])('reads the rest of an object with a number that is none: %s', (line, readings) => {
    const events = print(FIELDS, line);
    expect(new Set(readingsOf(events))).toEqual(new Set(readings));
    expect(faultsOf(events)).toEqual([]);
  });

  it.each(['{"u":nano}', '{"u":5012,nan}', '{"u":5012nan}', '{"u":"a: nan, b","u":}'])(
    'still takes %s for no JSON',
    (line) => {
      const events = print(FIELDS, line);
      expect(readingsOf(events)).toEqual([]);
      expect(faultsOf(events)[0]).toMatch('not-understood: a line that is not a JSON object');
    },
  );

  it.each([
    ['{"u":5012', 'a line that is not a JSON object'],
    ['[5012]', 'a line that is not a JSON object'],
    ['{"u":true}', 'u holds no number'],
    ['{"u":{"mean":5}}', 'u holds no number'],
    ['{"cases":7}', 'a JSON object with none of the fields'],
    ['{"rpm":900}', 'a JSON object with none of the fields'],
  ])('reads nothing in %s', (line, why) => {
    const events = print(FIELDS, line);
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events)[0]).toMatch(`not-understood: ${why}`);
  });

  it('reads plain objects the same as those with an escape in them (seed 42)', () => {
    const value = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true }).map((n) => JSON.stringify(n)),
      fc.constantFrom(
        '0',
        '-0',
        '01',
        '5.',
        '.5',
        '+5',
        '-',
        '1e3',
        '1E-2',
        '1.e3',
        '"OL"',
        '"x"',
        'null',
        'NaN',
        '""',
      ),
    );
    const key = fc.constantFrom('u', 'cases.lamps', 'n', '\\u0075', 'ü', '');
    const blank = fc.constantFrom('', ' ', '\t');
    const member = fc
      .tuple(blank, key, blank, value)
      .map(([a, name, b, text]) => `${a}"${name}"${b}:${a}${text}${b}`);
    fc.assert(
      fc.property(fc.array(member, { minLength: 1, maxLength: 5 }), (members) => {
        // Only the plain path reads an object with an escape in it.
        const [fast, slow] = [members, ['"z":"\\u007a"', ...members]].map((all) => {
          const events = print(FIELDS, `{${all.join(',')}}`);
          return { readings: readingsOf(events), faults: faultsOf(events).length };
        });
        expect(fast).toEqual(slow);
      }),
      { seed: 42, numRuns: 1000 },
    );
  });

  it('reads objects and lists in objects the same as those with an escape in them (seed 43)', () => {
    const name = fc.constantFrom('u', 'cases', 'lamps', 'cases.lamps', 'n', '');
    const leaf = fc.oneof(
      { weight: 4, arbitrary: fc.integer({ min: -9, max: 9 }).map(String) },
      { weight: 1, arbitrary: fc.constantFrom('"OL"', '"x"', 'null', '1.', '{}', '}') },
      {
        weight: 2,
        arbitrary: fc.constantFrom(
          'true',
          'false',
          'null',
          '[]',
          '[1, 2]',
          '[[1],{"u":2}]',
          '[1,]',
          'tru',
          'trues',
          '[',
        ),
      },
    );
    const { object } = fc.letrec<{ object: string; value: string }>((tie) => ({
      value: fc.oneof(
        { maxDepth: 10, withCrossShrink: true },
        { weight: 2, arbitrary: leaf },
        { weight: 1, arbitrary: tie('object') },
      ),
      object: fc
        .array(fc.tuple(name, tie('value'), fc.constantFrom('', ' ')), { minLength: 1, maxLength: 4 })
        .map((members) => `{${members.map(([key, value, b]) => `${b}"${key}":${b}${value}${b}`).join(',')}}`),
    }));
    const fields = { ...FIELDS, 'cases.n.u': '{lamps.volts} V' };
    let nested = 0;
    fc.assert(
      fc.property(object, (text) => {
        const [fast, slow] = [text, `{"z":"\\u007a",${text.slice(1)}`].map((line) => {
          const events = print(fields, line);
          return { readings: readingsOf(events), faults: faultsOf(events).length };
        });
        expect(fast).toEqual(slow);
        if (fast?.readings.some((reading) => !reading.startsWith('logic'))) nested += 1;
      }),
      { seed: 43, numRuns: 3000 },
    );
    expect(nested).toBeGreaterThan(100);
  });

  it('reads line after line of one shape as each by itself (seed 44)', () => {
    const number = fc.oneof(
      { weight: 6, arbitrary: fc.double({ min: -99, max: 9999, noNaN: true }).map((n) => JSON.stringify(n)) },
      { weight: 6, arbitrary: fc.integer({ min: 0, max: 99_999 }).map(String) },
      { weight: 1, arbitrary: fc.constantFrom('01', '+5', '5.', '"OL"', '"5"', 'null', '-', '', '{}', '7 ') },
      {
        weight: 1,
        arbitrary: fc.constantFrom('\\\\', '","u":2,"', '\t', 'ü', '1e400', '1e-7', '9007199254740993'),
      },
    );
    const shapes: readonly ((a: string, b: string) => string)[] = [
      (a, b) => `{"n":${b},"u":${a}}`,
      (a, b) => `{"n": ${b}, "cases": {"lamps": ${a}}}`,
      (a, b) => `{"cases":{"lamps":${a}},"u":${b}}`,
      (a, b) => `{"cases":{"lamps":${a}},"cases":{"n":${b}},"u":1}`,
      (a, b) => `{"u":${a},"u":${b}}`,
      (a, b) => `{"u":${a}},${b}}`,
      (a, b) => `{"u":${a}${b}}`,
      (a, b) => `{"ok":true,"u":${a},"z":[${b},null]}`,
      (a, b) => `{"ok":false,"cases":{"lamps":${a}},"z":[${b},null]}`,
      (a, b) => `{"at":"${b}","u":${a}}`,
      (a, b) => `{"at":"12:${b}","cases":{"lamps":${a},"is":"warm"}} `,
    ];
    const line = fc.tuple(fc.nat(shapes.length - 1), number, number);
    const lines = fc.array(line, { minLength: 2, maxLength: 9 });
    fc.assert(
      fc.property(lines, fc.boolean(), (drawn, isOneShape) => {
        const texts = drawn.map(([shape, a, b]) => shapes[isOneShape ? (drawn[0]?.[0] ?? 0) : shape]?.(a, b));
        const together = readingsOf(print(FIELDS, texts.join('\n')));
        expect(together).toEqual(texts.flatMap((text) => readingsOf(print(FIELDS, text ?? ''))));
      }),
      { seed: 44, numRuns: 2000 },
    );
  });

  it('reads a damaged line behind a good one as by itself (seed 45)', () => {
    const good = '{"at":"08:15","n":12,"cases":{"lamps":41.5},"u":5012}';
    const damage = fc.record({
      at: fc.nat(good.length - 1),
      take: fc.nat(3),
      put: fc.oneof(fc.constantFrom('', '"', '}', '.', '\t', 'e', '5', '-'), fc.string({ maxLength: 2 })),
    });
    fc.assert(
      fc.property(fc.array(damage, { minLength: 1, maxLength: 2 }), (damages) => {
        const bad = damages
          .reduce((text, { at, take, put }) => text.slice(0, at) + put + text.slice(at + take), good)
          .replace(/[\r\n\0]/g, '');
        const [behind, alone] = [`${good}\n${bad}`, bad].map((text) => print(FIELDS, text));
        expect(readingsOf(behind ?? []).slice(2)).toEqual(readingsOf(alone ?? []));
        expect(faultsOf(behind ?? [])).toEqual(faultsOf(alone ?? []));
      }),
      { seed: 45, numRuns: 3000 },
    );
  });

  it.each([
    ['{"cases":{"lamps":1},"cases":{"x":2},"u":5000}', ['logic.volts 5 V']],
    ['{"cases":{"lamps":1},"cases":7,"u":5000}', ['logic.volts 5 V']],
    ['{"cases.lamps":41,"cases":{"lamps":1}}', ['lamps.case 41 degC']],
    ['{"cases":{"lamps":1},"cases.lamps":41}', ['lamps.case 41 degC']],
    [`${'{"a":'.repeat(500)}1${'}'.repeat(500)}`, []],
  ])('of the same key twice takes the last, and a whole key before a path: %s', (line, readings) => {
    expect(readingsOf(print(FIELDS, line))).toEqual(readings);
  });

  it('takes nothing from an object’s own making', () => {
    expect(readingsOf(print({ 'constructor.length': '{a} V' }, '{"u":1}'))).toEqual([]);
  });
});

/** Prints an object every 100 ms; its values never come twice. */
function board({ clock, say, promise }: DeviceSurroundings, key: string): GoodDevice {
  let lines = 0;
  let cancel: (() => void) | null = null;
  function printNext(): void {
    lines += 1;
    const lamps = (41 + lines / 1000).toFixed(3);
    promise('lamps.case', Number(lamps));
    cancel = clock.after(100, printNext);
    say(`{"${key}": ${lamps}}\r\n`);
  }
  return {
    wake: () => void (cancel ??= clock.after(100, printNext)),
    sleep() {
      cancel?.();
      cancel = null;
    },
  };
}

const options = { format: 'json', fields: { t1: '{lamps.case} C' } };

driverContract({
  driver: textLines,
  options,
  channels: textLines.channelsOf(options),
  device: (around) => board(around, 't1'),
  otherDevice: (around) => board(around, 'rpm'),
  otherDeviceFault: 'not-understood',
  longestFrameBytes: '{"t1": 41.001}\r\n'.length,
});
