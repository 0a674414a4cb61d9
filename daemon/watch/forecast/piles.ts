import type { Block, WarmingFit } from './fit.js';
import type { StepNoise } from './noise-of-steps.js';

/** Values that wait to be averaged. */
export interface Pile {
  readonly sinceMs: number;
  readonly count: number;
  readonly firstC: number;
  readonly sumC: number;
  /** Of the times since `sinceMs`. */
  readonly sumMs: number;
}

export const SHORT_BLOCK_MS = 2000;
const LONGEST_BLOCK_MS = 30_000;
/** Of the age of a warming: later it has less news in a second. */
const BLOCK_SHARE = 0.03;
/** The curves aren't exact, whatever the probe resolves, K. */
const MODEL_K = 0.06;

const empty = (atMs: number, firstC: number): Pile => ({
  sinceMs: atMs,
  count: 0,
  firstC,
  sumC: 0,
  sumMs: 0,
});

export function piled(pile: Pile | null, atMs: number, celsius: number): Pile {
  const { sinceMs, count, firstC, sumC, sumMs } = pile ?? empty(atMs, celsius);
  return { sinceMs, count: count + 1, firstC, sumC: sumC + celsius, sumMs: sumMs + (atMs - sinceMs) };
}

/** A block of readings with this noise and this count of the probe, K. */
export function shortBlockOf(pile: Pile, noise: StepNoise, resolutionK: number): Block {
  const variance = noise.variance / pile.count + repeatedVariance(noise, resolutionK) + MODEL_K ** 2;
  return { ...middleOf(pile), variance };
}

/** A block of short ones of equal length; `newest` stands for their noise, of which `repeatedK2` doesn't average out. */
export function blockOf(pile: Pile, newest: Block, repeatedK2: number): Block {
  const variance = (withoutModel(newest) - repeatedK2) / pile.count + repeatedK2 + MODEL_K ** 2;
  return { ...middleOf(pile), variance };
}

/**
 * What of a count's error repeats from block to block because too little noise spreads it, K²: all of a twelfth without
 * noise, next to nothing from a third of a count on. A parabola within 0.003 counts² of the sum of its harmonics (B. Widrow
 * and I. Kollár, Quantization Noise, chapter on dither), by the variance that the readings' steps show.
 */
export function repeatedVariance({ variance }: StepNoise, resolutionK: number): number {
  const square = resolutionK ** 2;
  const repeated = 1 - Math.min(1, variance / Math.max(1e-12, SPREADS * square));
  return (square / 12) * repeated * repeated;
}

const SPREADS = 0.18;

/** What the probe alone makes a short block stray by, K². */
export function withoutModel({ variance }: Block): number {
  return variance - MODEL_K ** 2;
}

export function blockMs(fit: WarmingFit, atMs: number): number {
  return Math.max(SHORT_BLOCK_MS, Math.min(LONGEST_BLOCK_MS, BLOCK_SHARE * (atMs - fit.sinceMs)));
}

function middleOf({ sinceMs, count, sumC, sumMs }: Pile): {
  readonly atMs: number;
  readonly celsius: number;
} {
  return { atMs: sinceMs + sumMs / count, celsius: sumC / count };
}
