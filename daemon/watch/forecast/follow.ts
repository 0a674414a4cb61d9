import { afterChange, doubted, suspicionOf } from './departures.js';
import { drifted, isBeyond } from './drift.js';
import { MOST_BLOCKS } from './course-fit.js';
import { beginFit, type Block } from './fit.js';
import { begun, type FollowContext, type Followed, type FollowState, type Warming } from './follow-state.js';
import { BLOCKS_FOR_A_CHANGE, fastMisfit, learn } from './learn.js';
import { hearStep } from './noise-of-steps.js';
import { blockMs, blockOf, piled, repeatedVariance, SHORT_BLOCK_MS, shortBlockOf } from './piles.js';
import { afterAChange } from './prior.js';

/** Deviations that blocks of the fit may stray, what makes them suspect and what makes the fit begin anew. */
const ALLOWED = 0.4;
const SUSPECT = 2;
const ANEW = 5;
/** Doubt lasts for this share of the warming's age, at least so long. */
const DOUBT_SHARE = 0.3;
const DOUBT_MS = 15_000;
/** How far a part may go on from where its curve was left for no known reason. */
const UNKNOWN_RISE_K = 30;

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
  const state = { ...before, noise, readings, lastMs: atMs };
  const lengthMs = atMs - readings.sinceMs + intervalMs;
  if (lengthMs < SHORT_BLOCK_MS) return { state, news: null };
  const short = shortBlockOf(readings, noise, context.resolutionK);
  return takeShort({ ...state, readings: null }, short, lengthMs, context);
}

function takeShort(state: FollowState, short: Block, lengthMs: number, context: FollowContext): Followed {
  if (state.warming === null) return takeAtRest(state, short, context);
  const newestShorts = [...state.warming.newestShorts, short].slice(-MOST_BLOCKS);
  const warming = { ...state.warming, newestShorts };
  const suspicion = suspicionOf(state, warming, context);
  if (suspicion === null) {
    return takeQuiet({ ...state, isSuspect: false }, warming, short, lengthMs, context);
  }
  const inDoubt = doubted(warming, short.atMs);
  const { finding, isCertain, isClear } = suspicion;
  if (!isCertain) return takeQuiet({ ...state, isSuspect: false }, inDoubt, short, lengthMs, context);
  if (isClear && state.response !== null) {
    return afterChange(state, inDoubt, finding, state.response, context);
  }
  // Blocks from after the change would spoil the fit.
  const shorts = piled(state.shorts, short.atMs, short.celsius);
  return { state: { ...state, isSuspect: true, shorts, warming: inDoubt }, news: null };
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

function takeAtRest(state: FollowState, short: Block, context: FollowContext): Followed {
  const { rest } = state;
  const edge = 3 * Math.sqrt(short.variance) + 0.15 + context.resolutionK / 2;
  if (rest === null || Math.abs(short.celsius - rest.celsius) < edge) {
    return { state: { ...state, rest: rested(rest, short) }, news: null };
  }
  // A single block may have caught the start of the warming.
  const isSure = rest.blocks > 1;
  const fit = beginFit(isSure ? rest.atMs : rest.atMs - 1000, rest.celsius, isSure ? 0.5 : 1.5);
  const warming = begun(fit, [short], null);
  return learn({ ...state, rest: null, airC: rest.celsius }, warming, short, context, null);
}

function rested(rest: FollowState['rest'], { atMs, celsius }: Block): NonNullable<FollowState['rest']> {
  if (rest === null) return { atMs, celsius, blocks: 1 };
  const blocks = rest.blocks + 1;
  return { atMs, celsius: rest.celsius + (celsius - rest.celsius) / blocks, blocks };
}

/** One more block of the fit. Where blocks stray from it together it begins anew, in silence. */
function takeBlock(state: FollowState, warming: Warming, block: Block, context: FollowContext): Followed {
  const { expected, fit } = warming;
  if (expected === null || fit.blocks < BLOCKS_FOR_A_CHANGE)
    return learn(state, warming, block, context, null);
  const celsius = expected.celsius + (expected.slopeKPerS * (block.atMs - expected.atMs)) / 1000;
  const deviation = Math.sqrt(block.variance + fastMisfit(fit, block) + expected.deviationK ** 2);
  const drift = drifted(warming.drift, (block.celsius - celsius) / deviation, ALLOWED);
  if (isBeyond(drift, ANEW)) return startAgain(state, warming, block, context);
  const doubt = Math.max(DOUBT_MS, DOUBT_SHARE * 1000 * fit.ageS);
  const doubtUntilMs = isBeyond(drift, SUSPECT) ? block.atMs + doubt : warming.doubtUntilMs;
  return learn(state, { ...warming, drift, doubtUntilMs }, block, context, null);
}

/** From a little before the block that proved the drift. */
function startAgain(
  state: FollowState,
  { newest, newestShorts }: Warming,
  block: Block,
  context: FollowContext,
): Followed {
  const from = newest.at(-2) ?? block;
  const prior = afterAChange(0, UNKNOWN_RISE_K, state.response?.timeConstantS ?? null);
  const again = begun(beginFit(from.atMs, from.celsius, 1), newestShorts, prior);
  return learn({ ...state, asDesigned: false }, again, block, context, null);
}
