/**
 * The lower triangular factor of a symmetric positive definite matrix, row by row (Golub and Van Loan, Matrix
 * Computations, 4.2).
 * @throws {RangeError} for a matrix that isn't positive definite.
 */
export function cholesky(matrix: Float64Array, size: number): Float64Array {
  const lower = new Float64Array(size * size);
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column <= row; column += 1) {
      let sum = matrix[row * size + column]!;
      for (let k = 0; k < column; k += 1) sum -= lower[row * size + k]! * lower[column * size + k]!;
      if (row !== column) {
        lower[row * size + column] = sum / lower[column * size + column]!;
        continue;
      }
      if (!(sum > 0)) throw new RangeError(`the matrix isn't positive definite: row ${row} leaves ${sum}`);
      lower[row * size + row] = Math.sqrt(sum);
    }
  }
  return lower;
}

/** x with L L' x = b. */
export function solveCholesky(lower: Float64Array, b: Float64Array, size: number): Float64Array {
  const x = b.slice();
  for (let row = 0; row < size; row += 1) {
    for (let k = 0; k < row; k += 1) x[row]! -= lower[row * size + k]! * x[k]!;
    x[row]! /= lower[row * size + row]!;
  }
  return solveTransposed(lower, x, size);
}

/** x with L' x = b; writes it over b. */
export function solveTransposed(lower: Float64Array, b: Float64Array, size: number): Float64Array {
  for (let row = size - 1; row >= 0; row -= 1) {
    for (let k = row + 1; k < size; k += 1) b[row]! -= lower[k * size + row]! * b[k]!;
    b[row]! /= lower[row * size + row]!;
  }
  return b;
}
