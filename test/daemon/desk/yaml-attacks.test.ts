import { describe, expect, it } from 'vitest';
import { designWithRail } from '../../../daemon/design/begin-design.js';
import { FileProblems, loadDesign } from '../../../daemon/design/load.js';
import { changedBench } from '../../../daemon/desk/bench-preview.js';
import { guardedChange } from '../../../daemon/desk/bench-guard.js';
import { previewOf } from '../../../daemon/desk/preview.js';
import type { BenchEdit, InstrumentToAdd } from '../../../daemon/serve/instrument-messages.js';
import { REFUSED_YAML } from '../design/refused-yaml.js';
import { CABIN, CABIN_BENCH } from './cabin-text.js';

const BOARD: InstrumentToAdd = {
  name: 'probes',
  about: '',
  driver: 'text-lines',
  link: null,
  options: { pattern: 'T1: {t1} C' },
  channels: [],
};
const EDITS: readonly BenchEdit[] = [
  { kind: 'add', instrument: BOARD },
  { kind: 'set', path: ['instruments', 'a', 'driver'], value: 'by-hand' },
  { kind: 'remove', instrument: 'a' },
  { kind: 'options', instrument: 'a', typed: '{ interval_s: 2 }' },
  { kind: 'rename-instrument', instrument: 'a', name: 'b' },
  { kind: 'channel', instrument: 'a', channel: 'volts', name: 'case', measures: 'temperature' },
];

describe.each(Object.entries(REFUSED_YAML))('%s, sent to the page', (_, text) => {
  it('as a design: is given back as it came, with what is wrong', () => {
    const edits = [{ path: ['mains', 'volts'], value: 230 }];
    const preview = previewOf({ text, edits, load: 'typical', draws: 'quick' }, 'cabin.design.yaml');
    expect(preview.text).toBe(text);
    expect(preview.problems).not.toEqual([]);
    expect(preview.prediction).toBeNull();
  });

  it('as a bench: no edit is put in, and the page is told', () => {
    for (const edit of EDITS) {
      const changed = changedBench({ text, edits: [edit] });
      expect(changed).toEqual({ text, instruments: [], refused: expect.any(String) as string });
    }
  });

  it('as a design for one more rail: refused as any file is', () => {
    const rail = { name: 'bells', volts: '9', full: '0.2' };
    expect(() => designWithRail(text, loadDesign(CABIN, 'x'), rail)).toThrow(FileProblems);
  });
});

// Nothing but line ends takes the options away, as an empty field does.
it.each(Object.entries(REFUSED_YAML).filter(([, text]) => text.trim() !== ''))(
  '%s, as options of an instrument: refused in words',
  (_, text) => {
    const edits: BenchEdit[] = [{ kind: 'options', instrument: 'meter', typed: text }];
    expect(changedBench({ text: CABIN_BENCH, edits }).refused).toMatch(/^these options are no YAML: /);
  },
);

it('a value that makes a file too large is refused, with the file as it was', () => {
  const lists = Array.from({ length: 100 }, () => Array.from({ length: 100 }, () => [1, 2]));
  const edits = [{ path: ['mains', 'volts'], value: lists }];
  const request = { edits, load: 'typical', draws: 'quick' } as const;
  const preview = previewOf({ text: CABIN, ...request }, 'cabin.design.yaml');
  expect(preview.problems[0]?.words).toMatch(/words and signs/);
  expect(preview.prediction).toBeNull();
});

it('a name that means something to JavaScript objects changes none', () => {
  const value = JSON.parse('{ "__proto__": { "armed": true } }') as Record<string, never>;
  for (const path of [
    ['mains', 'ambient'],
    ['mains', '__proto__', 'armed'],
    ['constructor', 'prototype', 'armed'],
  ]) {
    previewOf(
      { text: CABIN, edits: [{ path, value }], load: 'typical', draws: 'quick' },
      'cabin.design.yaml',
    );
    changedBench({ text: CABIN_BENCH, edits: [{ kind: 'set', path: ['instruments', ...path], value }] });
  }
  expect(({} as Record<string, unknown>)['armed']).toBeUndefined();
});

it('what switches power stays in the file under any spelling of its key', () => {
  const after = `${CABIN_BENCH}\n"\\u006futputs": { lamp-relay: { driver: relay-lines, armed: true } }\n`;
  expect(guardedChange(CABIN_BENCH, after)).toMatch(/^outputs are changed in the file itself/);
});
