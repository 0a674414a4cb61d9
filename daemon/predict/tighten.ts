import type { MeasuredCloud } from './engine/measured-cloud.js';
import type { Prediction } from './prediction.js';
import { sourceWords } from './source-words.js';
import { cloudBands } from './supply-cloud.js';

/**
 * The prediction with every band as it is once something was measured. Limits, nominal values and worst corners stay:
 * measuring a supply doesn't change what its parts survive, nor what was written.
 */
export function tightened(prediction: Prediction, { cloud, weights }: MeasuredCloud): Prediction {
  const bands = cloudBands(cloud, weights.shares);
  const points = Object.entries(prediction.points).map(([id, point]) => {
    const band = bands[id];
    if (band === undefined) return [id, point] as const;
    const { low, typical, high, shares } = band;
    const widthFrom = shares.map(({ from, share }) => ({ from: sourceWords(from), share }));
    return [id, { ...point, low, typical, high, widthFrom }] as const;
  });
  return { ...prediction, points: Object.fromEntries(points) };
}
