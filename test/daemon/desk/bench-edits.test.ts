import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { editedBench } from '../../../daemon/desk/bench-edits.js';
import type { BenchEdit, InstrumentToAdd } from '../../../daemon/serve/instrument-messages.js';
import { CABIN_BENCH } from './cabin-text.js';

interface Read {
  readonly instruments: Readonly<Record<string, Readonly<Record<string, unknown>>>>;
}

/** The lines that differ: `-` as they were, `+` as they are. */
function difference(edit: BenchEdit): string[] {
  const old = CABIN_BENCH.split('\n');
  const fresh = editedBench(CABIN_BENCH, edit).split('\n');
  return [
    ...old.filter((line) => !fresh.includes(line)).map((line) => `-${line.trim()}`),
    ...fresh.filter((line) => !old.includes(line)).map((line) => `+${line.trim()}`),
  ];
}

function after(text: string, ...edits: readonly BenchEdit[]): Read {
  return parse(edits.reduce(editedBench, text)) as Read;
}

const BOARD: InstrumentToAdd = {
  name: 'probes',
  about: 'prints\n"T3: 20 C"',
  driver: 'text-lines',
  link: { serial: '/dev/ttyUSB7', baud: 9600 },
  options: { pattern: 'T3: {t3} C' },
  channels: [],
};

describe('edits of a bench file', () => {
  it('one value: its line alone, with its remark', () => {
    const edit = {
      kind: 'set',
      path: ['instruments', 'meter', 'channels', 'volts', 'at'],
      value: 'logic.volts',
    } as const;
    expect(difference(edit)).toEqual([
      '-at: reservoir.volts # where its probe sits; the page can move it',
      '+at: logic.volts # where its probe sits; the page can move it',
    ]);
  });

  it('an instrument is renamed at its key, and not to a name that is taken', () => {
    expect(difference({ kind: 'rename-instrument', instrument: 'rails', name: 'volt-board' })).toEqual([
      '-rails: # a board with two voltage inputs',
      '+volt-board: # a board with two voltage inputs',
    ]);
    expect(() =>
      editedBench(CABIN_BENCH, { kind: 'rename-instrument', instrument: 'rails', name: 'meter' }),
    ).toThrow('there is a meter already');
  });

  it('a channel that a pattern names is renamed there', () => {
    const edit = {
      kind: 'channel',
      instrument: 'probes',
      channel: 'logic.case',
      name: 'bead',
      measures: 'temperature',
    } as const;
    expect(difference(edit)).toEqual([
      "-pattern: 'T1: {lamps.case} C, T2: {logic.case} C'",
      '+pattern: "T1: {lamps.case} C, T2: {bead} C"',
    ]);
  });

  it('a guessed unit is put right in the pattern', () => {
    const text = "bench: b\ninstruments:\n  x: { driver: text-lines, options: { pattern: 'A {value V}' } }\n";
    const edit = {
      kind: 'channel',
      instrument: 'x',
      channel: 'value',
      name: 'bead',
      measures: 'temperature',
    } as const;
    expect(after(text, edit).instruments['x']?.['options']).toEqual({ pattern: 'A {bead C}' });
  });

  it.each([['lamps.case'], [''], ['a}b']])('a channel is not called %j', (name) => {
    const edit = {
      kind: 'channel',
      instrument: 'probes',
      channel: 'logic.case',
      name,
      measures: 'temperature',
    } as const;
    expect(() => editedBench(CABIN_BENCH, edit)).toThrow(/already|has a name|can't be a name/);
  });

  it('a channel of a pattern is listed once a sensor is said of it', () => {
    const path = ['instruments', 'rails', 'channels', 'logic.volts', 'sensor'];
    const { instruments } = after(CABIN_BENCH, { kind: 'set', path, value: { divider: 11 } });
    expect(instruments['rails']?.['channels']).toEqual({
      'logic.volts': { measures: 'dc-volts', sensor: { divider: 11 } },
    });
  });

  it('an instrument comes last, under a name that is free, with a remark on one line', () => {
    const text = editedBench(CABIN_BENCH, { kind: 'add', instrument: BOARD });
    expect(text.startsWith(CABIN_BENCH.trimEnd())).toBe(true);
    expect(text.slice(CABIN_BENCH.length)).toMatch(
      /^ {2}probes-2: # prints.*T3: 20 C"\n {4}driver: text-lines\n/,
    );
    expect(after(CABIN_BENCH, { kind: 'add', instrument: BOARD }).instruments['probes-2']).toMatchObject({
      link: BOARD.link,
      options: BOARD.options,
    });
  });

  it.each([
    '',
    'bench: b\n',
    'bench: b\ninstruments: {}\n',
    'bench: b\ninstruments:\noutputs: {}\n',
    'instruments: { a: { driver: by-hand } }\nbench: b\n',
  ])('an instrument is added to %j', (text) => {
    const read = after(text, { kind: 'add', instrument: BOARD });
    expect(read.instruments['probes']).toMatchObject({ driver: 'text-lines' });
    expect(read).toMatchObject({
      ...(parse(text) as object | null),
      instruments: expect.anything() as unknown,
    });
  });

  it('an instrument is put before what follows the instruments', () => {
    const text = 'bench: b\ninstruments:\n  a:\n    driver: by-hand\n\n# relays\noutputs:\n  k: 1\n';
    const read = after(text, { kind: 'add', instrument: BOARD });
    expect(Object.keys(read.instruments)).toEqual(['a', 'probes']);
  });

  it('the last instrument can go, and another come', () => {
    const text = 'bench: b\ninstruments:\n  a:\n    driver: by-hand\n';
    const read = after(text, { kind: 'remove', instrument: 'a' }, { kind: 'add', instrument: BOARD });
    expect(Object.keys(read.instruments)).toEqual(['probes']);
  });

  it.each(['{ interval_s: [', '7', 'a word'])('options as %j are refused in words', (typed) => {
    expect(() => editedBench(CABIN_BENCH, { kind: 'options', instrument: 'meter', typed })).toThrow(
      /options are/,
    );
  });
});
