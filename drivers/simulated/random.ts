/** Seeded random numbers: the same seed gives the same sequence on every machine. */
export interface RandomSource {
  /** Evenly spread over [0, 1). */
  uniform(): number;
  /** Normal with mean 0 and standard deviation 1. */
  normal(): number;
}

/** The `mulberry32` generator (public domain), with the Box-Muller transform for normal numbers. */
export function seededRandom(seed: number): RandomSource {
  let state = (Math.imul(seed | 0, 0x9e3779b1) + 0x6d2b79f5) | 0;
  function uniform(): number {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  }
  return {
    uniform,
    normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
  };
}
