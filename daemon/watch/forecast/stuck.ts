/** How long a temperature has read exactly the same, and what its readings did before. Plain data. */
export interface Standing {
  readonly lastC: number | null;
  readonly sinceMs: number;
  /** Readings in a row that are the same. */
  readonly run: number;
  /** K per s, as it was expected when they began. */
  readonly slopeKPerS: number;
  /** As it was known then: what stands still bends the curve that is learnt from it. */
  readonly timeConstantS: number;
  /** The least by which two readings differed, K: one count of the probe; null before any did. */
  readonly countK: number | null;
  readonly steps: number;
  /** K, of the newest that differed. */
  readonly stepK: number;
  /** Steps back by two counts or more, as a share of the newest readings: noise that no place between two counts hides. */
  readonly wide: number;
}

export const NOT_STANDING: Standing = {
  lastC: null,
  sinceMs: 0,
  run: 0,
  slopeKPerS: 0,
  timeConstantS: 0,
  countK: null,
  steps: 0,
  stepK: 0,
  wide: 0,
};

const NEWEST_SHARE = 0.02;
/** Longer runs say nothing of the noise. */
const LONGEST_OF_NOISE = 4;
const STEPS_TO_KNOW = 60;
/** Noise of half a count makes so many steps wide, and a reading the one before with no more than this probability. */
const NOISY = 0.08;
const SAME = 0.68;
/** No warm-up has so rare a run (natural logarithm). */
const RARE = 18;
const SHORTEST_MS = 15_000;
const FEWEST = 8;
/** Counts that the part must have moved by, and by which the reading didn't. */
const COUNTS = 6;

/** One more reading; `slopeKPerS` is what is expected of the part now. */
export function hearStanding(
  before: Standing,
  atMs: number,
  celsius: number,
  slopeKPerS: number,
  timeConstantS: number,
): Standing {
  const { lastC, run, countK, steps, wide } = before;
  if (lastC === celsius) {
    return { ...before, run: run + 1, wide: run < LONGEST_OF_NOISE ? (1 - NEWEST_SHARE) * wide : wide };
  }
  const stepK = lastC === null ? 0 : celsius - lastC;
  const least = lastC === null ? countK : Math.min(Math.abs(stepK), countK ?? Infinity);
  const isBack = stepK * before.stepK < 0 && least !== null && Math.abs(stepK) > 1.5 * least;
  return {
    lastC: celsius,
    sinceMs: atMs,
    run: 1,
    slopeKPerS,
    timeConstantS,
    countK: least,
    steps: steps + 1,
    stepK,
    wide: wide + NEWEST_SHARE * ((isBack ? 1 : 0) - wide),
  };
}

/**
 * Whether the reading stands still though its noise or the part's own course moves it. A coarse probe may stand on one
 * count for as long as it likes where the part has settled: then neither tells.
 */
export function isStuck(standing: Standing, atMs: number): boolean {
  return standing.run >= FEWEST && atMs - standing.sinceMs >= SHORTEST_MS && standsOut(standing, atMs, 1);
}

/** Whether it may come to that: half as much is enough. */
export function mayBeStuck(standing: Standing, atMs: number): boolean {
  return standsOut(standing, atMs, 0.5);
}

function standsOut(standing: Standing, atMs: number, share: number): boolean {
  const { run, sinceMs, slopeKPerS, timeConstantS, countK, steps, wide } = standing;
  if (countK === null) return false;
  if (steps > STEPS_TO_KNOW && wide > NOISY && -run * Math.log(SAME) > share * RARE) return true;
  const standS = (atMs - sinceMs) / 1000;
  const movedK = Math.abs(slopeKPerS) * timeConstantS * (1 - Math.exp(-standS / timeConstantS));
  return movedK > share * COUNTS * countK;
}
