import {
  AIR_LAGS,
  fillAnswer,
  fillWayToAir,
  LEAST_LIFTED_K,
  prepareWaysToAir,
  type Response,
} from './answers.js';
import type { Change } from './change.js';
import { CELSIUS, matchOf, momentOf, row, SECONDS } from './course-fit.js';

/** An explanation of the newest blocks, with the moment that suits it best. */
export interface Named {
  readonly change: Change;
  /** First block after it. */
  readonly place: number;
  /** Power added, as a share of the power before; of a bead that came off, its share of the way to the air. */
  readonly amount: number;
  /** Twice the logarithm of how much more likely it makes the blocks, whatever isn't known of it. */
  readonly score: number;
}

/** Where to look, and what is known. */
export interface Question {
  readonly response: Response;
  readonly airC: number;
  /** As it looks while the answer is taken for known. */
  readonly likeliest: Pick<Named, 'change' | 'place' | 'amount'>;
  /** Of a block, K². */
  readonly varianceK2: number;
  /** First place that is tried, and how many blocks there are in all. */
  readonly first: number;
  readonly count: number;
}

/** So well the heat is learnt that a part takes, as a share: no power left looks like -1, give or take this. */
const OFF = { middle: -1, deviation: 0.12 };
/** A bead that came off goes all the way to the air, but for what the air is known wrong by. */
const TO_THE_AIR = { middle: 1, deviation: 0.07 };
/** Of what is left of it a fifth at least: less is none, as far as anybody can tell. */
export const LESS = { least: -0.8, most: -0.02 };
export const MORE = { least: 0.02, most: 4 };
/** What the case's rise over its heatsink is learnt wrong by: some tenths, and of a large one so much more, K and a share. */
const FAST_K = 0.3;
const FAST_SHARE = 0.08;
/** What any answer's shape is wrong by, as a share of how far it has led. */
const SHAPE_SHARE = 0.02;

const pattern = row();
const quick = row();
const both = row();

/**
 * The probability of the blocks under each explanation, with what isn't known of it integrated out (C. Bishop, Pattern
 * Recognition, section 3.4): how much power, and what the quick part of the answer was learnt wrong by. Likeliest first.
 */
export function nameChange(given: Question): readonly Named[] {
  const strayK = SHAPE_SHARE * ledBy(given);
  const question = { ...given, varianceK2: given.varianceK2 + strayK * strayK };
  const best = new Map<Change, Named>();
  const keep = (named: Named): void => {
    if (named.score > (best.get(named.change)?.score ?? -Infinity)) best.set(named.change, named);
  };
  prepareWaysToAir(question.first, question.count);
  for (let place = question.first; place < question.count; place += 1) {
    byPower(question, place).forEach(keep);
    byAir(question, place).forEach(keep);
  }
  return [...best.values()].toSorted((a, b) => b.score - a.score);
}

/** How far it has led so far, K. */
function ledBy({ likeliest: { change, place, amount }, response, count }: Question): number {
  if (change === 'sensor-lifted') return CELSIUS[count - 1]! - CELSIUS[place - 1]!;
  fillAnswer(pattern, response, place, count, momentOf(place));
  return amount * pattern[count - 1]!;
}

/** Twice the logarithm of a likelihood over an amount a: base + 2·slope·a - curve·a². */
interface Likelihood {
  readonly base: number;
  readonly slope: number;
  readonly curve: number;
}

function byPower({ response, likeliest, varianceK2, count }: Question, place: number): readonly Named[] {
  const momentS = momentOf(place);
  fillAnswer(pattern, response, place, count, momentS);
  const likelihood = withoutQuick(place, count, {
    momentS,
    lagS: response.lagS,
    missedK: Math.abs(likeliest.amount) * Math.hypot(FAST_K, FAST_SHARE * response.fastK),
    varianceK2,
  });
  return [
    { change: 'heats-more', place, ...anyOf(likelihood, MORE) },
    { change: 'heats-less', place, ...anyOf(likelihood, LESS) },
    { change: 'switched-off', place, ...near(likelihood, OFF) },
  ];
}

interface Quick {
  readonly momentS: number;
  readonly lagS: number;
  /** Deviation of what the answer was learnt wrong by, K. */
  readonly missedK: number;
  readonly varianceK2: number;
}

/** Of an amount of `pattern`, where anything may be wrong that comes and stays with the probe's lag. */
function withoutQuick(
  place: number,
  count: number,
  { momentS, lagS, missedK, varianceK2 }: Quick,
): Likelihood {
  for (let at = place; at < count; at += 1) {
    quick[at] = 1 - Math.exp((momentS - SECONDS[at]!) / lagS);
    both[at] = pattern[at]! + quick[at]!;
  }
  const whole = matchOf(pattern, place, count);
  const fast = matchOf(quick, place, count);
  const product = (matchOf(both, place, count).withItself - whole.withItself - fast.withItself) / 2;
  const shrunk = varianceK2 / (missedK * missedK);
  const divisor = fast.withItself + shrunk;
  return {
    base: fast.withBlocks ** 2 / (divisor * varianceK2) - Math.log(divisor / shrunk),
    slope: (whole.withBlocks - (product * fast.withBlocks) / divisor) / varianceK2,
    curve: Math.max(1e-9, (whole.withItself - product ** 2 / divisor) / varianceK2),
  };
}

function byAir({ airC, varianceK2, count }: Question, place: number): readonly Named[] {
  const overAirK = CELSIUS[place - 1]! - airC;
  if (overAirK < LEAST_LIFTED_K) return [];
  const momentS = momentOf(place);
  return AIR_LAGS.map((_, lag) => {
    fillWayToAir(pattern, overAirK, lag, place, count, momentS);
    const { withBlocks, withItself } = matchOf(pattern, place, count);
    const likelihood = { base: 0, slope: withBlocks / varianceK2, curve: withItself / varianceK2 };
    const { amount, score } = near(likelihood, TO_THE_AIR);
    return { change: 'sensor-lifted', place, amount, score: score - 2 * Math.log(AIR_LAGS.length) };
  });
}

/** With a normal prior on the amount. */
function near(
  { base, slope, curve }: Likelihood,
  { middle, deviation }: typeof OFF,
): Pick<Named, 'amount' | 'score'> {
  const prior = 1 / (deviation * deviation);
  const amount = (slope + middle * prior) / (curve + prior);
  const off = amount - middle;
  const gain = amount * (2 * slope - curve * amount) - off * off * prior;
  return { amount, score: base + gain - Math.log(1 + curve / prior) };
}

/** With a uniform prior, by the height of its peak within. */
function anyOf(
  { base, slope, curve }: Likelihood,
  { least, most }: typeof LESS,
): Pick<Named, 'amount' | 'score'> {
  const amount = Math.min(most, Math.max(least, slope / curve));
  const gain = amount * (2 * slope - curve * amount);
  const spread = (2 * Math.PI) / curve / (most - least) ** 2;
  return { amount, score: base + gain + Math.min(0, Math.log(spread)) };
}
