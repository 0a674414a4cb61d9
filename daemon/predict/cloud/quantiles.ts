import { ascendingOrder } from './order.js';

/**
 * The values below which the shares lie, each share from 0 to 1, ascending. With weights (not negative, any sum) each
 * value counts by its weight. Linear between the middles of the values' weights (Hyndman and Fan, The American
 * Statistician 50 (1996), definition 5).
 */
export function quantiles(values: Float64Array, shares: readonly number[], weights?: Float64Array): number[] {
  const order = ascendingOrder(values);
  const total = weights === undefined ? values.length : weights.reduce((sum, weight) => sum + weight, 0);
  const found: number[] = [];
  let before = 0;
  let middleBefore = 0;
  let valueBefore = values[order[0]!]!;
  for (let rank = 0; rank < order.length && found.length < shares.length; rank += 1) {
    const weight = weights === undefined ? 1 : weights[order[rank]!]!;
    if (weight === 0) continue;
    const value = values[order[rank]!]!;
    const middle = (before + weight / 2) / total;
    while (found.length < shares.length && shares[found.length]! <= middle) {
      const span = middle - middleBefore;
      const part = before === 0 || span === 0 ? 1 : (shares[found.length]! - middleBefore) / span;
      found.push(valueBefore + part * (value - valueBefore));
    }
    before += weight;
    middleBefore = middle;
    valueBefore = value;
  }
  while (found.length < shares.length) found.push(valueBefore);
  return found;
}
