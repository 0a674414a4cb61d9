/** One dimension of the sequence after the first: its primitive polynomial and the odd numbers it starts from. */
interface Direction {
  /** Coefficients between the leading and the trailing 1, as bits. */
  readonly polynomial: number;
  /** As many as the polynomial's degree. */
  readonly start: readonly number[];
}

/**
 * Dimensions 2 to 37: every primitive polynomial up to degree seven. S. Joe and F. Y. Kuo, Constructing Sobol
 * sequences with better two-dimensional projections, SIAM J. Sci. Comput. 30 (2008) 2635-2654, table "D(6)".
 */
export const DIRECTIONS: readonly Direction[] = [
  { polynomial: 0, start: [1] },
  { polynomial: 1, start: [1, 3] },
  { polynomial: 1, start: [1, 3, 1] },
  { polynomial: 2, start: [1, 1, 1] },
  { polynomial: 1, start: [1, 1, 3, 3] },
  { polynomial: 4, start: [1, 3, 5, 13] },
  { polynomial: 2, start: [1, 1, 5, 5, 17] },
  { polynomial: 4, start: [1, 1, 5, 5, 5] },
  { polynomial: 7, start: [1, 1, 7, 11, 19] },
  { polynomial: 11, start: [1, 1, 5, 1, 1] },
  { polynomial: 13, start: [1, 1, 1, 3, 11] },
  { polynomial: 14, start: [1, 3, 5, 5, 31] },
  { polynomial: 1, start: [1, 3, 3, 9, 7, 49] },
  { polynomial: 13, start: [1, 1, 1, 15, 21, 21] },
  { polynomial: 16, start: [1, 3, 1, 13, 27, 49] },
  { polynomial: 19, start: [1, 1, 1, 15, 7, 5] },
  { polynomial: 22, start: [1, 3, 1, 15, 13, 25] },
  { polynomial: 25, start: [1, 1, 5, 5, 19, 61] },
  { polynomial: 1, start: [1, 3, 7, 11, 23, 15, 103] },
  { polynomial: 4, start: [1, 3, 7, 13, 13, 15, 69] },
  { polynomial: 7, start: [1, 1, 3, 13, 7, 35, 63] },
  { polynomial: 8, start: [1, 3, 5, 9, 1, 25, 53] },
  { polynomial: 14, start: [1, 3, 1, 13, 9, 35, 107] },
  { polynomial: 19, start: [1, 3, 1, 5, 27, 61, 31] },
  { polynomial: 21, start: [1, 1, 5, 11, 19, 41, 61] },
  { polynomial: 28, start: [1, 3, 5, 3, 3, 13, 69] },
  { polynomial: 31, start: [1, 1, 7, 13, 1, 19, 1] },
  { polynomial: 32, start: [1, 3, 7, 5, 13, 19, 59] },
  { polynomial: 37, start: [1, 1, 3, 9, 25, 29, 41] },
  { polynomial: 41, start: [1, 3, 5, 13, 23, 1, 55] },
  { polynomial: 42, start: [1, 3, 7, 3, 13, 59, 17] },
  { polynomial: 50, start: [1, 3, 1, 3, 5, 53, 69] },
  { polynomial: 55, start: [1, 1, 5, 5, 23, 33, 13] },
  { polynomial: 56, start: [1, 1, 7, 7, 1, 61, 123] },
  { polynomial: 59, start: [1, 1, 7, 9, 13, 61, 49] },
  { polynomial: 62, start: [1, 3, 3, 5, 3, 55, 33] },
];
