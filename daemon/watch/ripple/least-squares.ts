import { cholesky, solveCholesky } from '../../predict/cloud/cholesky.js';

/** Share of its own diagonal added to each: columns that the samples can't tell apart then share their coefficient. */
const RIDGE = 1e-10;

/**
 * The normal equations of a weighted linear least-squares fit, gathered row by row (Golub and Van Loan, Matrix
 * Computations, 5.3). Only the lower triangle of `matrix` is filled.
 */
export interface NormalEquations {
  readonly size: number;
  readonly matrix: Float64Array;
  readonly right: Float64Array;
  /** Weighted sum of the squared values. */
  square: number;
}

export function normalEquations(size: number): NormalEquations {
  return { size, matrix: new Float64Array(size * size), right: new Float64Array(size), square: 0 };
}

/** Adds one observation: its `row` of basis functions and its value. */
export function addRow(
  equations: NormalEquations,
  row: ArrayLike<number>,
  value: number,
  weight: number,
): void {
  const { size, matrix, right } = equations;
  for (let i = 0; i < size; i += 1) {
    const weighted = weight * row[i]!;
    right[i]! += weighted * value;
    for (let j = 0; j <= i; j += 1) matrix[i * size + j]! += weighted * row[j]!;
  }
  equations.square += weight * value * value;
}

/** The coefficients, the factor they were found with and the weighted sum of the squared residuals. */
export interface Solution {
  readonly coefficients: Float64Array;
  readonly lower: Float64Array;
  readonly residual: number;
}

/** The least-squares solution; null where a column has nothing to rest on. */
export function solveNormal({ size, matrix, right, square }: NormalEquations): Solution | null {
  const ridged = matrix.slice();
  for (let i = 0; i < size; i += 1) {
    if (!(ridged[i * size + i]! > 0)) return null;
    ridged[i * size + i]! *= 1 + RIDGE;
  }
  const lower = cholesky(ridged, size);
  const coefficients = solveCholesky(lower, right, size);
  let explained = 0;
  for (let i = 0; i < size; i += 1) explained += coefficients[i]! * right[i]!;
  return { coefficients, lower, residual: Math.max(0, square - explained) };
}
