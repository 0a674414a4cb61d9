import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { editedText, type Edit } from '../../../daemon/design/edit-text.js';

const EXAMPLES = fileURLToPath(new URL('../../../daemon/design/examples/', import.meta.url));

function example(name: string): string {
  return readFileSync(`${EXAMPLES}${name}/${name}.design.yaml`, 'utf8');
}

/** The lines that differ: `-` as they were, `+` as they are. */
function difference(before: string, after: string): string[] {
  const old = before.split('\n');
  const fresh = after.split('\n');
  return [
    ...old.filter((line) => !fresh.includes(line)).map((line) => `-${line}`),
    ...fresh.filter((line) => !old.includes(line)).map((line) => `+${line}`),
  ];
}

function changed(text: string, ...edits: readonly Edit[]): string[] {
  return difference(text, editedText(text, edits));
}

describe('a design file that a person wrote', () => {
  it.each(readdirSync(EXAMPLES))('%s: no edit, no difference', (name) => {
    expect(editedText(example(name), [])).toBe(example(name));
  });

  it('one value: one line, its remark kept', () => {
    const path = ['rails', 'lamps', 'r2'];
    expect(changed(example('signal-cabin'), { path, value: 2210 })).toEqual([
      '-    r2: 2050 # adjust to ground: 1.25 V x (1 + 2050 / 240) + 50 uA x 2050 ohm = 12.03 V',
      '+    r2: 2210 # adjust to ground: 1.25 V x (1 + 2050 / 240) + 50 uA x 2050 ohm = 12.03 V',
    ]);
  });

  it('a value that was not there comes to its group', () => {
    const path = ['rails', 'lamps', 'damage', 'low'];
    expect(changed(example('signal-cabin'), { path, value: 10.8 })).toEqual(['+      low: 10.8']);
  });

  it('a value is taken out, and its group with the last one', () => {
    const path = ['rails', 'lamps', 'damage', 'high'];
    expect(changed(example('signal-cabin'), { path, value: null })).toEqual([
      '-    damage: # volts that harm the load',
      '-      high: 14',
    ]);
  });

  it('blanks before remarks, empty lines, wide groups and line ends stay', () => {
    const text = [
      'design:   my crane      # wide',
      '',
      '',
      'mains: {  volts: 230,   hertz: 50 }   # as on the label',
      'transformer:',
      '    volts: 15      # secondary',
      '    va:    30',
      '',
    ].join('\r\n');
    const after = editedText(text, [{ path: ['transformer', 'va'], value: 50 }]);
    expect(after).toBe(text.replace('va:    30', 'va:    50'));
  });

  it('a group written for a default brings what the default said', () => {
    const text = 'mains:\n  volts: 230\n  hertz: 50\n';
    const after = editedText(text, [{ path: ['mains', 'ambient', 'typical'], value: 28 }], {
      groupAt: () => ({ typical: 22, highest: 35 }),
      order: [],
    });
    expect(after).toBe(`${text}  ambient: { typical: 28, highest: 35 }\n`);
  });

  it('behind an alias only the place that was meant changes', () => {
    const text = 'a: &cool\n  heatsink: 8\nb: *cool\n';
    const after = editedText(text, [{ path: ['b', 'heatsink'], value: 4 }]);
    expect(parse(after)).toEqual({ a: { heatsink: 8 }, b: { heatsink: 4 } });
  });

  it('an anchored value that others point at keeps its anchor', () => {
    const text = 'a: &size 8\nb: *size\n';
    expect(parse(editedText(text, [{ path: ['b'], value: 4 }]))).toEqual({ a: 8, b: 4 });
  });

  it('in a group on one line values come, go and change', () => {
    const text = 'load: { idle: 0.1, typical: 0.2 } # amps\n';
    const full = editedText(text, [{ path: ['load', 'full'], value: 0.3 }]);
    expect(full).toBe('load: { idle: 0.1, typical: 0.2, full: 0.3 } # amps\n');
    expect(editedText(full, [{ path: ['load', 'idle'], value: null }])).toBe(
      'load: { typical: 0.2, full: 0.3 } # amps\n',
    );
    expect(editedText(full, [{ path: ['load', 'full'], value: null }])).toBe(text);
  });

  it('a value becomes a group, and a group a value', () => {
    const text = 'rail:\n  regulator: LM317 # adjustable\n  damage: # of the load\n    high: 14\n\nend: 1\n';
    const value = { kind: 'given', volts: 5 };
    expect(editedText(text, [{ path: ['rail', 'regulator'], value }])).toBe(
      text.replace('LM317', '{ kind: given, volts: 5 }'),
    );
    expect(editedText(text, [{ path: ['rail', 'damage'], value: 3 }])).toBe(
      text.replace('damage: # of the load\n    high: 14', 'damage: 3 # of the load'),
    );
  });

  it('a key at the top comes where the schema has it', () => {
    const text = 'reservoir: 1\n\n# the rails\nrails: 2\n';
    const order = ['reservoir', 'filter', 'rails'];
    const after = editedText(text, [{ path: ['filter'], value: 'none' }], { groupAt: () => ({}), order });
    expect(after).toBe('reservoir: 1\n\nfilter: none\n\n# the rails\nrails: 2\n');
  });

  it('a key with nothing behind it takes the value', () => {
    expect(editedText('a: # why\nb: 2\n', [{ path: ['a'], value: 1 }])).toBe('a: 1 # why\nb: 2\n');
    expect(editedText('a:\n', [{ path: ['a', 'b'], value: 1 }])).toBe('a: { b: 1 }\n');
  });

  it('a file without a last line end gets its line all the same', () => {
    expect(editedText('a:\n  b: 1', [{ path: ['a', 'c'], value: 2 }])).toBe('a:\n  b: 1\n  c: 2');
  });

  it.each(readdirSync(EXAMPLES))('%s: every number set anew and back is the same file', (name) => {
    const text = example(name);
    for (const [path, value] of numbersIn(parse(text), [])) {
      const there = editedText(text, [{ path, value: value + 1 }]);
      expect(parse(there)).not.toEqual(parse(text));
      expect(editedText(there, [{ path, value }]).replace(/\d+\.0+\b/g, (n) => String(Number(n)))).toBe(
        text.replace(/\d+\.0+\b/g, (n) => String(Number(n))),
      );
    }
  });

  it('a text is quoted where it would be read as something else', () => {
    const text = 'rails:\n  logic:\n    regulator: LM317\n';
    const after = editedText(text, [{ path: ['rails', 'logic', 'regulator'], value: '7805' }]);
    expect(parse(after)).toEqual({ rails: { logic: { regulator: '7805' } } });
  });
});

function numbersIn(value: unknown, path: readonly string[]): [readonly string[], number][] {
  if (typeof value === 'number') return [[path, value]];
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return [];
  return Object.entries(value).flatMap(([key, inner]) => numbersIn(inner, [...path, key]));
}
