import type { PointPrediction, PointUnit, Prediction } from '../predict/prediction.js';
import type { Draft } from './draft.js';
import { deadband } from './noise.js';
import type { PointState } from './state.js';

/** One number on a test point, with all that the alarm rules want to know about it. */
export interface Sample {
  /** The point before this reading. */
  readonly point: PointState;
  readonly prediction: PointPrediction;
  readonly value: number;
  /** Half-width U of the meter's accuracy. */
  readonly guard: number;
  readonly meanStep: number | null;
  readonly resolution: number;
}

const REAL_STEP_KELVIN = 5;
const REAL_STEP_SHARE = 0.1;

/** What is predicted for a test point, undefined when nothing is. */
export function predictionOf(prediction: Prediction, point: string): PointPrediction | undefined {
  const { points } = prediction;
  return Object.hasOwn(points, point) ? points[point] : undefined;
}

/** The interval of the channel that measures the sample's point, ms. */
export function sampleIntervalMs(draft: Draft, { point }: Sample): number {
  return draft.plan.channels[point.channel ?? -1]?.intervalMs ?? 0;
}

/** How far a value must come back to count as back. */
export function sampleDeadband(sample: Sample): number {
  return deadband(sample.meanStep, sample.resolution);
}

/**
 * How far a value that raised an alarm must move on to be worse: a tenth, and never within its own noise. A temperature,
 * which drifts for many minutes: 5 K, or as much as it was beyond the edge already.
 */
export function realStep(sample: Sample, from: number, edge: number): number {
  const step = isTemperature(sample.prediction.unit)
    ? Math.max(REAL_STEP_KELVIN, Math.abs(from - edge))
    : REAL_STEP_SHARE * Math.max(Math.abs(from), Math.abs(edge));
  return Math.max(step, sampleDeadband(sample));
}

/** Whether the unit is that of a temperature. */
export function isTemperature(unit: PointUnit): boolean {
  return unit === 'degC';
}
