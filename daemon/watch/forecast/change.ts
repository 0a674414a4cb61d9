import { CELSIUS, fitCourse, matchOf, MOST_BLOCKS, SECONDS, type Course, type Match } from './course-fit.js';
import { addedBySlope } from './power-left.js';
import type { Block } from './fit.js';

/** What made a temperature leave its curve. */
export type Change = 'heats-more' | 'heats-less' | 'switched-off' | 'sensor-lifted';

/** How the probe answers to the part's power, as learnt from its warming. */
export interface Response {
  /** How fast the heat would warm the cold part, K/s. */
  readonly heatKPerS: number;
  /** How far the case rises over its heatsink at once, K. */
  readonly fastK: number;
  readonly lagS: number;
  readonly timeConstantS: number;
}

/** A change that explains the newest blocks better than none. */
export interface Finding {
  readonly change: Change;
  /** When it happened, ms. */
  readonly atMs: number;
  /** What the probe showed then, degrees C. */
  readonly celsius: number;
  /** Power added, as a share of the power before. */
  readonly added: number;
  /** Twice the logarithm of how much more likely it makes the blocks. */
  readonly gain: number;
  /** The same of the second best explanation. */
  readonly second: number;
  /** The curve's shape isn't known well yet. */
  readonly isYoung: boolean;
}

/** Nothing older is found any more, s. */
const LONGEST_BACK_S = 32;
const BLOCKS_BEFORE = 4;
const YOUNG_MS = 150_000;
/** A bead in air follows with 7 to 26 s (common practice). */
const AIR_LAGS = [7, 10, 15, 22] as const;
const LEAST_LIFTED_K = 6;
const LEAST_SHARE = 0.02;
/** Where less than a quarter of the power is left, nothing is, but for what the answer was learnt wrong by. */
const OFF = -0.79;
/** Nearer to it than this the name is not clear yet. */
const NEAR_OFF = 0.09;
/** So much power is left that the slope needn't be asked. */
const CLEARLY_SOME = -0.5;
/** Of the share that is left; the whole answer has the rest. */
const SAY_OF_SLOPE = 0.25;
const SHORTEST_S = 20;

/** How much of its pattern an explanation may take. */
interface Explanation {
  readonly change: Change;
  readonly least: number;
  readonly most: number;
}
const BY_POWER: readonly Explanation[] = [
  { change: 'heats-more', least: LEAST_SHARE, most: 4 },
  { change: 'heats-less', least: OFF, most: -LEAST_SHARE },
  { change: 'switched-off', least: -1.2, most: OFF },
];
const BY_AIR: Explanation = { change: 'sensor-lifted', least: 0.9, most: 1.1 };

interface Found {
  readonly change: Change;
  readonly gain: number;
  readonly amount: number;
  /** First block after it. */
  readonly place: number;
}

const pattern = new Float64Array(MOST_BLOCKS);
/** Gain from which a change is named. */
const WORTH_A_NAME = 20;

/**
 * Generalised likelihood ratio (M. Basseville and I. Nikiforov, Detection of Abrupt Changes, section 2.4): for every
 * moment at which something may have happened, the newest blocks (at most `MOST_BLOCKS`) are compared with the part's
 * own course going on, and with the same plus its answer to more, less or no power, or plus a bead's way to the air.
 * `varianceK2` is of one block.
 */
export function findChange(
  blocks: readonly Block[],
  response: Response,
  course: Course,
  airC: number,
  varianceK2: number,
): Finding | null {
  fitCourse(blocks, course);
  const found = new Map<Change, Found>();
  for (let place = BLOCKS_BEFORE; place < blocks.length; place += 1) {
    const atS = momentOf(place);
    if (-atS > LONGEST_BACK_S) continue;
    for (let at = place; at < blocks.length; at += 1) pattern[at] = answerAfter(response, SECONDS[at]! - atS);
    const match = matchOf(pattern, place, blocks.length);
    for (const explanation of BY_POWER) keepBetter(found, explanation, match, place);
    const overAir = CELSIUS[place - 1]! - airC;
    if (overAir < LEAST_LIFTED_K) continue;
    for (const lag of AIR_LAGS) {
      for (let at = place; at < blocks.length; at += 1) {
        pattern[at] = -overAir * (1 - Math.exp((atS - SECONDS[at]!) / lag));
      }
      keepBetter(found, BY_AIR, matchOf(pattern, place, blocks.length), place);
    }
  }
  nameByPowerLeft(found, response, blocks.length, varianceK2);
  const [first, second] = [...found.values()].toSorted((a, b) => b.gain - a.gain);
  if (first === undefined) return null;
  const lastMs = blocks.at(-1)!.atMs;
  return {
    change: first.change,
    atMs: lastMs + 1000 * momentOf(first.place),
    celsius: CELSIUS[first.place - 1]!,
    added: first.amount,
    gain: first.gain / varianceK2,
    second: (second?.gain ?? 0) / varianceK2,
    isYoung: lastMs - course.sinceMs < YOUNG_MS,
  };
}

/**
 * Less or no power left: the quick part of the answer was learnt from few seconds, so the slope that follows has a say of
 * its own. Near the edge neither is ahead, until there are more blocks.
 */
function nameByPowerLeft(
  found: Map<Change, Found>,
  response: Response,
  count: number,
  varianceK2: number,
): void {
  const [less, off] = [found.get('heats-less'), found.get('switched-off')];
  if (less === undefined || off === undefined) return;
  const better = less.gain > off.gain ? less : off;
  if (better.gain < WORTH_A_NAME * varianceK2 || better.amount > CLEARLY_SOME) return;
  const { place } = better;
  const momentS = momentOf(place);
  for (let at = place; at < count; at += 1) pattern[at] = answerAfter(response, SECONDS[at]! - momentS);
  const { lagS, fastK } = response;
  const bySlope = addedBySlope(pattern, { place, count, momentS, lagS, fastK, varianceK2 });
  if (bySlope === null) return;
  const amount = better.amount + SAY_OF_SLOPE * (bySlope - better.amount);
  const [named, other] = amount < OFF ? [off, less] : [less, off];
  const isNear = Math.abs(amount - OFF) < NEAR_OFF;
  found.set(named.change, { ...better, change: named.change, amount });
  // Of equals the first one wins.
  found.delete(other.change);
  found.set(other.change, { ...other, gain: isNear ? better.gain : Math.min(less.gain, off.gain) });
}

/** Midway between two blocks, s before the newest. */
function momentOf(place: number): number {
  return (SECONDS[place - 1]! + SECONDS[place]!) / 2;
}

function keepBetter(
  found: Map<Change, Found>,
  { change, least, most }: Explanation,
  { withBlocks, withItself }: Match,
  place: number,
): void {
  if (withItself < 1e-9) return;
  const amount = Math.min(most, Math.max(least, withBlocks / withItself));
  const gain = amount * (2 * withBlocks - amount * withItself);
  if (gain > (found.get(change)?.gain ?? 0)) found.set(change, { change, gain, amount, place });
}

/** Of the probe, K, `seconds` after all the power came on: two lags in a row (any text on control). */
function answerAfter({ heatKPerS, fastK, lagS, timeConstantS }: Response, seconds: number): number {
  const lagging = Math.exp(-seconds / lagS);
  const tau = Math.max(timeConstantS, SHORTEST_S);
  const slow = 1 - (tau * Math.exp(-seconds / tau) - lagS * lagging) / (tau - lagS);
  return heatKPerS * tau * slow + fastK * (1 - lagging);
}
