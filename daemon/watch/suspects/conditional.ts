import { cholesky, solveCholesky } from '../../predict/cloud/cholesky.js';
import type { Component } from './model.js';
import type { Mark } from './posterior.js';

export interface Normal {
  readonly mean: number;
  readonly variance: number;
}

/**
 * The places of a component once its other places were measured: the normal distribution given the readings
 * (Anderson, An Introduction to Multivariate Statistical Analysis, 2.5).
 */
export function conditionals(
  { mean, covariance }: Component,
  marks: readonly Mark[],
  places: readonly number[],
): Normal[] {
  const count = marks.length;
  const width = mean.length;
  const matrix = new Float64Array(count * count);
  const off = new Float64Array(count);
  marks.forEach(({ place, value, doubt }, row) => {
    off[row] = value - mean[place]!;
    marks.forEach((other, column) => {
      matrix[row * count + column] = covariance[place * width + other.place]!;
    });
    matrix[row * count + row]! += doubt ** 2;
  });
  const lower = cholesky(matrix, count);
  return places.map((place) => {
    const shared = Float64Array.from(marks, (mark) => covariance[place * width + mark.place]!);
    const pull = solveCholesky(lower, shared, count);
    let middle = mean[place]!;
    let variance = covariance[place * width + place]!;
    for (let row = 0; row < count; row += 1) {
      middle += pull[row]! * off[row]!;
      variance -= pull[row]! * shared[row]!;
    }
    return { mean: middle, variance: Math.max(0, variance) };
  });
}
