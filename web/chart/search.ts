/** The index of the first time at or after `fromMs`, by halving. */
export function firstFrom(atMs: ArrayLike<number>, fromMs: number, count: number): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((atMs[middle] ?? Infinity) < fromMs) low = middle + 1;
    else high = middle;
  }
  return low;
}
