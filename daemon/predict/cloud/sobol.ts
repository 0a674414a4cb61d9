import { DIRECTIONS } from './sobol-directions.js';

const BITS = 32;
const DIMENSIONS = DIRECTIONS.length + 1;

/**
 * Fills `column` with one dimension of a scrambled Sobol' sequence: numbers between 0 and 1, ends excluded, spread
 * far more evenly than random ones and most evenly when their count is a power of two. Any dimension from 0 on;
 * the same seed (an integer whose low 32 bits count) and dimension give the same numbers.
 *
 * Owen's nested scrambling by hashing, and a shuffled order for dimensions beyond the table: Burley, Practical
 * Hash-based Owen Scrambling, J. Computer Graphics Techniques 9 (2020), no. 4.
 */
export function fillSobol(column: Float64Array, dimension: number, seed: number): void {
  const block = Math.floor(dimension / DIMENSIONS);
  const directions = directionNumbers(dimension % DIMENSIONS);
  const orderSeed = mixBits(mixBits(seed) ^ (2 * block + 1));
  const valueSeed = mixBits(mixBits(seed) ^ (2 * dimension + 2));
  for (let draw = 0; draw < column.length; draw += 1) {
    const index = block === 0 ? draw : nestedScramble(draw, orderSeed);
    const bits = nestedScramble(sobolBits(directions, index), valueSeed);
    column[draw] = (bits + 0.5) / 2 ** BITS;
  }
}

/** The plain sequence's point `index` as a 32-bit fraction. */
export function sobolBits(directions: Uint32Array, index: number): number {
  let bits = 0;
  for (let left = index, at = 0; left !== 0; left >>>= 1, at += 1) {
    if ((left & 1) === 1) bits ^= directions[at]!;
  }
  return bits >>> 0;
}

/** Direction numbers of one dimension (0 to 36), one for each bit of an index, by the recurrence of Joe and Kuo. */
export function directionNumbers(dimension: number): Uint32Array {
  const numbers = new Uint32Array(BITS);
  const { polynomial, start } = DIRECTIONS[dimension - 1] ?? { polynomial: 0, start: [] };
  const degree = start.length;
  for (let bit = 0; bit < BITS; bit += 1) {
    if (dimension === 0) numbers[bit] = 1 << (BITS - 1 - bit);
    else if (bit < degree) numbers[bit] = start[bit]! << (BITS - 1 - bit);
    else numbers[bit] = nextDirection(numbers, bit, degree, polynomial);
  }
  return numbers;
}

function nextDirection(numbers: Uint32Array, bit: number, degree: number, polynomial: number): number {
  const oldest = numbers[bit - degree]!;
  let next = oldest ^ (oldest >>> degree);
  for (let back = 1; back < degree; back += 1) {
    if (((polynomial >>> (degree - 1 - back)) & 1) === 1) next ^= numbers[bit - back]!;
  }
  return next;
}

/** A permutation of 32-bit fractions under which each bit depends only on itself and the bits above it. */
export function nestedScramble(bits: number, seed: number): number {
  return reverseBits(mixUpwards(reverseBits(bits), seed));
}

/** Each bit of the result depends only on the bits at and below it (Laine and Karras; constants from Burley). */
function mixUpwards(bits: number, seed: number): number {
  let mixed = (bits + seed) | 0;
  mixed ^= Math.imul(mixed, 0x6c50b47c);
  mixed ^= Math.imul(mixed, 0xb82f1e52);
  mixed ^= Math.imul(mixed, 0xc7afe638);
  mixed ^= Math.imul(mixed, 0x8d22f6e6);
  return mixed;
}

function reverseBits(bits: number): number {
  let turned = ((bits >>> 1) & 0x55555555) | ((bits & 0x55555555) << 1);
  turned = ((turned >>> 2) & 0x33333333) | ((turned & 0x33333333) << 2);
  turned = ((turned >>> 4) & 0x0f0f0f0f) | ((turned & 0x0f0f0f0f) << 4);
  turned = ((turned >>> 8) & 0x00ff00ff) | ((turned & 0x00ff00ff) << 8);
  return ((turned >>> 16) | (turned << 16)) >>> 0;
}

/** The finishing mix of MurmurHash3 (public domain): neighbouring seeds become unrelated ones. */
function mixBits(bits: number): number {
  let mixed = bits + 0x9e3779b9;
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
  return (mixed ^ (mixed >>> 16)) >>> 0;
}
