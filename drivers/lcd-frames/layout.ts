/** One bit of a frame: the byte's number from 1, and its bit from 0. */
export type Cell = readonly [byte: number, bit: number];

/** The bars of a digit: a at the top, then clockwise b to f, g in the middle. */
export const SEGMENTS = ['a', 'b', 'c', 'd', 'e', 'f', 'g'] as const;
export type Segment = (typeof SEGMENTS)[number];

/** What a display can show beside its digits. */
export const DISPLAY_SYMBOLS = [
  'ac',
  'dc',
  'nano',
  'micro',
  'milli',
  'kilo',
  'mega',
  'volt',
  'ampere',
  'ohm',
  'hertz',
  'farad',
  'percent',
  'diode',
  'hold',
  'relative',
  'battery-low',
] as const;
export type DisplaySymbol = (typeof DISPLAY_SYMBOLS)[number];

/**
 * Where a meter that sends what its display shows puts each bar and symbol. Every byte carries its own number, from 1,
 * in the high half and four bars or symbols in the low half.
 */
export interface DisplayLayout {
  /** How many bytes a frame has; 15 at most, as the number has four bits. */
  readonly bytes: number;
  readonly minus: Cell;
  /** From left to right. */
  readonly digits: readonly Readonly<Record<Segment, Cell>>[];
  /** Decimal points, and how many digits stand behind each. */
  readonly points: readonly { readonly cell: Cell; readonly decimals: number }[];
  readonly symbols: Readonly<Record<DisplaySymbol, Cell>>;
  /** Symbols that each maker uses as he likes, for degrees C among others. */
  readonly free: readonly Cell[];
}
