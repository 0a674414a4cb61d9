import { changeOf, drifted, isBeyond, NO_DRIFT, type Change, type Departure, type Drift } from './change.js';
import { addBlock, beginFit, cellsOf, type Block, type Cell, type WarmingFit } from './fit.js';
import { forecastOf, nextOf, type Forecast } from './forecast.js';
import { hearStep, UNKNOWN_NOISE, type StepNoise } from './noise-of-steps.js';
import { NOTHING_KNOWN, type WarmingPrior } from './prior.js';

/** All that is remembered of one temperature. Plain data. */
export interface FollowState {
  readonly noise: StepNoise;
  readonly lastMs: number | null;
  /** Readings that wait for a short block to be full. */
  readonly readings: Pile | null;
  /** Short blocks that wait for a block of the fit to be full. */
  readonly shorts: Pile | null;
  /** The temperature of a part that hasn't warmed yet; null once it does. */
  readonly rest: { readonly atMs: number; readonly celsius: number; readonly blocks: number } | null;
  readonly warming: Warming | null;
  /** Of the air: where the part rested, else the coldest it was. */
  readonly airC: number | null;
  readonly departure: Departure | null;
  /** Still true until something changes: what the design says holds. */
  readonly asDesigned: boolean;
}

/** Values that wait to be averaged. */
interface Pile {
  readonly sinceMs: number;
  readonly count: number;
  readonly sumC: number;
  /** Of the times since `sinceMs`. */
  readonly sumMs: number;
}

interface Warming {
  readonly fit: WarmingFit;
  /** Null before the fit can tell. */
  readonly expected: Expected | null;
  /** Of the fit's blocks, by which it is begun anew in silence; of short blocks, which tells of a change. */
  readonly drift: Drift;
  readonly shortDrift: Drift;
  /** No limit is said to be ahead before this moment, ms: the curve may just have been left. */
  readonly doubtUntilMs: number;
  /** The newest short blocks and blocks of the fit, oldest first. */
  readonly newestShorts: readonly Block[];
  readonly newest: readonly Block[];
  /** For how many blocks each limit has been ahead, by its place among the limits. */
  readonly ahead: readonly number[];
}

/** What the fit expects next. */
interface Expected {
  readonly atMs: number;
  readonly celsius: number;
  readonly slopeKPerS: number;
  readonly deviationK: number;
  /** How fast the heat would warm the cold part, K/s. */
  readonly heatKPerS: number;
  readonly fastK: number;
  readonly timeConstantS: number;
}

export const NOT_FOLLOWED: FollowState = {
  noise: UNKNOWN_NOISE,
  lastMs: null,
  readings: null,
  shorts: null,
  rest: null,
  warming: null,
  airC: null,
  departure: null,
  asDesigned: true,
};

export interface FollowContext {
  readonly prior: WarmingPrior;
  /** Degrees C. */
  readonly limits: readonly number[];
  /** One count of the probe, K; 0 when unknown. */
  readonly resolutionK: number;
}

/** What one reading told beyond itself, where it filled a block. */
export interface News {
  /** Null: can't tell yet. */
  readonly forecast: Forecast | null;
  readonly change: Change | null;
  /** Limits to be crossed, as sure as an alarm needs. */
  readonly heading: readonly number[];
}

interface Followed {
  readonly state: FollowState;
  readonly news: News | null;
}

const SHORT_BLOCK_MS = 2000;
const LONGEST_BLOCK_MS = 15_000;
/** Of the age of a warming: later it has less news in a second. */
const BLOCK_SHARE = 0.03;
/** The curves aren't exact, whatever the probe resolves, K. */
const MODEL_K = 0.06;
/** The fast part is only roughly one exponential. */
const FAST_MISFIT_K = 1;
const FAST_MISFIT_S = 12;
const BLOCKS_FOR_A_FORECAST = 3;
const BLOCKS_FOR_A_CHANGE = 6;
const BLOCKS_TO_BE_SURE = 2;
/** Probability that an alarm asks for: more where the design's own figures speak, which may be wrong from the start. */
const SURE = 0.955;
const SURE_BY_DESIGN = 0.98;
/** Deviations that blocks of the fit may stray, what makes them suspect and what makes the fit begin anew. */
const ALLOWED = 0.4;
const SUSPECT = 2;
const ANEW = 5;
/** The same for short blocks, which tell a person that something has changed. */
const SHORT_ALLOWED = 1;
const CHANGED = 8;
/** Of short blocks, where blocks of the fit have left it already. */
const SEEN = 2;
/** Short blocks may stray by this, and by this share of the rise, without anything having changed. */
const STRAY_K = 0.15;
const STRAY_SHARE = 0.01;
/** Doubt lasts for this share of the warming's age, at least so long. */
const DOUBT_SHARE = 0.3;
const DOUBT_MS = 15_000;
const KEPT_BLOCKS = 4;
const KEPT_SHORTS = 8;

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
  if (atMs - readings.sinceMs + intervalMs < SHORT_BLOCK_MS) return { state, news: null };
  const short = blockOf(readings, noise, context);
  return takeShort({ ...state, readings: null }, short, atMs - readings.sinceMs + intervalMs, context);
}

function piled(pile: Pile | null, atMs: number, celsius: number): Pile {
  const { sinceMs, count, sumC, sumMs } = pile ?? { sinceMs: atMs, count: 0, sumC: 0, sumMs: 0 };
  return { sinceMs, count: count + 1, sumC: sumC + celsius, sumMs: sumMs + (atMs - sinceMs) };
}

function blockOf(pile: Pile, noise: StepNoise, { resolutionK }: FollowContext): Block {
  const variance = noise.variance / pile.count + resolutionK ** 2 / 12 + MODEL_K ** 2;
  return { atMs: pile.sinceMs + pile.sumMs / pile.count, celsius: pile.sumC / pile.count, variance };
}

function takeShort(before: FollowState, short: Block, lengthMs: number, context: FollowContext): Followed {
  const { state, change } = tellChange(before, short);
  const { warming } = state;
  if (warming === null) return takeAtRest(state, short, context);
  const newestShorts = [...warming.newestShorts, short].slice(-KEPT_SHORTS);
  const shortDrift = shortDrifted(warming, short);
  const next = { ...warming, newestShorts, shortDrift };
  if (isBeyond(shortDrift, CHANGED)) {
    return startAgain(departed({ ...state, shorts: null }, next), next, short, context, change);
  }
  // Short blocks of equal length weigh the same.
  const shorts = piled(state.shorts, short.atMs, short.celsius);
  const isFull = short.atMs - shorts.sinceMs + lengthMs >= blockMs(warming.fit, short.atMs);
  if (!isFull) {
    const news = change === null ? null : { forecast: null, change, heading: [] };
    return { state: { ...state, shorts, warming: next }, news };
  }
  const { atMs, celsius } = blockOf(shorts, state.noise, context);
  const variance = (short.variance - MODEL_K ** 2) / shorts.count + MODEL_K ** 2;
  return takeBlock({ ...state, shorts: null }, next, { atMs, celsius, variance }, context, change);
}

/** A curve that was left a while ago may now say why. */
function tellChange(state: FollowState, short: Block): { state: FollowState; change: Change | null } {
  if (state.departure === null) return { state, change: null };
  const found = changeOf(state.departure, short.atMs, short.celsius);
  if (found === null) return { state, change: null };
  return { state: { ...state, departure: null }, change: found === 'nothing' ? null : found };
}

function departed(state: FollowState, { expected, newestShorts, fit }: Warming): FollowState {
  const from = newestShorts.at(-DEPARTURE_BLOCKS) ?? newestShorts[0];
  if (expected === null || from === undefined || state.departure !== null) return state;
  const { slopeKPerS, heatKPerS, fastK, timeConstantS } = expected;
  const fromC = expected.celsius + (slopeKPerS * (from.atMs - expected.atMs)) / 1000;
  const airC = Math.min(state.airC ?? fit.startC, fit.startC);
  const departure = { fromMs: from.atMs, fromC, slopeKPerS, heatKPerS, fastK, timeConstantS, airC };
  return { ...state, departure };
}

const DEPARTURE_BLOCKS = 4;

function blockMs(fit: WarmingFit, atMs: number): number {
  return Math.max(SHORT_BLOCK_MS, Math.min(LONGEST_BLOCK_MS, BLOCK_SHARE * (atMs - fit.sinceMs)));
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
  return learn({ ...state, rest: null, airC: rest.celsius }, begun(fit, [short]), short, context, null);
}

function rested(rest: FollowState['rest'], { atMs, celsius }: Block): NonNullable<FollowState['rest']> {
  if (rest === null) return { atMs, celsius, blocks: 1 };
  const blocks = rest.blocks + 1;
  return { atMs, celsius: rest.celsius + (celsius - rest.celsius) / blocks, blocks };
}

function begun(fit: WarmingFit, newestShorts: readonly Block[]): Warming {
  return {
    fit,
    expected: null,
    drift: NO_DRIFT,
    shortDrift: NO_DRIFT,
    doubtUntilMs: 0,
    newestShorts,
    newest: [],
    ahead: [],
  };
}

function shortDrifted({ expected, fit, shortDrift }: Warming, short: Block): Drift {
  if (expected === null || fit.blocks < BLOCKS_FOR_A_CHANGE) return NO_DRIFT;
  const celsius = expected.celsius + (expected.slopeKPerS * (short.atMs - expected.atMs)) / 1000;
  const stray = STRAY_K ** 2 + (STRAY_SHARE * (short.celsius - fit.startC)) ** 2;
  const deviation = Math.sqrt(short.variance + fastMisfit(fit, short) + expected.deviationK ** 2 + stray);
  return drifted(shortDrift, (short.celsius - celsius) / deviation, SHORT_ALLOWED);
}

/** One more block of the fit. Where blocks stray from it together it begins anew; told only where short blocks saw it. */
function takeBlock(
  state: FollowState,
  warming: Warming,
  block: Block,
  context: FollowContext,
  change: Change | null,
): Followed {
  const { expected, fit } = warming;
  if (expected === null || fit.blocks < BLOCKS_FOR_A_CHANGE)
    return learn(state, warming, block, context, change);
  const celsius = expected.celsius + (expected.slopeKPerS * (block.atMs - expected.atMs)) / 1000;
  const deviation = Math.sqrt(block.variance + fastMisfit(fit, block) + expected.deviationK ** 2);
  const drift = drifted(warming.drift, (block.celsius - celsius) / deviation, ALLOWED);
  if (isBeyond(drift, ANEW)) {
    const isSeen = isBeyond(warming.shortDrift, SEEN);
    return startAgain(isSeen ? departed(state, warming) : state, warming, block, context, change);
  }
  const doubt = Math.max(DOUBT_MS, DOUBT_SHARE * 1000 * fit.ageS);
  const doubtUntilMs = isBeyond(drift, SUSPECT) ? block.atMs + doubt : warming.doubtUntilMs;
  return learn(state, { ...warming, drift, doubtUntilMs }, block, context, change);
}

/** From a little before the block that proved the drift. */
function startAgain(
  state: FollowState,
  { newest, newestShorts }: Warming,
  block: Block,
  context: FollowContext,
  change: Change | null,
): Followed {
  const from = (state.departure === null ? newest.at(-2) : newestShorts.at(-3)) ?? block;
  const again = begun(beginFit(from.atMs, from.celsius, 1), newestShorts);
  return learn({ ...state, asDesigned: false }, again, block, context, change);
}

function learn(
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
  const cells = cellsOf(fit, priorOf(state, context));
  const forecast = forecastOf(cells, context.limits);
  const sure = state.asDesigned && context.prior !== NOTHING_KNOWN ? SURE_BY_DESIGN : SURE;
  const isDoubted = block.atMs < warming.doubtUntilMs;
  const ahead = forecast.crossings.map(({ probability }, place) =>
    probability > sure && !isDoubted ? (warming.ahead[place] ?? 0) + 1 : 0,
  );
  const heading = context.limits.filter((_, place) => (ahead[place] ?? 0) >= BLOCKS_TO_BE_SURE);
  const expected = expectedAfter(fit, cells, block.atMs);
  return {
    state: { ...state, warming: { ...warming, fit, newest, ahead, expected } },
    news: { forecast, change, heading },
  };
}

const LOOK_AHEAD_MS = 5000;

function expectedAfter(fit: WarmingFit, cells: readonly Cell[], atMs: number): Expected {
  const now = nextOf(fit, cells, atMs);
  const later = nextOf(fit, cells, atMs + LOOK_AHEAD_MS);
  return {
    atMs,
    celsius: now.celsius,
    slopeKPerS: (1000 * (later.celsius - now.celsius)) / LOOK_AHEAD_MS,
    deviationK: later.deviationK,
    heatKPerS: averaged(cells, ({ riseK, tau }) => Math.abs(riseK) / tau),
    fastK: averaged(cells, ({ fastK }) => fastK),
    timeConstantS: averaged(cells, ({ tau }) => tau),
  };
}

function averaged(cells: readonly Cell[], of: (cell: Cell) => number): number {
  return cells.reduce((sum, cell) => sum + cell.weight * of(cell), 0);
}

/** Once something has changed, the design's figures hold no more, but for what the part is made of. */
function priorOf(state: FollowState, context: FollowContext): WarmingPrior {
  if (state.asDesigned) return context.prior;
  return { ...NOTHING_KNOWN, timeConstantS: context.prior.timeConstantS };
}

function fastMisfit({ sinceMs }: WarmingFit, { atMs }: Block): number {
  const misfit = FAST_MISFIT_K * Math.exp((sinceMs - atMs) / (1000 * FAST_MISFIT_S));
  return misfit * misfit;
}
