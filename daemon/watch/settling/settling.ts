import { beginStretch, deviationOf, extendStretch, trendOf, type Stretch } from './stretch.js';

/** Whether the readings of a test point stand still since its probe came there. Plain data. */
export type Settling = Moving | Standing;

/**
 * - `probe-moved`: the probe came, and nothing has stood still yet.
 * - `jumping`: contact bounce, a floating probe, a range switch, or the supply was switched.
 * - `drifting`: slowly on its way, like a rail that sags or a part that warms up.
 */
export type MovingBecause = 'probe-moved' | 'jumping' | 'drifting';

export interface Moving {
  readonly kind: 'moving';
  readonly because: MovingBecause;
  /** Since when its readings tell nothing; of a drift, since when it drifts. */
  readonly sinceMs: number;
  readonly stretch: Stretch;
  /** One count of the meter in the range that the stretch began in. */
  readonly resolution: number;
  /** The value on which it stood before, since the probe came. */
  readonly stoodAt: Standing | null;
}

export interface Standing {
  readonly kind: 'standing';
  readonly value: number;
  /** Standard deviation of one reading, and of the mean. */
  readonly deviation: number;
  readonly deviationOfMean: number;
  readonly sinceMs: number;
  readonly count: number;
  /** A reading further off is no longer the same value. */
  readonly tolerance: number;
  /** The last value that was told; this one when it lies further from it than the tolerance. */
  readonly toldValue: number;
}

/** One reading of a test point, in its unit. */
export interface Heard {
  readonly value: number;
  /** The reading before; null when it had no number, or there was none. */
  readonly previous: number | null;
  /** Half-width of the meter's accuracy. */
  readonly guard: number;
  /** One count of the meter; 0: not known. */
  readonly resolution: number;
  /** Standard deviation of the channel's noise. */
  readonly noise: number;
}

/** How long a stretch must be. */
export interface Least {
  readonly readings: number;
  readonly ms: number;
}

/** Nothing that is measured here stands better than this. */
const SAME_SHARE = 0.005;
/** Noise beyond this share of the value is no noise of a meter on a contact that holds. */
const NOISE_SHARE = 0.1;
/** Standard deviations: about the peak-to-peak of noise, and what hardly any reading of one value is beyond. */
const DEVIATIONS = 4;
/** Of the fitted change: beyond them it is no accident (about 1 in 400 of normal noise). */
const TREND_DEVIATIONS = 3;
/** A change over one stretch that matters to nobody, as a share of the value. */
const STILL_SHARE = 0.002;

/** Follows a point through one more reading. The same object while it stands where it stood. */
export function followSettling(before: Settling | null, heard: Heard, atMs: number, least: Least): Settling {
  if (before === null) return moving('probe-moved', null, heard, atMs);
  if (before.kind === 'standing') {
    if (standsStill(before, heard)) return before;
    return moving(hasJumped(heard, before.tolerance) ? 'jumping' : 'drifting', before, heard, atMs);
  }
  if (isBackAfterOne(before, heard)) return before.stoodAt;
  if (leavesStretch(before, heard)) {
    const isFast = atMs - before.stretch.fromMs < least.ms;
    return moving(isFast ? unsettled(before) : 'drifting', before, heard, atMs);
  }
  const stretch = extendStretch(before.stretch, atMs, heard.value);
  if (stretch.count < least.readings || atMs - stretch.fromMs < least.ms) return { ...before, stretch };
  if (deviationOf(stretch) > mostSpread(stretch.mean, heard)) return moving('jumping', before, heard, atMs);
  if (hasTrend(stretch, heard)) return moving('drifting', before, heard, atMs);
  return standing(stretch, heard, before.stoodAt);
}

/** Noise that grew since is still noise. */
function standsStill({ value, tolerance }: Standing, heard: Heard): boolean {
  const off = Math.abs(heard.value - value);
  return off <= tolerance || off <= toleranceOf(value, heard.noise, heard);
}

/** One odd reading, and the value is where it stood: a spike on the mains, not a move. */
function isBackAfterOne(before: Moving, heard: Heard): before is Moving & { readonly stoodAt: Standing } {
  const { stretch, stoodAt } = before;
  return stretch.count === 1 && stoodAt !== null && standsStill(stoodAt, heard);
}

/** A value that its person read off and typed has stood still: they looked. */
export function standingAtOnce({ value, resolution }: Heard, atMs: number): Standing {
  return {
    kind: 'standing',
    value,
    deviation: 0,
    deviationOfMean: 0,
    sinceMs: atMs,
    count: 1,
    tolerance: Math.max(resolution, SAME_SHARE * Math.abs(value)) / 2,
    toldValue: value,
  };
}

function moving(because: MovingBecause, before: Settling | null, heard: Heard, atMs: number): Moving {
  const goesOn = before?.kind === 'moving' && (before.because === 'drifting') === (because === 'drifting');
  return {
    kind: 'moving',
    because,
    sinceMs: goesOn ? before.sinceMs : atMs,
    stretch: beginStretch(atMs, heard.value),
    resolution: heard.resolution,
    stoodAt: before?.kind === 'moving' ? before.stoodAt : before,
  };
}

function unsettled({ because }: Moving): MovingBecause {
  return because === 'probe-moved' ? 'probe-moved' : 'jumping';
}

function hasJumped({ value, previous }: Heard, tolerance: number): boolean {
  return previous === null || Math.abs(value - previous) > tolerance;
}

/** Too far from the mean so far; after a range switch, as soon as the two ranges disagree. */
function leavesStretch({ stretch, resolution }: Moving, heard: Heard): boolean {
  const off = Math.abs(heard.value - stretch.mean);
  if (resolution !== heard.resolution && off > 2 * Math.max(resolution, heard.resolution)) return true;
  return off > toleranceOf(stretch.mean, heard.noise, heard);
}

function toleranceOf(mean: number, noise: number, { resolution }: Heard): number {
  const size = Math.abs(mean);
  return Math.max(DEVIATIONS * Math.min(noise, NOISE_SHARE * size), 2 * resolution, SAME_SHARE * size);
}

/** A probe in the air picks up anything; what hangs on a supply keeps near its value. */
function mostSpread(mean: number, { guard, resolution }: Heard): number {
  return Math.max(NOISE_SHARE * Math.abs(mean), guard, 2 * resolution);
}

function hasTrend(stretch: Stretch, { resolution }: Heard): boolean {
  const { change, deviation } = trendOf(stretch);
  const matters = Math.max(STILL_SHARE * Math.abs(stretch.mean), resolution);
  return Math.abs(change) > Math.max(TREND_DEVIATIONS * deviation, matters);
}

function standing(stretch: Stretch, heard: Heard, stoodAt: Standing | null): Standing {
  const deviation = deviationOf(stretch);
  const tolerance = toleranceOf(stretch.mean, Math.max(deviation, heard.noise), heard);
  const isOld = stoodAt !== null && Math.abs(stretch.mean - stoodAt.toldValue) <= tolerance;
  return {
    kind: 'standing',
    value: stretch.mean,
    deviation,
    deviationOfMean: deviation / Math.sqrt(stretch.count),
    sinceMs: stretch.fromMs,
    count: stretch.count,
    tolerance,
    toldValue: isOld ? stoodAt.toldValue : stretch.mean,
  };
}
