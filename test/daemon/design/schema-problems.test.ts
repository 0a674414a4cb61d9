import { describe, expect, it } from 'vitest';
import { benchMessage, designMessage } from './signal-cabin.js';

const D = 'signal-cabin.design.yaml';
const B = 'signal-cabin.bench.yaml';

/** What a person writes wrong, and the whole message. */
const DESIGNS: readonly (readonly [title: string, from: string, to: string, message: string])[] = [
  [
    'a negative resistor',
    'r2: 2050',
    'r2: -5',
    `${D}:39 rails.lamps.r2: found -5; a positive number of ohms is allowed`,
  ],
  [
    'a letter for the decimal point',
    'r2: 2050',
    'r2: 2k05',
    `${D}:39 rails.lamps.r2: found "2k05"; a positive number of ohms is allowed; write the number alone: 2050`,
  ],
  [
    'a unit behind the number',
    'capacity_uF: 4700',
    'capacity_uF: 4700uF',
    `${D}:29 reservoir.capacity_uF: found "4700uF"; a positive number of microfarads is allowed; write the number alone: 4700`,
  ],
  [
    'a decimal comma',
    'volts: 15 #',
    'volts: 15,5 #',
    `${D}:19 transformer.volts: found "15,5"; a positive number of volts RMS is allowed; write the number alone: 15.5`,
  ],
  [
    'milliamps with their unit',
    'full: 0.28',
    'full: 280 mA',
    `${D}:61 rails.logic.load.full: found "280 mA"; zero or a positive number of amps is allowed; write the number alone: 0.28`,
  ],
  [
    'infinity',
    'volts: 230',
    'volts: .inf',
    `${D}:10 mains.volts: found Infinity; a positive number of volts RMS is allowed`,
  ],
  ['another mains', 'hertz: 50', 'hertz: 400', `${D}:11 mains.hertz: found 400; 50 or 60 (hertz) is allowed`],
  [
    'a misspelt preset',
    'tolerance: EN 50160',
    'tolerance: EN50160',
    `${D}:12 mains.tolerance: found "EN50160"; EN 50160, ANSI C84.1, or low_percent with high_percent is allowed; did you mean EN 50160?`,
  ],
  [
    'a misspelt key in a choice, told once',
    'tolerance: EN 50160',
    'tolerance: { low_percent: -10, high_percnt: 5 }',
    `${D}:12 mains.tolerance.high_percnt: this key is unknown here; did you mean high_percent?`,
  ],
  [
    'a misspelt key, and not that the right one is missing',
    'regulator: LM317',
    'regulater: LM317',
    `${D}:37 rails.lamps.regulater: this key is unknown here; did you mean regulator?`,
  ],
  [
    'a key that a neighbour already has',
    'r2: 2050',
    'r3: 2050',
    `${D}:39 rails.lamps.r3: this key is unknown here; did you mean r2?`,
  ],
  [
    'a key without its unit',
    'capacity_uF: 4700',
    'capacity: 4700',
    `${D}:29 reservoir.capacity: this key is unknown here; did you mean capacity_uF?`,
  ],
  [
    'a key that is like no other',
    'fuse_amps: 0.315',
    'colour: blue',
    `${D}:22 transformer.colour: this key is unknown here; allowed are volts, windings, va, amps, regulation_percent, winding_ohms, fuse_amps`,
  ],
  [
    'a missing value',
    'design: signal cabin',
    'design:',
    `${D}:7 design: found nothing; a name for the supply (1 to 120 characters) is allowed`,
  ],
  [
    'a missing key',
    '  hertz: 50 # 50 or 60\n',
    '',
    `${D}:9 mains.hertz: missing; 50 or 60 (hertz) is needed`,
  ],
  [
    'one word where a group belongs',
    'rectifier:\n  kind: bridge\n  diode: 1N4007',
    'rectifier: bridge',
    `${D}:24 rectifier: found "bridge"; keys on lines of their own (kind, diode, drop) are allowed`,
  ],
  [
    'a rail name with a blank',
    '  lamps: #',
    '  Lamps 12V: #',
    `${D}:36 rails.Lamps 12V: found "Lamps 12V"; a name of small letters, digits and hyphens that begins with a letter is allowed; did you mean lamps-12v?`,
  ],
  [
    'a heatsink in words',
    'heatsink: 8 #',
    'heatsink: nonne #',
    `${D}:44 rails.lamps.cooling.heatsink: found "nonne"; a positive number of K/W, or none for a bare package, is allowed; did you mean none?`,
  ],
];

describe('a design that the schema refuses', () => {
  it.each(DESIGNS)('%s', (_title, from, to, message) => {
    expect(designMessage(from, to)).toBe(message);
  });

  it('tells several problems in the order of the file, one a line', () => {
    const message = designMessage(
      "volts: 230 # RMS, as on the transformer's label\n  hertz: 50",
      'volts: -230\n  hertz: 55',
    );
    expect(message.split('\n')).toEqual([
      `${D}:10 mains.volts: found -230; a positive number of volts RMS is allowed`,
      `${D}:11 mains.hertz: found 55; 50 or 60 (hertz) is allowed`,
    ]);
  });

  it('tells forty of many problems', () => {
    const junk = Array.from({ length: 2000 }, (_, index) => `junk${index}: 1`).join('\n');
    const lines = designMessage('design: signal cabin', `${junk}\ndesign: signal cabin`).split('\n');
    expect(lines).toHaveLength(41);
    expect(lines.at(-1)).toMatch(/: and more; put these right first$/);
  });

  it.each(['14,4', '14,05', '14,4 V'])('knows a decimal comma inside braces: %s', (typed) => {
    const message = designMessage(
      'damage: # volts that harm the load\n      high: 14\n\n  logic',
      `damage: { high: ${typed} }\n\n  logic`,
    );
    expect(message).toMatch(
      /^\S+ rails\.lamps\.damage\.\d+[ V]*: a comma inside \{ \} ends a value, .*; write decimals with a point/,
    );
  });

  it('shortens what was written and shows no control characters', () => {
    const message = designMessage('hertz: 50', `hertz: "${'x'.repeat(300)}"`);
    expect(message).toBe(`${D}:11 mains.hertz: found "${'x'.repeat(57)}..."; 50 or 60 (hertz) is allowed`);
    expect(designMessage('hertz: 50', 'hertz: "a\\u001b[31m\\u202e"')).toContain('found "a?[31m?"');
  });
});

const BENCHES: readonly (readonly [title: string, from: string, to: string, message: string])[] = [
  [
    'a misspelt quantity',
    'measures: dc-volts',
    'measures: dc-volt',
    `${B}:16 instruments.meter.channels.volts.measures: found "dc-volt"; dc-volts, ac-volts, dc-amps, ac-amps, ohms, temperature, frequency is allowed; did you mean dc-volts?`,
  ],
  [
    'a misspelt kind of link',
    'serial: /dev/ttyUSB0',
    'seriel: /dev/ttyUSB0',
    `${B}:10 instruments.meter.link.seriel: this key is unknown here; did you mean serial?`,
  ],
  [
    'two kinds of link at once',
    'serial: /dev/ttyUSB0',
    'tcp: cabin:5025\n      serial: /dev/ttyUSB0',
    `${B}:10 instruments.meter.link.tcp: doesn't go with the keys beside it; leave it out`,
  ],
  [
    'a USB id with a hyphen',
    'serial: /dev/ttyUSB0',
    'usb: 1a86-7523',
    `${B}:10 instruments.meter.link.usb: found "1a86-7523"; vendor:product or vendor:product:serial in hexadecimal, 1a86:7523 for example, is allowed`,
  ],
  [
    'a speed in words',
    'baud: 9600',
    'baud: fast',
    `${B}:11 instruments.meter.link.baud: found "fast"; a positive number of baud is allowed`,
  ],
  [
    'half a count',
    'counts: 3',
    'counts: 2.5',
    `${B}:20 instruments.meter.channels.volts.accuracy.counts: found 2.5; a whole number of counts is allowed`,
  ],
  [
    'a number for a driver',
    'driver: scpi-meter',
    'driver: 5',
    `${B}:8 instruments.meter.driver: found 5; the name of a driver, scpi-meter or text-lines for example (1 to 120 characters) is allowed`,
  ],
];

describe('a bench that the schema refuses', () => {
  it.each(BENCHES)('%s', (_title, from, to, message) => {
    expect(benchMessage(from, to)).toBe(message);
  });
});
