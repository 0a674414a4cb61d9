import type { PointUnit } from '../predict/prediction.js';
import type { Effect } from '../watch/effects.js';
import { predictionOf } from '../watch/sample.js';
import type { WatchState } from '../watch/state.js';
import { shapeDoubt, type Settled } from '../watch/suspects/settled.js';

/** Half a range that covers 90 %, in standard deviations. */
const DEVIATIONS_90 = 1.645;
/** A forecast that is less sure says nothing yet, K. */
const MOST_DOUBT_K = 4;
/** Nothing drives a rail that reads less than this share of what it should. */
const OFF_SHARE = 0.03;
const DRIVEN: readonly PointUnit[] = ['V', 'Vrms', 'Vpp', 'A', 'Arms'];

/**
 * The newest settled value of each test point while the supply is on, however many points share one meter. A
 * temperature counts with where it is going, as soon as that is known well enough.
 */
export class SettledNow {
  readonly #settled = new Map<string, Settled>();

  readings(): readonly Settled[] {
    return [...this.#settled.values()];
  }

  /** Returns whether the effect says something new. */
  take(effect: Effect, state: WatchState): boolean {
    if (effect.kind === 'settled') {
      return this.#takeSettled(effect.point, effect.value, effect.standardUncertainty, state);
    }
    if (effect.kind !== 'forecast' || effect.forecast === null) return false;
    const { low, typical, high } = effect.forecast.settled;
    const doubt = (high - low) / (2 * DEVIATIONS_90);
    return doubt <= MOST_DOUBT_K && this.#keep(effect.point, typical, doubt);
  }

  #takeSettled(point: string, value: number, standardUncertainty: number, state: WatchState): boolean {
    const predicted = predictionOf(state.plan.prediction, point);
    if (predicted === undefined) return false;
    const place = state.points[state.pointIndex[point] ?? -1];
    if (predicted.unit === 'degC' && place?.forecast != null) return false;
    if (DRIVEN.includes(predicted.unit) && isDead(value, predicted)) {
      if (!isOn(state, point)) this.#settled.clear();
      return false;
    }
    return this.#keep(point, value, Math.hypot(standardUncertainty, shapeDoubt(value, predicted.unit)));
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
