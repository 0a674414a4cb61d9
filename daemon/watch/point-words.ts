import type { Prediction } from '../predict/prediction.js';
import { predictionOf } from './sample.js';

/** What a person calls the point, as a sentence begins. */
export function subject(prediction: Prediction, point: string): string {
  const label = pointLabel(prediction, point);
  return `${label.slice(0, 1).toUpperCase()}${label.slice(1)}`;
}

/** What a person calls the point, within a sentence. */
export function pointLabel(prediction: Prediction, point: string): string {
  return predictionOf(prediction, point)?.label ?? point;
}

export function spokenPoint(point: string): string {
  return point.replaceAll(/[.-]/g, ' ');
}
