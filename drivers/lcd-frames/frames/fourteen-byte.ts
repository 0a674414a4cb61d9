import type { Cell, DisplayLayout, Segment } from '../layout.js';

/**
 * The frame of 14 bytes that many handheld meters with four digits and a serial or opto cable send, at 2400 baud,
 * two to four times a second. Written from memory: check each symbol on the meter at hand before trusting it. The
 * frame has no check sum.
 */
export const FOURTEEN_BYTE: DisplayLayout = {
  bytes: 14,
  minus: [2, 3],
  digits: [digitAt(2), digitAt(4), digitAt(6), digitAt(8)],
  points: [
    { cell: [4, 3], decimals: 3 },
    { cell: [6, 3], decimals: 2 },
    { cell: [8, 3], decimals: 1 },
  ],
  symbols: {
    ac: [1, 3],
    dc: [1, 2],
    micro: [10, 3],
    nano: [10, 2],
    kilo: [10, 1],
    diode: [10, 0],
    milli: [11, 3],
    percent: [11, 2],
    mega: [11, 1],
    farad: [12, 3],
    ohm: [12, 2],
    relative: [12, 1],
    hold: [12, 0],
    ampere: [13, 3],
    volt: [13, 2],
    hertz: [13, 1],
    'battery-low': [13, 0],
  },
  free: [
    [14, 0],
    [14, 1],
    [14, 2],
    [14, 3],
  ],
};

/** A digit takes three bits of one byte and four of the next. */
function digitAt(byte: number): Readonly<Record<Segment, Cell>> {
  return {
    a: [byte, 0],
    f: [byte, 1],
    e: [byte, 2],
    b: [byte + 1, 0],
    g: [byte + 1, 1],
    c: [byte + 1, 2],
    d: [byte + 1, 3],
  };
}
