import { cellsOf, type Cell } from './cells.js';
import type { Response } from './answers.js';
import type { Change } from './change.js';
import type { Course } from './course-fit.js';
import { addBlock, type Block, type WarmingFit } from './fit.js';
import type {
  Expected,
  FollowContext,
  Followed,
  FollowState,
  Past,
  Surest,
  Warming,
} from './follow-state.js';
import { DEVIATIONS_90, forecastOf, nextOf, type Forecast } from './forecast.js';
import { repeatedVariance, withoutModel } from './piles.js';

const BLOCKS_FOR_A_FORECAST = 3;
/** Fewer don't show yet whether a curve is left. */
export const BLOCKS_FOR_A_CHANGE = 6;
const BLOCKS_TO_BE_SURE = 2;
/** Probability that an alarm asks for. */
const SURE = 0.984;
/** So near to a limit, as a share of the rise, there is nothing to wait for that would make it surer in time. */
const NEAR_SHARE = 0.03;
const SURE_IF_NEAR = 0.9;
/** So long ago at least a change can't have spoilt the course, ms; and courses kept. */
const PAST_MS = 20_000;
const PASTS = 4;
const KEPT_BLOCKS = 4;
const LOOK_AHEAD_MS = 5000;
/** Time constants after which the first seconds of a warming are forgotten. */
const FORGOTTEN = 3;

/** The state after one more block of the fit, with what it tells. */
export function learn(
  state: FollowState,
  warming: Warming,
  block: Block,
  context: FollowContext,
  change: Change | null,
): Followed {
  const { resolutionK } = context;
  const repeatedK2 = repeatedVariance(state.noise, resolutionK);
  const variance = Math.max(1e-6, withoutModel(block) - repeatedK2);
  const fit = addBlock(warming.fit, { ...block, variance }, repeatedK2, resolutionK);
  const newest = [...warming.newest, block].slice(-KEPT_BLOCKS);
  if (fit.blocks < BLOCKS_FOR_A_FORECAST) {
    const news = { forecast: null, change, heading: [] };
    return { state: { ...state, warming: { ...warming, fit, newest } }, news };
  }
  const fastK = Math.abs(state.response?.fastK ?? 0);
  const { cells, window } = cellsOf(fit, warming.prior ?? context.prior, fastK);
  const forecast = forecastOf(cells, context.limits);
  const ahead = aheadAfter(warming, block, forecast);
  const response = responseOf(state, fit, cells);
  const course = courseOf(fit, cells);
  const next: Warming = {
    ...warming,
    past: pastOf(warming.past, block.atMs, course, response),
    fit: { ...fit, window },
    newest,
    ahead,
    surest: surestOf(warming.surest, fit, forecast, state.response),
    expected: expectedAfter(fit, cells, block.atMs),
    course,
  };
  const heading = context.limits.filter((_, place) => (ahead[place] ?? 0) >= BLOCKS_TO_BE_SURE);
  return {
    state: { ...state, response, warming: next },
    news: { forecast, change, heading },
  };
}

/** The state after a new warming's first blocks. */
export function learnAll(
  state: FollowState,
  warming: Warming,
  blocks: readonly Block[],
  context: FollowContext,
  change: Change | null,
): Followed {
  return blocks.reduce<Followed>(
    (followed, block) => learn(followed.state, followed.state.warming ?? warming, block, context, change),
    { state: { ...state, warming }, news: null },
  );
}

function surestOf(
  before: Surest | null,
  { blocks }: WarmingFit,
  { settled }: Forecast,
  response: Response | null,
): Surest | null {
  const deviationK = (settled.high - settled.low) / (2 * DEVIATIONS_90);
  if (blocks < BLOCKS_FOR_A_CHANGE || deviationK >= (before?.deviationK ?? Infinity)) return before;
  return { settledC: settled.typical, deviationK, response };
}

function pastOf(
  past: readonly Past[],
  atMs: number,
  course: Course,
  response: Response | null,
): readonly Past[] {
  if (response === null) return past;
  const isDue = atMs - (past.at(-1)?.atMs ?? -Infinity) >= PAST_MS / PASTS;
  return isDue ? [...past, { atMs, course, response }].slice(-PASTS) : past;
}

function aheadAfter(warming: Warming, block: Block, { crossings, settled }: Forecast): readonly number[] {
  const isDoubted = block.atMs < warming.doubtUntilMs;
  const nearK = NEAR_SHARE * (settled.typical - warming.fit.startC);
  return crossings.map(({ limit, probability }, place) => {
    const isNear = limit - block.celsius < nearK;
    return probability > (isNear ? SURE_IF_NEAR : SURE) && !isDoubted ? (warming.ahead[place] ?? 0) + 1 : 0;
  });
}

function expectedAfter(fit: WarmingFit, cells: readonly Cell[], atMs: number): Expected {
  const now = nextOf(fit, cells, atMs);
  const later = nextOf(fit, cells, atMs + LOOK_AHEAD_MS);
  return {
    atMs,
    celsius: now.celsius,
    slopeKPerS: (1000 * (later.celsius - now.celsius)) / LOOK_AHEAD_MS,
    deviationK: later.deviationK,
  };
}

function courseOf(fit: WarmingFit, cells: readonly Cell[]): Course {
  const { tau, convection, lag } = cells.reduce((best, cell) => (cell.weight > best.weight ? cell : best));
  return { sinceMs: fit.sinceMs, timeConstantS: tau, convection, lagS: lag };
}

/** Learnt while the warming's first seconds still count. */
function responseOf(state: FollowState, fit: WarmingFit, cells: readonly Cell[]): Response | null {
  if (fit.blocks < BLOCKS_FOR_A_CHANGE) return state.response;
  if (!state.asDesigned) return relearnt(state, fit, cells);
  const timeConstantS = averaged(cells, ({ tau }) => tau);
  if (state.response !== null && fit.ageS > FORGOTTEN * timeConstantS) return state.response;
  return {
    heatKPerS: averaged(cells, ({ riseK, tau }) => riseK / tau),
    // A case is never colder than its heatsink: less than nothing is the probe's lag, learnt wrong.
    fastK: Math.max(
      0,
      averaged(cells, ({ fastK }) => fastK),
    ),
    lagS: averaged(cells, ({ lag }) => lag),
    timeConstantS,
    convection: averaged(cells, ({ convection }) => convection),
  };
}

/**
 * A part that has shown where it settles anew, and how fast, has shown what heats it. Near there losses grow by 1 + k/4 of
 * their share of the rise (the slope of `heatingCurve` at 1), and so much sooner it settles than the heat alone would have it.
 */
function relearnt(
  { response, airC }: FollowState,
  { blocks }: WarmingFit,
  cells: readonly Cell[],
): Response | null {
  if (response === null || airC === null || blocks < BLOCKS_TO_RELEARN) return response;
  const steepness = 1 + response.convection / 4;
  const heats = ({ settledC, tau, heating }: Cell): number =>
    ((settledC - airC) * heating.rate) / (tau * steepness);
  const heatKPerS = averaged(cells, heats);
  const variance = averaged(
    cells,
    (cell) => (heats(cell) - heatKPerS) ** 2 + cell.settledVariance / cell.tau ** 2,
  );
  if (averaged(cells, ({ settledC }) => settledC) - airC < LEAST_OVER_AIR_K) return response;
  if (Math.sqrt(variance) > KNOWN_SHARE * heatKPerS) return response;
  return { ...response, timeConstantS: averaged(cells, ({ tau }) => tau), heatKPerS };
}
const BLOCKS_TO_RELEARN = 16;
const LEAST_OVER_AIR_K = 8;
const KNOWN_SHARE = 0.1;

function averaged(cells: readonly Cell[], of: (cell: Cell) => number): number {
  return cells.reduce((sum, cell) => sum + cell.weight * of(cell), 0);
}
