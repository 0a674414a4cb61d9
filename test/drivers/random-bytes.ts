/** The same `length` bytes for the same `seed` (mulberry32, a public-domain generator of 32-bit numbers). */
export function randomBytes(seed: number, length: number): Uint8Array {
  let state = seed >>> 0;
  return Uint8Array.from({ length }, () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return (mixed ^ (mixed >>> 14)) & 0xff;
  });
}
