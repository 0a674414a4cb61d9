import type { PointUnit } from './predict/prediction.js';
import type { PointHistory, SessionHistory } from './record/session/history.js';
import { halfWidth } from './watch/compare.js';
import { shapeDoubt, type Settled } from './watch/suspects/settled.js';

export interface SettledReadings {
  readonly settled: readonly Settled[];
  /** Test points that were measured but still moved when the supply went off or the session ended. */
  readonly moving: readonly string[];
}

/** A case that still climbs faster says where it was, not what it would read, K a minute. */
const STILL_K_PER_MINUTE = 1.5;
/** The same for everything else, as a share of the value. */
const STILL_SHARE_PER_MINUTE = 0.02;

/** What a recorded session measured last with the supply on, where that no longer moved. */
export function settledReadings({ points, header }: SessionHistory): SettledReadings {
  const settled: Settled[] = [];
  const moving: string[] = [];
  for (const point of points) {
    if (point.settled === null) continue;
    const unit = header.plan.prediction.points[point.id]?.unit;
    if (isMoving(point.settled, unit)) moving.push(point.id);
    else settled.push(settledOf(point, point.settled.mean, unit));
  }
  return { settled, moving };
}

function isMoving(
  { mean, perMinute }: NonNullable<PointHistory['settled']>,
  unit: string | undefined,
): boolean {
  const most = unit === 'degC' ? STILL_K_PER_MINUTE : STILL_SHARE_PER_MINUTE * Math.abs(mean);
  return perMinute !== null && Math.abs(perMinute) > most;
}

function settledOf({ id, accuracy }: PointHistory, value: number, unit: PointUnit | undefined): Settled {
  const meter = halfWidth(value, accuracy) / 2;
  const shape = shapeDoubt(value, unit);
  return { point: id, value, standardUncertainty: Math.hypot(meter, shape) };
}
