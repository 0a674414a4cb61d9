import type { Response } from './answers.js';
import { findChange, type Finding } from './change.js';
import { MOST_OLDER, type Older } from './course-fit.js';
import { beginFit, type Block, type WarmingFit } from './fit.js';
import { begun, type FollowContext, type Followed, type FollowState, type Warming } from './follow-state.js';
import { restOf } from './heating.js';
import { learnAll } from './learn.js';
import { repeatedVariance, withoutModel } from './piles.js';
import { afterAChange, type WarmingPrior } from './prior.js';

/** Gains (see `Finding`) that make a curve doubtful, and that tell that it was left. */
const DOUBTED = 18;
const CERTAIN = 24;
/** While its shape is young, the shape may be wrong by so much of the power. */
const CERTAIN_YOUNG = 60;
const CERTAIN_ONCE_LEFT = 20;
const DENSE_MS = 3000;
const SHARE_YOUNG = 0.22;
/** Twice the logarithm of the odds at which a name is clear: some fifty to one. */
const CLEAR = 8;
const YOUNG_MS = 150_000;
const SHORTEST_WAIT_MS = 9000;
const LONGEST_WAIT_MS = 20_000;
/** The first blocks after a gap don't show yet how it goes on. */
const FEWEST_SINCE = 4;
/** Of the probe's own lag at the start. */
const SETTLING_MS = 12_000;
const FEWEST_BLOCKS = 7;
/** The newest curve that explains the blocks, of time constants and at most and at least, ms. */
const REACH_SHARE = 0.8;
const LONGEST_REACH_MS = 120_000;
const SHORTEST_REACH_MS = 60_000;
/** Within two minutes no curve strays from its own shape by more, K. */
const STRAY_K = 0.035;
/** Older blocks are looked at for so many time constants more; once so many have passed, all since then. */
const OLDER_SHARE = 0.32;
const SETTLED = 4;
const LONGEST_SETTLED_S = 300;
/** An error that is repeated from block to block looks like a change this much more. */
const REPEATED = 5;
/** After a change nothing is said of limits for so long, ms; in doubt until so long after. */
const HUSH_MS = 16_000;
const DOUBT_MS = 8000;
/** How well the new rise is known from the old one, where a change of cooling may look like one of power. */
const RISE_SHARE = 0.5;
const LEAST_RISE_K = 5;

/** What the newest short blocks say of a change. */
export interface Suspicion {
  readonly finding: Finding;
  /** What the part answered like before it. */
  readonly response: Response;
  readonly isCertain: boolean;
  /** Its cause is known as well as it will be. */
  readonly isClear: boolean;
}

/** Null where nothing can be said, or nothing has changed. Every other short block is enough until one is suspect. */
export function suspicionOf(
  state: FollowState,
  { newestShorts, fit, course, past, anewMs }: Warming,
  context: FollowContext,
): Suspicion | null {
  const short = newestShorts.at(-1);
  if (short === undefined) return null;
  // A young curve bends to what it is shown.
  const isYoung = short.atMs - fit.sinceMs < YOUNG_MS;
  const before = isYoung ? past[0] : undefined;
  const response = before?.response ?? state.response;
  const known = before?.course ?? course;
  if (response === null || known === null || response.heatKPerS <= 0) return null;
  if (!state.isSuspect && Math.floor(short.atMs / 2000) % 2 !== 0) return null;
  const reach = REACH_SHARE * 1000 * response.timeConstantS;
  const reachMs = Math.max(SHORTEST_REACH_MS, Math.min(LONGEST_REACH_MS, reach));
  const earliestMs = Math.max(fit.sinceMs + SETTLING_MS, short.atMs - reachMs);
  const blocks = newestShorts.filter(({ atMs }) => atMs >= earliestMs);
  if (blocks.length < FEWEST_BLOCKS) return null;
  const varianceK2 = strayOf(state, short, context);
  const older = before === undefined ? olderOf(fit, blocks[0]!.atMs, response.timeConstantS, varianceK2) : [];
  const finding = findChange(older, blocks, response, known, airOf(state, fit.startC), varianceK2);
  if (finding === null || finding.gain < DOUBTED) return null;
  const passedMs = short.atMs - finding.atMs;
  // From fewer readings the fit may just not have found the curve yet.
  const isDense = short.atMs - blocks.at(-2)!.atMs < DENSE_MS;
  const isAhead = finding.ahead > CLEAR && passedMs > SHORTEST_WAIT_MS;
  return {
    finding,
    response,
    isCertain: anewMs === null ? isCertain(finding) : isDense && isEnough(finding),
    isClear: (isAhead || passedMs > LONGEST_WAIT_MS) && finding.blocks >= FEWEST_SINCE,
  };
}

/** What the fit remembers of the time before the short blocks. */
function olderOf(
  { sinceMs, ageS, history }: WarmingFit,
  untilMs: number,
  timeConstantS: number,
  varianceK2: number,
): readonly Older[] {
  const settledS = Math.min(LONGEST_SETTLED_S, ageS - SETTLED * timeConstantS);
  const reachMs = 1000 * Math.max(OLDER_SHARE * timeConstantS, settledS);
  const found: Older[] = [];
  for (let at = history.length - 1; at >= 0 && found.length < MOST_OLDER; at -= 1) {
    const { atS, celsius, variance, repeatedK2, lengthS } = history[at]!;
    const atMs = sinceMs + 1000 * atS;
    if (atMs < untilMs - reachMs || 1000 * atS < SETTLING_MS) break;
    if (atMs + 500 * lengthS > untilMs) continue;
    const stray = variance + STRAY_K ** 2 + REPEATED * repeatedK2;
    found.unshift({ atMs, celsius, scale: Math.sqrt(varianceK2 / stray) });
  }
  return found;
}

function isCertain({ isYoung, isOldest, gain, added }: Finding): boolean {
  return isYoung ? !isOldest && gain > CERTAIN_YOUNG && Math.abs(added) > SHARE_YOUNG : gain > CERTAIN;
}

/** Once the curve was left for certain, less will do. */
function isEnough({ isYoung, isOldest, gain, added }: Finding): boolean {
  return gain > CERTAIN_ONCE_LEFT && (!isYoung || (!isOldest && Math.abs(added) > SHARE_YOUNG));
}

/** No limit is ahead while something may have changed. */
export function doubted(warming: Warming, atMs: number): Warming {
  return { ...warming, doubtUntilMs: Math.max(warming.doubtUntilMs, atMs + DOUBT_MS) };
}

/** A new warming from the moment of the change, with the short blocks since. */
export function afterChange(
  before: FollowState,
  warming: Warming,
  finding: Finding,
  response: Response,
  context: FollowContext,
): Followed {
  const { change, atMs, celsius } = finding;
  const since = warming.newestShorts.filter((block) => block.atMs > atMs);
  const left = change === 'sensor-lifted' ? 1 : Math.max(0.1, 1 + finding.added);
  const prior = priorAfter(finding, response, airOf(before, celsius));
  const again = {
    ...begun(beginFit(atMs, celsius, 0.7), since, prior),
    doubtUntilMs: atMs + HUSH_MS,
  };
  const state = {
    ...before,
    shorts: null,
    isSuspect: false,
    asDesigned: false,
    response: { ...response, heatKPerS: response.heatKPerS * left, fastK: response.fastK * left },
  };
  return learnAll(state, again, since, context, change);
}

function airOf({ airC }: FollowState, startC: number): number {
  return Math.min(airC ?? startC, startC);
}

/** Of a short block, K². */
function strayOf({ noise }: FollowState, short: Block, { resolutionK }: FollowContext): number {
  return withoutModel(short) + STRAY_K ** 2 + REPEATED * repeatedVariance(noise, resolutionK);
}

function priorAfter(
  { change, added, celsius, isYoung }: Finding,
  response: Response,
  airC: number,
): WarmingPrior {
  const whole = response.heatKPerS * response.timeConstantS;
  const isToAir = change === 'switched-off' || change === 'sensor-lifted';
  const riseK = isToAir ? airC - celsius : added * whole;
  const deviationK = (isYoung ? 1 : RISE_SHARE) * Math.abs(riseK) + LEAST_RISE_K;
  const from = (celsius - airC) / Math.max(LEAST_RISE_K, celsius + riseK - airC);
  const rest = restOf(response.convection, Math.max(0, Math.min(MOST_FROM, from)));
  return afterAChange(riseK, deviationK, isYoung ? null : response.timeConstantS, rest);
}
/** Of the way that it settles at: cooling from still further differs no more. */
const MOST_FROM = 4;
