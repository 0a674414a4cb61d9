import type { Response } from './answers.js';
import type { Change } from './change.js';
import type { Course } from './course-fit.js';
import { NO_DRIFT, type Drift } from './drift.js';
import type { Block, WarmingFit } from './fit.js';
import type { Forecast } from './forecast.js';
import { UNKNOWN_NOISE, type StepNoise } from './noise-of-steps.js';
import type { Pile } from './piles.js';
import { NOT_STANDING, type Standing } from './stuck.js';
import type { WarmingPrior } from './prior.js';

/** All that is remembered of one temperature. Plain data. */
export interface FollowState {
  readonly noise: StepNoise;
  readonly standing: Standing;
  /** It reads exactly the same though it should move. */
  readonly isStuck: boolean;
  readonly lastMs: number | null;
  /** Readings that wait for a short block to be full. */
  readonly readings: Pile | null;
  /** Short blocks that wait for a block of the fit to be full. */
  readonly shorts: Pile | null;
  /** The temperature of a part that hasn't warmed yet; null once it does. */
  readonly rest: Rest | null;
  /** A block that strayed from where it rests, until the next one shows whether by noise. */
  readonly strayed: Block | null;
  readonly warming: Warming | null;
  /** Of the air: where the part rested, else the coldest it was. */
  readonly airC: number | null;
  /** Null before the first warming has shown it. */
  readonly response: Response | null;
  /** Something has changed, but not yet known what. */
  readonly isSuspect: boolean;
  /** Still true until something changes: what the design says holds. */
  readonly asDesigned: boolean;
}

export interface Rest {
  /** Of the newest block. */
  readonly atMs: number;
  /** In the middle. */
  readonly celsius: number;
  readonly blocks: number;
  /** The first reading of all. */
  readonly firstMs: number;
  readonly firstC: number;
}

/** One stretch of time in which nothing changes. */
export interface Warming {
  readonly fit: WarmingFit;
  /** Null: what the design says, or nothing. */
  readonly prior: WarmingPrior | null;
  /** Null before the fit can tell. */
  readonly expected: Expected | null;
  readonly course: Course | null;
  /** Of the fit's blocks, by which it is begun anew in silence. */
  readonly drift: Drift;
  /** No limit is said to be ahead before this moment, ms: the curve may just have been left. */
  readonly doubtUntilMs: number;
  /** The newest short blocks and blocks of the fit, oldest first. */
  readonly newestShorts: readonly Block[];
  readonly newest: readonly Block[];
  /** The newest courses, oldest first: a change is looked for against one from before it. */
  readonly past: readonly Past[];
  /** It has left its curve; until then, ms, it is found out how. Null: it hasn't. */
  readonly anewMs: number | null;
  /** What was surest to be ahead so far, where the curve has shown itself. */
  readonly surest: Surest | null;
  /** For how many blocks each limit has been ahead, by its place among the limits. */
  readonly ahead: readonly number[];
}

export interface Past {
  readonly atMs: number;
  readonly course: Course;
  readonly response: Response;
}

export interface Surest {
  readonly settledC: number;
  readonly deviationK: number;
  readonly response: Response | null;
}

/** What the fit expects next. */
export interface Expected {
  readonly atMs: number;
  readonly celsius: number;
  readonly slopeKPerS: number;
  readonly deviationK: number;
}

export const NOT_FOLLOWED: FollowState = {
  noise: UNKNOWN_NOISE,
  standing: NOT_STANDING,
  isStuck: false,
  lastMs: null,
  readings: null,
  shorts: null,
  rest: null,
  strayed: null,
  warming: null,
  airC: null,
  response: null,
  isSuspect: false,
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

export interface Followed {
  readonly state: FollowState;
  readonly news: News | null;
}

/** A warming without blocks of the fit. */
export function begun(fit: WarmingFit, newestShorts: readonly Block[], prior: WarmingPrior | null): Warming {
  return {
    fit,
    prior,
    expected: null,
    course: null,
    drift: NO_DRIFT,
    doubtUntilMs: 0,
    newestShorts,
    newest: [],
    past: [],
    anewMs: null,
    surest: null,
    ahead: [],
  };
}
