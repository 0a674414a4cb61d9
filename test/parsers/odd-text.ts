import fc from 'fast-check';

/** Pieces that mean something to one parser or another. */
const PIECES = [
  ...' \t\r\n,;:.+-#"\'{}[]()|/\\%&=<>@!?*~0123456789abcdefxVACEkmµΩ°',
  '\u0000',
  '\u0007',
  '\u00a0',
  '\u202e',
  '\ufffd',
  '\ud800',
  '🚂',
  'OL',
  'NaN',
  'Infinity',
  '9.9E37',
  '1e400',
  'mV',
  'VAC',
  'degF',
  '{...}',
  '{a}',
  '#9000000004',
  '#0',
  '../',
  '%2e%2e%2f',
  '%00',
  '__proto__',
  'constructor',
  '"kind"',
  '99999999999999999999',
];

/** Text of pieces that parsers look for, of anything, and very long. */
export const oddText: fc.Arbitrary<string> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.array(fc.constantFrom(...PIECES), { maxLength: 40 }).map((pieces) => pieces.join('')),
  },
  { weight: 2, arbitrary: fc.string({ unit: 'binary', maxLength: 60 }) },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.constantFrom(...PIECES), fc.integer({ min: 1, max: 5000 }))
      .map(([piece, times]) => piece.repeat(times)),
  },
);

/** The same as bytes, and bytes of any kind. */
export const oddBytes: fc.Arbitrary<Uint8Array> = fc.oneof(
  oddText.map((text) => new Uint8Array(Buffer.from(text))),
  fc.uint8Array({ maxLength: 400 }),
);

/** Anything that YAML or JSON can say, with keys that options have. */
export function oddOptions(keys: readonly string[]): fc.Arbitrary<unknown> {
  const value = fc.oneof(
    oddText,
    fc.double(),
    fc.boolean(),
    fc.constant(null),
    fc.jsonValue({ maxDepth: 3 }),
  );
  return fc.oneof(
    fc.jsonValue({ maxDepth: 4 }),
    fc.dictionary(fc.constantFrom(...keys, '__proto__', 'constructor'), value, { maxKeys: 5 }),
  );
}
