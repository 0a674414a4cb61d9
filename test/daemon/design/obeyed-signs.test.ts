import { expect, it } from 'vitest';
import { obeyedSign, plainJson, withoutObeyed } from '../../../daemon/design/obeyed-signs.js';

// ECMA-48: C0 5.2, C1 5.3, DELETE. UAX #9: embeddings and overrides 2.1 and 2.2, isolates 2.3.
const OBEYED = [
  '\0',
  '\b',
  '\f',
  '\r',
  '\u001b',
  '\u007f',
  '\u0085',
  '\u009b',
  '\u202a',
  '\u202e',
  '\u2066',
  '\u2069',
];
const SHOWN = [
  '',
  'a line\nand another\r\nwith a\ttab',
  'Überhöhung 4,7 kΩ ± 5 %',
  '\u200d\u200c',
  '\ud83d\udd0c',
  '\\u001b',
];

it.each(OBEYED.map((sign) => [JSON.stringify(sign), sign]))('%s is shown as a dot', (_, sign) => {
  expect(obeyedSign(`lamps${sign}`)).toBe(
    `U+${sign.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`,
  );
  expect(withoutObeyed(`la${sign}mps`)).toBe('la·mps');
  expect(plainJson(JSON.stringify({ [`a${sign}`]: [`b${sign}`, 1] }))).toEqual({ 'a·': ['b·', 1] });
});

it.each(SHOWN.map((text) => [text]))('%j stays as it is', (text) => {
  expect(obeyedSign(text)).toBeNull();
  expect(withoutObeyed(text)).toBe(text);
  expect(plainJson(` ${JSON.stringify({ [text]: text, b: '\u0001' })}\r`)).toEqual({ [text]: text, b: '·' });
});

it.each(['{"a":"\\u00"}', '{"a":"\\u001b', '{"a":"\\u001b\\x"}', '\u001b'])('%j is no JSON', (text) => {
  expect(() => plainJson(text)).toThrow(SyntaxError);
});
