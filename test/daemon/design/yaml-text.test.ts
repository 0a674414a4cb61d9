import { describe, expect, it } from 'vitest';
import { readYaml } from '../../../daemon/design/yaml-text.js';
import { problemsOf } from './signal-cabin.js';

function messageAbout(text: string): string {
  return problemsOf(() => readYaml(text, 'cabin.yaml')).message;
}

const BROKEN: readonly (readonly [title: string, text: string, message: string])[] = [
  ['a tab', 'mains:\n\tvolts: 230', 'cabin.yaml:2: a tab indents this line; YAML wants blanks'],
  [
    'an open quote',
    'design: "cabin\nmains: 1\n',
    'cabin.yaml:3: a sign is missing here or on a line above: a closing quote, a closing bracket, a comma, or the colon after a key',
  ],
  [
    'an indentation that fits nothing',
    'mains:\n    volts: 230\n  hertz: 50',
    'cabin.yaml:3: the indentation is off; keys of one group begin in the same column, two blanks further in',
  ],
  [
    'a second document',
    'a: 1\n---\nb: 2',
    'cabin.yaml:2: the file has a second part after "---"; keep one part a file',
  ],
  [
    'a sign that begins no value',
    'a: %x',
    'cabin.yaml:1: a value may not begin with this sign; put it in quotes',
  ],
  [
    'no comma between two keys',
    'link: { serial: /dev/ttyUSB0 baud: 9600 }',
    'cabin.yaml:1: a comma is missing between two keys inside { }, or an indented group stands there; write it on one line, with commas',
  ],
  [
    'the same key twice',
    'a: 1\nb: 2\na: 3',
    'cabin.yaml:3 a: stands here twice, first on line 1; keep one of the two',
  ],
  [
    'the same group twice, told once',
    'rails:\n  a: {x: 1, y: 2}\n  a: {x: 1, y: 2}',
    'cabin.yaml:3 rails.a: stands here twice, first on line 2; keep one of the two',
  ],
  [
    'an alias to nothing',
    'a: 1\nb: *five',
    'cabin.yaml:2 b: found *five, an alias, but nothing is marked &five before it; put it in quotes',
  ],
  [
    'a name that vanishes',
    'a:\n  __proto__: 1',
    "cabin.yaml:2 a.__proto__: this name can't be used as a key; choose another",
  ],
  [
    'what a terminal obeys',
    'a: 1\nb: "cabin \\e[2J"',
    'cabin.yaml:2 b: found "cabin ?[2J"; U+001B in it is obeyed and not shown, take it out',
  ],
  [
    'what turns the direction of writing, in a key',
    'a:\n  "la\u202emps": 1',
    'cabin.yaml:2 a.la?mps: found "la?mps"; U+202E in it is obeyed and not shown, take it out',
  ],
  [
    'a list as a key',
    '? [a]\n: 1',
    'cabin.yaml:1: a key here is a list, a group or an alias; a key is one word',
  ],
];

describe('YAML that cannot be used', () => {
  it.each(BROKEN)('%s', (_title, text, message) => {
    expect(messageAbout(text)).toBe(message);
  });

  it('refuses aliases that blow up to a huge value', () => {
    const layers = ['a', 'b', 'c', 'd', 'e'].map((name, index, all) => {
      const inner = index === 0 ? 'x' : `*${all[index - 1]}`;
      return `${name}: &${name} [${[inner, inner, inner, inner].join(', ')}]`;
    });
    const message = messageAbout(layers.join('\n'));
    expect(message).toBe('cabin.yaml:1: too many aliases (*name); 20 are allowed, so write the values out');
  });

  it.each([
    ['brackets', '['.repeat(100_000)],
    ['braces as keys', '{'.repeat(61) + '}'.repeat(61)],
    ['lists on one line', '- '.repeat(100_000)],
  ])('refuses a file that nests too deep: %s', (_title, text) => {
    expect(messageAbout(text)).toBe('cabin.yaml:1: the file nests too deep; 20 levels are allowed');
  });

  it('names the place of a group that nests too deep', () => {
    const text = Array.from({ length: 30 }, (_, depth) => `${' '.repeat(depth)}a:`).join('\n');
    expect(messageAbout(text)).toBe('cabin.yaml:3 a.a.a: nests too deep; 20 levels are allowed');
  });

  it('refuses a file of more than 1 MiB before reading it', () => {
    const message =
      'cabin.yaml:1: the file is larger than 1 MiB; a few kilobytes are usual, so this is probably another file';
    expect(messageAbout(`a: ${'x'.repeat(1024 * 1024)}`)).toBe(message);
    expect(messageAbout(`a: ${'Ω'.repeat(600 * 1024)}`)).toBe(message);
  });
});

describe('where keys stand', () => {
  it('gives the line of a key, or of its closest ancestor', () => {
    const yaml = readYaml('a:\n  b:\n    - 1\n    - c: 2\n', 'cabin.yaml');
    const lines = [['a'], ['a', 'b'], ['a', 'b', '1', 'c'], ['a', 'x', 'y'], ['z']].map((path) =>
      yaml.lineOf(path),
    );
    expect(lines).toEqual([1, 2, 4, 1, 1]);
  });

  it('counts lines the same with Windows line ends and a byte-order mark', () => {
    const yaml = readYaml('\uFEFFa: 1\r\nb:\r\n  c: 2\r\n', 'cabin.yaml');
    expect(yaml.value).toEqual({ a: 1, b: { c: 2 } });
    expect(yaml.lineOf(['b', 'c'])).toBe(3);
  });
});
