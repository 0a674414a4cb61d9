import { cholesky, solveCholesky } from '../../predict/cloud/cholesky.js';
import type { Component } from './model.js';
import type { Mark } from './settled.js';

export interface Normal {
  readonly mean: number;
  readonly variance: number;
}

/**
 * How far the readings are off a component's means, and the Cholesky factor of the covariance that they have among its
 * supplies, their own doubt counted in.
 */
export function marked(
  { mean, covariance }: Component,
  marks: readonly Mark[],
): { readonly lower: Float64Array; readonly off: Float64Array } {
  const count = marks.length;
  const matrix = new Float64Array(count * count);
  const off = new Float64Array(count);
  marks.forEach(({ place, value, doubt }, row) => {
    off[row] = value - mean[place]!;
    marks.forEach((other, column) => {
      matrix[row * count + column] = covariance[place * mean.length + other.place]!;
    });
    matrix[row * count + row]! += doubt ** 2;
  });
  return { lower: cholesky(matrix, count), off };
}

/**
 * What other places of a component are once some were measured: the normal distribution given the readings (Anderson,
 * An Introduction to Multivariate Statistical Analysis, 2.5).
 */
export function conditionals(
  component: Component,
  marks: readonly Mark[],
  places: readonly number[],
): Normal[] {
  const { mean, covariance } = component;
  const { lower, off } = marked(component, marks);
  const width = mean.length;
  const count = marks.length;
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
