import { cellsOf, type Cell } from './cells.js';
import type { Response } from './answers.js';
import type { Change } from './change.js';
import type { Course } from './course-fit.js';
import { addBlock, thinned, type Block, type WarmingFit } from './fit.js';
import type { Expected, FollowContext, Followed, FollowState, Warming } from './follow-state.js';
import { forecastOf, nextOf, type Forecast } from './forecast.js';
import { NOTHING_KNOWN } from './prior.js';

/** The fast part is only roughly one exponential. */
const FAST_MISFIT_K = 0.5;
const FAST_MISFIT_S = 12;
const BLOCKS_FOR_A_FORECAST = 3;
/** Fewer don't show yet whether a curve is left. */
export const BLOCKS_FOR_A_CHANGE = 6;
const BLOCKS_TO_THIN = 8;
const BLOCKS_TO_BE_SURE = 2;
/** Probability that an alarm asks for: more once something has changed, because it may not be known rightly what. */
const SURE = 0.98;
const SURE_BY_DESIGN = 0.972;
const SURE_AFTER_A_CHANGE = 0.995;
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
  const variance = block.variance + fastMisfit(warming.fit, block);
  const fit = addBlock(warming.fit, { ...block, variance });
  const newest = [...warming.newest, block].slice(-KEPT_BLOCKS);
  if (fit.blocks < BLOCKS_FOR_A_FORECAST) {
    const news = { forecast: null, change, heading: [] };
    return { state: { ...state, warming: { ...warming, fit, newest } }, news };
  }
  const { cells, likely } = cellsOf(fit, warming.prior ?? context.prior);
  const forecast = forecastOf(cells, context.limits);
  const ahead = aheadAfter(state, warming, block, context, forecast);
  const next: Warming = {
    ...warming,
    fit: fit.blocks > BLOCKS_TO_THIN ? thinned(fit, likely) : fit,
    newest,
    ahead,
    expected: expectedAfter(fit, cells, block.atMs),
    course: courseOf(fit, cells),
  };
  const heading = context.limits.filter((_, place) => (ahead[place] ?? 0) >= BLOCKS_TO_BE_SURE);
  return {
    state: { ...state, response: responseOf(state, fit, cells), warming: next },
    news: { forecast, change, heading },
  };
}

/** Variance that the first seconds' misfit adds to a block, K². */
export function fastMisfit({ sinceMs }: WarmingFit, { atMs }: Block): number {
  const misfit = FAST_MISFIT_K * Math.exp((sinceMs - atMs) / (1000 * FAST_MISFIT_S));
  return misfit * misfit;
}

function aheadAfter(
  { asDesigned }: FollowState,
  warming: Warming,
  block: Block,
  { prior }: FollowContext,
  { crossings }: Forecast,
): readonly number[] {
  const first = prior === NOTHING_KNOWN ? SURE : SURE_BY_DESIGN;
  const sure = asDesigned ? first : SURE_AFTER_A_CHANGE;
  const isDoubted = block.atMs < warming.doubtUntilMs;
  return crossings.map(({ probability }, place) =>
    probability > sure && !isDoubted ? (warming.ahead[place] ?? 0) + 1 : 0,
  );
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
  const { shape, lag } = cells.reduce((best, cell) => (cell.weight > best.weight ? cell : best));
  return { sinceMs: fit.sinceMs, shape, lagS: lag };
}

/** Learnt while the warming's first seconds still count. */
function responseOf(state: FollowState, fit: WarmingFit, cells: readonly Cell[]): Response | null {
  if (!state.asDesigned || fit.blocks < BLOCKS_FOR_A_CHANGE) return state.response;
  const timeConstantS = averaged(cells, ({ tau }) => tau);
  if (state.response !== null && fit.ageS > FORGOTTEN * timeConstantS) return state.response;
  return {
    heatKPerS: averaged(cells, ({ riseK, tau }) => riseK / tau),
    fastK: averaged(cells, ({ fastK }) => fastK),
    lagS: averaged(cells, ({ lag }) => lag),
    timeConstantS,
  };
}

function averaged(cells: readonly Cell[], of: (cell: Cell) => number): number {
  return cells.reduce((sum, cell) => sum + cell.weight * of(cell), 0);
}
