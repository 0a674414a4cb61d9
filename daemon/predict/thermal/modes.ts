import { conductanceMatrix, steadyNetwork } from './network.js';
import type { ThermalNetwork } from './network.js';

/** A network split into motions that each die away on their own. */
export interface ThermalModes {
  readonly network: ThermalNetwork;
  /** s, slowest first. */
  readonly timeConstants: Float64Array;
  /** Orthonormal vectors in scaled rises √C·(T − air), one mode a row. */
  readonly vectors: Float64Array;
}

/**
 * Eigen-decomposition of C^(−1/2)·G·C^(−1/2), which is symmetric and positive, by cyclic Jacobi rotations
 * (Golub and Van Loan, Matrix Computations, 8.5). Rates are the eigenvalues; time constants their inverses.
 */
export function modesOf(network: ThermalNetwork): ThermalModes {
  const size = network.names.length;
  const matrix = conductanceMatrix(network);
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < size; column++) {
      matrix[row * size + column]! /= Math.sqrt(network.capacities[row]! * network.capacities[column]!);
    }
  }
  const vectors = new Float64Array(size * size);
  for (let k = 0; k < size; k++) vectors[k * size + k] = 1;
  for (let sweep = 0; sweep < 60 && offDiagonal(matrix, size) > 0; sweep++) {
    for (let p = 0; p < size - 1; p++) {
      for (let q = p + 1; q < size; q++) rotate(matrix, vectors, size, p, q);
    }
  }
  return sorted(network, matrix, vectors, size);
}

/**
 * Temperatures (°C) after `seconds` of constant heat `watts` into the nodes, from `start` (all at air when left out).
 * Closed form: each mode's distance from its end falls by e^(−t/τ).
 */
export function temperaturesAfter(
  modes: ThermalModes,
  seconds: number,
  watts: ArrayLike<number>,
  air: number,
  start?: ArrayLike<number>,
): Float64Array {
  const { network, timeConstants, vectors } = modes;
  const size = timeConstants.length;
  const end = steadyNetwork(network, watts, air);
  const result = Float64Array.from(end);
  for (let mode = 0; mode < size; mode++) {
    let amplitude = 0;
    for (let node = 0; node < size; node++) {
      const from = start === undefined ? air : start[node]!;
      amplitude += vectors[mode * size + node]! * Math.sqrt(network.capacities[node]!) * (from - end[node]!);
    }
    amplitude *= Math.exp(-seconds / timeConstants[mode]!);
    for (let node = 0; node < size; node++) {
      result[node]! += (amplitude * vectors[mode * size + node]!) / Math.sqrt(network.capacities[node]!);
    }
  }
  return result;
}

/** Share of each node's end rise that each mode carries for heat into one node; rows as modes, columns as nodes. */
export function modeShares(modes: ThermalModes, heatedNode: number): Float64Array {
  const { network, timeConstants, vectors } = modes;
  const size = timeConstants.length;
  const watts = new Float64Array(size);
  watts[heatedNode] = 1;
  const end = steadyNetwork(network, watts, 0);
  const shares = new Float64Array(size * size);
  for (let mode = 0; mode < size; mode++) {
    const drive =
      (vectors[mode * size + heatedNode]! / Math.sqrt(network.capacities[heatedNode]!)) *
      timeConstants[mode]!;
    for (let node = 0; node < size; node++) {
      shares[mode * size + node] =
        (drive * vectors[mode * size + node]!) / Math.sqrt(network.capacities[node]!) / end[node]!;
    }
  }
  return shares;
}

function offDiagonal(matrix: Float64Array, size: number): number {
  let sum = 0;
  for (let row = 0; row < size; row++) {
    for (let column = row + 1; column < size; column++) sum += matrix[row * size + column]! ** 2;
  }
  return sum;
}

/** One Jacobi rotation that clears element (p, q). */
function rotate(matrix: Float64Array, vectors: Float64Array, size: number, p: number, q: number): void {
  const off = matrix[p * size + q]!;
  const scale = Math.abs(matrix[p * size + p]!) + Math.abs(matrix[q * size + q]!);
  if (Math.abs(off) <= 1e-18 * scale) {
    matrix[p * size + q] = matrix[q * size + p] = 0;
    return;
  }
  const theta = (matrix[q * size + q]! - matrix[p * size + p]!) / (2 * off);
  const t = Math.sign(theta || 1) / (Math.abs(theta) + Math.hypot(1, theta));
  const c = 1 / Math.hypot(1, t);
  const s = t * c;
  for (let k = 0; k < size; k++) {
    const left = matrix[k * size + p]!;
    const right = matrix[k * size + q]!;
    matrix[k * size + p] = c * left - s * right;
    matrix[k * size + q] = s * left + c * right;
  }
  for (let k = 0; k < size; k++) {
    const left = matrix[p * size + k]!;
    const right = matrix[q * size + k]!;
    matrix[p * size + k] = c * left - s * right;
    matrix[q * size + k] = s * left + c * right;
    const first = vectors[p * size + k]!;
    const second = vectors[q * size + k]!;
    vectors[p * size + k] = c * first - s * second;
    vectors[q * size + k] = s * first + c * second;
  }
}

function sorted(
  network: ThermalNetwork,
  matrix: Float64Array,
  vectors: Float64Array,
  size: number,
): ThermalModes {
  const order = [...network.names.keys()].sort((a, b) => matrix[a * size + a]! - matrix[b * size + b]!);
  const arranged = new Float64Array(size * size);
  const timeConstants = new Float64Array(size);
  order.forEach((from, to) => {
    timeConstants[to] = 1 / matrix[from * size + from]!;
    arranged.set(vectors.subarray(from * size, (from + 1) * size), to * size);
  });
  return { network, timeConstants, vectors: arranged };
}
