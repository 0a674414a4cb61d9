import type { PointUnit } from '../predict/prediction.js';
import type { Effect, ForecastEffect } from '../watch/effects.js';
import { predictionOf } from '../watch/sample.js';
import type { RippleFound, RippleMissing } from '../watch/ripple/ripple.js';
import { pointOf, type WatchState } from '../watch/state.js';
import { RIPPLE_HERTZ } from '../watch/suspects/clouds.js';
import { shapeDoubt, type Settled } from '../watch/suspects/settled.js';

/** Half a range that covers 90 %, in standard deviations. */
const DEVIATIONS_90 = 1.645;
/** A forecast that is less sure says nothing yet, K. */
const MOST_DOUBT_K = 4;
/** Before that a tab may seem to settle while the heatsink behind it has hardly begun to warm up (common practice). */
const QUICK_PART_MS = 120_000;
/** So many standard deviations beyond what is predicted. */
const TOO_HOT_DOUBTS = 3;
/** What is yet to come is not known better than this share of it: the air in the box warms up too, slowly. */
const AHEAD_SHARE = 0.25;
/** Nothing drives a rail that reads less than this share of what it should. */
const OFF_SHARE = 0.03;
/** The mains wanders by less: then another load is on, or something has just failed. */
const CHANGED_SHARE = 0.05;
/** Nor is it the meter's doubt, as a standard deviation. */
const CHANGED_DOUBTS = 4;
/** Where a scope shows how often the reservoir is charged. */
const ON_RESERVOIR: readonly string[] = ['reservoir.ripple', 'reservoir.volts'];
const DRIVEN: readonly PointUnit[] = ['V', 'Vrms', 'Vpp', 'A', 'Arms'];

/**
 * The newest settled value of each test point while the supply is on, however many points share one meter. A
 * temperature counts with where it is going, as soon as that is known well enough.
 */
export class SettledNow {
  readonly #settled: Map<string, Settled>;
  readonly #followedSinceMs = new Map<string, number>();

  /** @param known readings that are known already. */
  constructor(known: readonly Settled[] = []) {
    this.#settled = new Map(known.map((reading) => [reading.point, reading]));
  }

  readings(): readonly Settled[] {
    return [...this.#settled.values()];
  }

  /** Readings from before of points that have none now. Returns whether there were any. */
  takeBack(readings: readonly Settled[]): boolean {
    const missing = readings.filter(({ point }) => !this.#settled.has(point));
    for (const reading of missing) this.#settled.set(reading.point, reading);
    return missing.length > 0;
  }

  /** Returns whether the effect says something new. */
  take(effect: Effect, state: WatchState): boolean {
    if (effect.kind === 'settled') {
      return this.#takeSettled(effect.point, effect.value, effect.standardUncertainty, state);
    }
    if (effect.kind === 'ripple') return this.#takeRipple(effect.point, effect.ripple);
    return effect.kind === 'forecast' && this.#takeForecast(effect, state);
  }

  #takeForecast({ point, atMs, forecast }: ForecastEffect, state: WatchState): boolean {
    const sinceMs = this.#followedSinceMs.get(point) ?? atMs;
    this.#followedSinceMs.set(point, sinceMs);
    const predicted = predictionOf(state.plan.prediction, point);
    if (forecast === null || predicted === undefined) return false;
    const { low, typical, high } = forecast.settled;
    const own = (high - low) / (2 * DEVIATIONS_90);
    // What gets too hot can't wait, and the slow part only adds to it.
    const isTooHot = typical - predicted.high > TOO_HOT_DOUBTS * own;
    if (!isTooHot && (own > MOST_DOUBT_K || atMs - sinceMs < QUICK_PART_MS)) return false;
    const now = pointOf(state, point)?.value ?? typical;
    return this.#keep(point, typical, Math.hypot(own, AHEAD_SHARE * (typical - now)));
  }

  /** How often a capture shows the reservoir being charged; not where its halves are of unequal height. */
  #takeRipple(point: string, ripple: RippleFound | RippleMissing): boolean {
    if (!ON_RESERVOIR.includes(point) || ripple.kind !== 'found' || ripple.halves === 'uneven') return false;
    const { mainsHertz, mainsHertzDeviation, halves } = ripple;
    const pulses = halves === 'both' ? 2 : 1;
    return this.#keep(RIPPLE_HERTZ, pulses * mainsHertz, pulses * mainsHertzDeviation);
  }

  #takeSettled(point: string, value: number, standardUncertainty: number, state: WatchState): boolean {
    const predicted = predictionOf(state.plan.prediction, point);
    if (predicted === undefined) return false;
    const place = state.points[state.pointIndex[point] ?? -1];
    if (predicted.unit === 'degC' && place?.forecast != null) return false;
    if (DRIVEN.includes(predicted.unit) && isDead(value, predicted)) {
      if (!isOn(state, point)) this.#forgetAll();
      return false;
    }
    const doubt = Math.hypot(standardUncertainty, shapeDoubt(value, predicted.unit));
    if (DRIVEN.includes(predicted.unit) && this.#hasChanged(point, value, doubt)) this.#forgetLeft(state);
    return this.#keep(point, value, doubt);
  }

  #hasChanged(point: string, value: number, doubt: number): boolean {
    const before = this.#settled.get(point);
    if (before === undefined) return false;
    const least = Math.max(CHANGED_SHARE * Math.abs(before.value), CHANGED_DOUBTS * doubt);
    return Math.abs(value - before.value) > least;
  }

  #forgetAll(): void {
    this.#settled.clear();
    this.#followedSinceMs.clear();
  }

  /** What no probe stands on any more was read before the supply changed. */
  #forgetLeft(state: WatchState): void {
    for (const point of this.#settled.keys()) {
      if ((pointOf(state, point)?.channel ?? null) === null) this.#settled.delete(point);
    }
  }

  /** Within its own doubt of what was known it is nothing new. */
  #keep(point: string, value: number, standardUncertainty: number): boolean {
    const before = this.#settled.get(point);
    const isNew =
      before === undefined ||
      Math.abs(value - before.value) > standardUncertainty ||
      standardUncertainty < before.standardUncertainty / 2;
    if (isNew) this.#settled.set(point, { point, value, standardUncertainty });
    return isNew;
  }
}

function isDead(value: number, { low, high }: { readonly low: number; readonly high: number }): boolean {
  return low * high > 0 && Math.abs(value) < OFF_SHARE * Math.min(Math.abs(low), Math.abs(high));
}

/** Whether something else that is driven and measured now is on. */
function isOn(state: WatchState, but: string): boolean {
  return state.points.some(({ id, channel, value }) => {
    const predicted = predictionOf(state.plan.prediction, id);
    if (id === but || channel === null || value === null || predicted === undefined) return false;
    return DRIVEN.includes(predicted.unit) && predicted.low * predicted.high > 0 && !isDead(value, predicted);
  });
}
