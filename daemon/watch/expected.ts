import type { PointPrediction, Prediction } from '../predict/prediction.js';
import { beginCooling } from './cooling.js';
import type { Draft } from './draft.js';
import type { ExpectEvent } from './events.js';
import { takeExpectedLoad } from './load-state.js';

/** What is expected now: the newest such event; null while the session's own prediction stands. */
export type Expecting = Pick<ExpectEvent, 'load' | 'step' | 'measured' | 'bands'>;

/** From now on other bands stand. Limits stay: they are what parts survive, whatever is expected. */
export function takeExpect(draft: Draft, { load, step, measured, bands }: ExpectEvent): void {
  const before = draft.expecting ?? { load: draft.plan.prediction.load, step: null };
  // What was read under one load says nothing about another.
  const isOther = load !== before.load || step !== before.step;
  if (isOther) draft.suspicion = null;
  takeExpectedLoad(draft, { load, step });
  const { points } = draft.prediction;
  draft.expecting = { load, step, measured, bands };
  if (isOther) beginCooling(draft, points);
}

const predictions = new WeakMap<Expecting, Prediction>();

/** The session's prediction with the bands that stand now. The same object until other ones stand. */
export function expectedPrediction(planned: Prediction, expecting: Expecting | null): Prediction {
  if (expecting === null) return planned;
  const known = predictions.get(expecting);
  if (known !== undefined) return known;
  const points = Object.entries(planned.points).map(
    ([id, point]) => [id, withBand(point, expecting)] as const,
  );
  const prediction = { ...planned, load: expecting.load, points: Object.fromEntries(points) };
  predictions.set(expecting, prediction);
  return prediction;
}

function withBand(point: PointPrediction, { bands }: Expecting): PointPrediction {
  return Object.hasOwn(bands, point.id) ? { ...point, ...bands[point.id] } : point;
}
