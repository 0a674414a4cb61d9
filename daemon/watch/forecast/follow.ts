import { afterChange, doubted, suspicionOf } from './departures.js';
import { drifted, isBeyond } from './drift.js';
import { MOST_BLOCKS } from './course-fit.js';
import { beginFit, type Block } from './fit.js';
import {
  begun,
  type FollowContext,
  type Followed,
  type FollowState,
  type Rest,
  type Surest,
  type Warming,
} from './follow-state.js';
import type { Forecast } from './forecast.js';
import { BLOCKS_FOR_A_CHANGE, learn, learnAll } from './learn.js';
import { hearStep } from './noise-of-steps.js';
import {
  blockMs,
  blockOf,
  piled,
  repeatedVariance,
  SHORT_BLOCK_MS,
  shortBlockOf,
  type Pile,
} from './piles.js';
import { afterAChange } from './prior.js';
import { hearStanding, isStuck, mayBeStuck } from './stuck.js';

/** Deviations that blocks of the fit may stray, what makes them suspect and what makes the fit begin anew. */
const ALLOWED = 0.4;
const SUSPECT = 2;
const ANEW = 5;
/** What no curve tells of its next block, as a share of the rise and at least, K. */
const STRAY_SHARE = 0.03;
const STRAY_K = 0.3;
/** And deviations of the settled temperature that do. */
const CONTRADICTED = 4.5;
/** How well the start is known, K: where the part rested before, where the first reading is the start. */
const REST_K = 0.5;
const FIRST_K = 0.7;
/** Further than this from where it rested no noise makes a block stray, K. */
const CLEARLY_LEFT_K = 0.9;
/** Power may have come on a little before the first reading, ms. */
const FIRST_MS = 300;
/** A probe that shows whole degrees shows the start so much later, ms. */
const LATE_MS = 2000;
/** Doubt lasts for this share of the warming's age, at least so long. */
const DOUBT_SHARE = 0.3;
const DOUBT_MS = 15_000;
/** How far a part may go on from where its curve was left for no known reason. */
const UNKNOWN_RISE_K = 30;
/** A time constant where none has been shown, s. */
const UNKNOWN_S = 60;

/** One more temperature. The incoming state is left as it was. */
export function followTemperature(
  before: FollowState,
  atMs: number,
  celsius: number,
  context: FollowContext,
): Followed {
  const noise = hearStep(before.noise, celsius);
  const intervalMs = before.lastMs === null ? 0 : Math.max(0, atMs - before.lastMs);
  const readings = piled(before.readings, atMs, celsius);
  const standing = hearStanding(before.standing, atMs, celsius, slopeOf(before), timeConstantOf(before));
  const state = { ...before, noise, standing, readings, lastMs: atMs };
  if (before.warming !== null && isStuck(standing, atMs)) return standStill(state);
  if (before.isStuck) return moveAgain(state, atMs, celsius);
  const lengthMs = atMs - readings.sinceMs + intervalMs;
  if (lengthMs < SHORT_BLOCK_MS) return { state, news: null };
  const short = shortBlockOf(readings, noise, context.resolutionK);
  return takeShort({ ...state, readings: null }, readings, short, lengthMs, context);
}

const slopeOf = ({ warming }: FollowState): number => warming?.expected?.slopeKPerS ?? 0;
const timeConstantOf = ({ response }: FollowState): number => response?.timeConstantS ?? UNKNOWN_S;

/** Nothing is learnt of readings that stand still. */
function standStill(state: FollowState): Followed {
  const news = state.isStuck ? null : { forecast: null, change: 'stuck' as const, heading: [] };
  return { state: { ...state, isStuck: true, readings: null, shorts: null }, news };
}

function moveAgain(state: FollowState, atMs: number, celsius: number): Followed {
  const prior = afterAChange(0, UNKNOWN_RISE_K, state.response?.timeConstantS ?? null);
  const warming = begun(beginFit(atMs, celsius, 1), [], prior);
  return { state: { ...state, isStuck: false, isSuspect: false, asDesigned: false, warming }, news: null };
}

function takeShort(
  state: FollowState,
  readings: Pile,
  short: Block,
  lengthMs: number,
  context: FollowContext,
): Followed {
  if (state.warming === null) return takeAtRest(state, readings, short, context);
  const newestShorts = [...state.warming.newestShorts, short].slice(-MOST_BLOCKS);
  const warming = { ...state.warming, newestShorts };
  const suspicion = suspicionOf(state, warming, context);
  if (warming.anewMs !== null && short.atMs > warming.anewMs)
    return startAgain(state, warming, short, context);
  if (suspicion === null) {
    if (warming.anewMs !== null) return waited(state, warming);
    return takeQuiet({ ...state, isSuspect: false }, warming, short, lengthMs, context);
  }
  const inDoubt = doubted(warming, short.atMs);
  const { finding, response, isCertain, isClear } = suspicion;
  if (!isCertain && warming.anewMs !== null) return waited(state, inDoubt);
  if (!isCertain) return takeQuiet({ ...state, isSuspect: false }, inDoubt, short, lengthMs, context);
  const isMoving = !mayBeStuck(state.standing, short.atMs);
  if (isClear && isMoving) return afterChange(state, inDoubt, finding, response, context);
  // Blocks from after the change would spoil the fit.
  const shorts = piled(state.shorts, short.atMs, short.celsius);
  return { state: { ...state, isSuspect: true, shorts, warming: inDoubt }, news: null };
}

/** Nothing is learnt while it is found out how the curve was left. */
function waited(state: FollowState, warming: Warming): Followed {
  return { state: { ...state, isSuspect: true, shorts: null, warming }, news: null };
}

/** The fit learns in blocks that grow with its age. */
function takeQuiet(
  state: FollowState,
  warming: Warming,
  short: Block,
  lengthMs: number,
  context: FollowContext,
): Followed {
  const shorts = piled(state.shorts, short.atMs, short.celsius);
  const isFull = short.atMs - shorts.sinceMs + lengthMs >= blockMs(warming.fit, short.atMs);
  if (!isFull) return { state: { ...state, shorts, warming }, news: null };
  const block = blockOf(shorts, short, repeatedVariance(state.noise, context.resolutionK));
  return takeBlock({ ...state, shorts: null }, warming, block, context);
}

function takeAtRest(state: FollowState, readings: Pile, short: Block, context: FollowContext): Followed {
  const { rest, strayed } = state;
  const edge = 3 * Math.sqrt(short.variance) + 0.15 + context.resolutionK / 2;
  const offK = rest === null ? 0 : short.celsius - rest.celsius;
  if (rest === null || Math.abs(offK) < edge) {
    return { state: { ...state, strayed: null, rest: rested(rest, readings, short) }, news: null };
  }
  // The noise is hardly known yet: a single block may have strayed by it.
  const isAgain = strayed !== null && (strayed.celsius - rest.celsius) * offK > 0;
  if (!isAgain && Math.abs(offK) < CLEARLY_LEFT_K) {
    return { state: { ...state, strayed: short }, news: null };
  }
  // A single block may have caught the start of the warming.
  const isSure = rest.blocks > 1;
  const fit = isSure
    ? beginFit(rest.atMs - LATE_MS * Math.min(1, context.resolutionK), rest.celsius, REST_K)
    : beginFit(rest.firstMs - FIRST_MS, rest.firstC, FIRST_K);
  const since = isAgain ? [strayed, short] : [short];
  const warming = begun(fit, since, null);
  const start: FollowState = { ...state, rest: null, strayed: null, airC: rest.celsius };
  return learnAll(start, warming, since, context, null);
}

function rested(rest: Rest | null, { sinceMs, firstC }: Pile, { atMs, celsius }: Block): Rest {
  if (rest === null) return { atMs, celsius, blocks: 1, firstMs: sinceMs, firstC };
  const blocks = rest.blocks + 1;
  return { ...rest, atMs, celsius: rest.celsius + (celsius - rest.celsius) / blocks, blocks };
}

/** One more block of the fit. Where blocks stray from it together it begins anew, in silence. */
function takeBlock(state: FollowState, warming: Warming, block: Block, context: FollowContext): Followed {
  const { expected, fit } = warming;
  if (expected === null || fit.blocks < BLOCKS_FOR_A_CHANGE)
    return learn(state, warming, block, context, null);
  const celsius = expected.celsius + (expected.slopeKPerS * (block.atMs - expected.atMs)) / 1000;
  const strayK = Math.hypot(STRAY_K, STRAY_SHARE * (block.celsius - fit.startC));
  const deviation = Math.sqrt(block.variance + expected.deviationK ** 2 + strayK ** 2);
  const drift = drifted(warming.drift, (block.celsius - celsius) / deviation, ALLOWED);
  if (isBeyond(drift, ANEW)) return leave(state, warming, block, context);
  const doubt = Math.max(DOUBT_MS, DOUBT_SHARE * 1000 * fit.ageS);
  const doubtUntilMs = isBeyond(drift, SUSPECT) ? block.atMs + doubt : warming.doubtUntilMs;
  const learnt = learn(state, { ...warming, drift, doubtUntilMs }, block, context, null);
  return isContradicted(warming.surest, learnt.news?.forecast ?? null)
    ? leave({ ...state, response: warming.surest?.response ?? null }, warming, block, context)
    : learnt;
}

/** A curve that goes on as it began doesn't come to settle far outside what it had shown. */
function isContradicted(surest: Surest | null, forecast: Forecast | null): boolean {
  if (surest === null || forecast === null) return false;
  return Math.abs(forecast.settled.typical - surest.settledC) > CONTRADICTED * surest.deviationK;
}

/** The curve was left: how is found out first, where that can be told at all. */
function leave(state: FollowState, warming: Warming, block: Block, context: FollowContext): Followed {
  if (state.response === null || warming.past.length === 0) return startAgain(state, warming, block, context);
  return waited(state, { ...warming, anewMs: block.atMs + FINDING_OUT_MS });
}
const FINDING_OUT_MS = 22_000;

/** From a little before the block that proved the drift, but not from before a gap: it may have changed in there. */
function startAgain(
  state: FollowState,
  { newest, newestShorts }: Warming,
  block: Block,
  context: FollowContext,
): Followed {
  const gap = newestShorts.findLastIndex(
    ({ atMs }, place) => place > 0 && atMs - newestShorts[place - 1]!.atMs > GAP_MS,
  );
  const from = gap > 0 ? newestShorts[gap]! : (newest.at(0) ?? block);
  const prior = afterAChange(0, UNKNOWN_RISE_K, state.response?.timeConstantS ?? null);
  const again = begun(beginFit(from.atMs, from.celsius, 1), newestShorts, prior);
  const since = newestShorts.filter(({ atMs }) => atMs > from.atMs);
  const start: FollowState = { ...state, asDesigned: false, isSuspect: false, shorts: null };
  return learnAll(start, again, since, context, null);
}
const GAP_MS = 60_000;
