/**
 * How much of a result's variance each uncertain value explains on its own: the squared correlation of the two (the
 * first-order index of a model that is near linear; Saltelli et al., Global Sensitivity Analysis (2008), 1.2.5).
 * @returns one signed number a column: the index, with the sign of the correlation; 0 for what doesn't vary
 */
export function varianceShares(columns: readonly Float64Array[], result: Float64Array): number[] {
  const mean = meanOf(result);
  let variance = 0;
  for (const value of result) variance += (value - mean) ** 2;
  return columns.map((column) => {
    const centre = meanOf(column);
    let own = 0;
    let common = 0;
    for (let draw = 0; draw < column.length; draw += 1) {
      const offset = column[draw]! - centre;
      own += offset * offset;
      common += offset * (result[draw]! - mean);
    }
    if (own === 0 || variance === 0) return 0;
    return Math.sign(common) * (common / Math.sqrt(own * variance)) ** 2;
  });
}

function meanOf(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}
