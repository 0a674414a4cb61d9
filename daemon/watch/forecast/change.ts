import {
  AIR_LAGS,
  fillAnswer,
  fillWayToAir,
  LEAST_LIFTED_K,
  prepareAnswers,
  prepareWaysToAir,
  type Response,
} from './answers.js';
import {
  CELSIUS,
  fitCourse,
  matchOf,
  momentOf,
  row,
  type Course,
  type Match,
  type Older,
} from './course-fit.js';
import type { Block } from './fit.js';
import { LESS, MORE, nameChange } from './naming.js';

/** What made a temperature leave its curve. */
export type Change = 'heats-more' | 'heats-less' | 'switched-off' | 'sensor-lifted' | 'stuck';

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
  /** By which its name is ahead of the second best, of the same kind. */
  readonly ahead: number;
  /** The curve's shape isn't known well yet. */
  readonly isYoung: boolean;
  /** It may have begun before the oldest moment that is looked at. */
  readonly isOldest: boolean;
  /** Since then: after a gap there are few. */
  readonly blocks: number;
}

/** Nothing older is found any more, s. */
const LONGEST_BACK_S = 32;
const BLOCKS_BEFORE = 4;
const YOUNG_MS = 150_000;
/** Of the way that the slowest bead comes, so that noise hides no fall. */
const FALLEN_SHARE = 0.4;
/** No power left, and what the answer was learnt wrong by. */
const LEAST_POWER = -1.2;

/** How much of its pattern an explanation may take. */
interface Explanation {
  readonly change: Change;
  readonly least: number;
  readonly most: number;
}
const BY_POWER: readonly Explanation[] = [
  { change: 'heats-more', ...MORE },
  { change: 'heats-less', ...LESS, least: LEAST_POWER },
];
const BY_AIR: Explanation = { change: 'sensor-lifted', least: 0.9, most: 1.1 };

interface Found {
  readonly change: Change;
  readonly gain: number;
  readonly amount: number;
  /** First block after it. */
  readonly place: number;
}

const pattern = row();
/** Gain from which a change is named. */
const WORTH_A_NAME = 16;

/**
 * Generalised likelihood ratio (M. Basseville and I. Nikiforov, Detection of Abrupt Changes, section 2.4): for every
 * moment at which something may have happened, the newest blocks (at most `MOST_BLOCKS`) are compared with the part's
 * own course going on, and with the same plus its answer to more, less or no power, or plus a bead's way to the air.
 * `varianceK2` is of one block.
 */
export function findChange(
  older: readonly Older[],
  blocks: readonly Block[],
  response: Response,
  course: Course,
  airC: number,
  varianceK2: number,
): Finding | null {
  fitCourse(older, blocks, course);
  const found = new Map<Change, Found>();
  const count = older.length + blocks.length;
  let first = older.length + BLOCKS_BEFORE;
  while (first < count && -momentOf(first) > LONGEST_BACK_S) first += 1;
  prepareAnswers(response, first, count);
  let isAirReady = false;
  for (let place = first; place < count; place += 1) {
    const momentS = momentOf(place);
    fillAnswer(pattern, response, place, count, momentS);
    const match = matchOf(pattern, place, count);
    for (const explanation of BY_POWER) keepBetter(found, explanation, match, place);
    const overAir = CELSIUS[place - 1]! - airC;
    if (overAir < LEAST_LIFTED_K || !hasFallen(place, count, overAir)) continue;
    if (!isAirReady) prepareWaysToAir(first, count);
    isAirReady = true;
    for (let lag = 0; lag < AIR_LAGS.length; lag += 1) {
      fillWayToAir(pattern, overAir, lag, place, count, momentS);
      keepBetter(found, BY_AIR, matchOf(pattern, place, count), place);
    }
  }
  const [likeliest] = [...found.values()].toSorted((a, b) => b.gain - a.gain);
  if (likeliest === undefined) return null;
  const gain = likeliest.gain / varianceK2;
  const named =
    gain < WORTH_A_NAME ? [] : nameChange({ response, airC, likeliest, varianceK2, first, count });
  const best = named[0] ?? { ...likeliest, score: gain };
  const lastMs = blocks.at(-1)!.atMs;
  return {
    change: best.change,
    atMs: lastMs + 1000 * momentOf(best.place),
    celsius: CELSIUS[best.place - 1]!,
    added: best.amount,
    gain,
    ahead: best.score - (named[1]?.score ?? 0),
    isYoung: lastMs - course.sinceMs < YOUNG_MS,
    isOldest: best.place === first,
    blocks: count - best.place,
  };
}

/** A bead in air has come nearer to it: most of them by 1 - exp(-t/lag), which is more than t / (t + lag). */
function hasFallen(place: number, count: number, overAirK: number): boolean {
  const passedS = -momentOf(place);
  const fallenK = CELSIUS[place - 1]! - CELSIUS[count - 1]!;
  return fallenK > (FALLEN_SHARE * overAirK * passedS) / (passedS + AIR_LAGS.at(-1)!);
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
