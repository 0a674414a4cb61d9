/**
 * How much of a result's variance each uncertain value explains on its own: the squared correlation of the two (the
 * first-order index of a model that is near linear; Saltelli et al., Global Sensitivity Analysis (2008), 1.2.5).
 * @param weights how much each draw counts, of any sum; all alike when left out
 * @returns one signed number a column: the index, with the sign of the correlation; 0 for what doesn't vary
 */
export function varianceShares(
  columns: readonly Float64Array[],
  result: Float64Array,
  weights: Float64Array = new Float64Array(result.length).fill(1),
): number[] {
  const mean = meanOf(result, weights);
  let variance = 0;
  for (let draw = 0; draw < result.length; draw += 1)
    variance += weights[draw]! * (result[draw]! - mean) ** 2;
  return columns.map((column) => {
    const centre = meanOf(column, weights);
    let own = 0;
    let common = 0;
    for (let draw = 0; draw < column.length; draw += 1) {
      const offset = column[draw]! - centre;
      own += weights[draw]! * offset * offset;
      common += weights[draw]! * offset * (result[draw]! - mean);
    }
    if (own === 0 || variance === 0) return 0;
    return Math.sign(common) * (common / Math.sqrt(own * variance)) ** 2;
  });
}

function meanOf(values: Float64Array, weights: Float64Array): number {
  let sum = 0;
  let total = 0;
  for (let draw = 0; draw < values.length; draw += 1) {
    sum += weights[draw]! * values[draw]!;
    total += weights[draw]!;
  }
  return sum / total;
}
