import { drawSpread } from '../cloud/draws.js';
import type { SupplyCloud } from '../supply-cloud.js';
import type { Model } from './model.js';

/**
 * Draws a cloud of supplies: scrambled Sobol' points through each number's spread. The same seed gives the same cloud,
 * and a faulty supply's numbers are drawn like the healthy one's of the same place. Throws as `evaluate` does.
 */
export function drawModelCloud(
  model: Model,
  { draws, seed }: { readonly draws: number; readonly seed: number },
): SupplyCloud {
  const { parameters, outputs } = model;
  const inputs = parameters.map((parameter, dimension) => {
    const column = new Float64Array(draws);
    drawSpread(column, parameter, dimension, seed);
    return column;
  });
  const columns = outputs.map(() => new Float64Array(draws));
  const vector = new Float64Array(parameters.length);
  const results = new Float64Array(outputs.length);
  for (let draw = 0; draw < draws; draw += 1) {
    for (let k = 0; k < vector.length; k += 1) vector[k] = inputs[k]![draw]!;
    model.evaluate(vector, results);
    for (let k = 0; k < results.length; k += 1) columns[k]![draw] = results[k]!;
  }
  return {
    seed,
    draws,
    names: parameters.map(({ name }) => name),
    inputs,
    results: Object.fromEntries(outputs.map((id, k) => [id, columns[k]!])),
  };
}
