/** Bits of the low halves, by byte number, that light a symbol: from memory, as written on a meter's protocol sheet. */
const SYMBOL_BITS = {
  AC: [1, 0x8],
  DC: [1, 0x4],
  AUTO: [1, 0x2],
  LINK: [1, 0x1],
  minus: [2, 0x8],
  '/1000': [4, 0x8],
  '/100': [6, 0x8],
  '/10': [8, 0x8],
  u: [10, 0x8],
  n: [10, 0x4],
  k: [10, 0x2],
  diode: [10, 0x1],
  m: [11, 0x8],
  '%': [11, 0x4],
  M: [11, 0x2],
  beep: [11, 0x1],
  F: [12, 0x8],
  ohm: [12, 0x4],
  REL: [12, 0x2],
  HOLD: [12, 0x1],
  A: [13, 0x8],
  V: [13, 0x4],
  Hz: [13, 0x2],
  battery: [13, 0x1],
  free1: [14, 0x1],
  free2: [14, 0x2],
  free3: [14, 0x4],
  free4: [14, 0x8],
} as const;
export type MeterSymbol = keyof typeof SYMBOL_BITS;

/** The seven bars as one number, three bits in a digit's first byte and four in its second: from memory too. */
const BARS: Readonly<Record<string, number>> = {
  ' ': 0x00,
  '0': 0x7d,
  '1': 0x05,
  '2': 0x5b,
  '3': 0x1f,
  '4': 0x27,
  '5': 0x3e,
  '6': 0x7e,
  '7': 0x15,
  '8': 0x7f,
  '9': 0x3f,
  L: 0x68,
  '-': 0x02,
};

/** What a meter sends while its display shows these four characters and symbols. */
export function meterFrame(characters: string, ...symbols: readonly MeterSymbol[]): Uint8Array {
  const frame = Uint8Array.from({ length: 14 }, (_, index) => (index + 1) << 4);
  const light = (byte: number, bits: number): void => void (frame[byte - 1] = (frame[byte - 1] ?? 0) | bits);
  [...characters].forEach((character, index) => {
    const bars = BARS[character] ?? 0;
    light(2 * index + 2, bars >> 4);
    light(2 * index + 3, bars & 0xf);
  });
  for (const [byte, bits] of symbols.map((symbol) => SYMBOL_BITS[symbol])) light(byte, bits);
  return frame;
}
