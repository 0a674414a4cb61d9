import type { Ladder } from './ladder.js';

/** Lumps joined by conductances to each other and to the air. */
export interface ThermalNetwork {
  readonly names: readonly string[];
  /** J/K, above zero. */
  readonly capacities: Float64Array;
  /** W/K between nodes, row by row; symmetric, the diagonal unused. */
  readonly links: Float64Array;
  /** W/K from each node to the air. */
  readonly toAir: Float64Array;
}

/** A part on a shared heatsink: its own ladder ends at the heatsink instead of the air. */
export interface MountedPart {
  readonly name: string;
  readonly ladder: Ladder;
}

/** A ladder as a network: heat enters at node 0. */
export function ladderNetwork(ladder: Ladder): ThermalNetwork {
  const network = emptyNetwork(
    ladder.map((stage) => stage.name),
    ladder.map((stage) => stage.capacity),
  );
  ladder.forEach((stage, k) => {
    if (k + 1 < ladder.length) link(network, k, k + 1, stage.resistance);
    else network.toAir[k] = 1 / stage.resistance;
  });
  return network;
}

/**
 * Several parts on one heatsink. Node 0 is the heatsink; each part's stages follow in its order, named
 * `<part>.<stage>`. `resistance` is the heatsink's to the air, K/W.
 */
export function sharedHeatsinkNetwork(
  parts: readonly MountedPart[],
  heatsink: { readonly capacity: number; readonly resistance: number },
): ThermalNetwork {
  const stages = parts.flatMap((part) =>
    part.ladder.map((stage) => ({ ...stage, name: `${part.name}.${stage.name}` })),
  );
  const network = emptyNetwork(
    ['heatsink', ...stages.map((stage) => stage.name)],
    [heatsink.capacity, ...stages.map((stage) => stage.capacity)],
  );
  network.toAir[0] = 1 / heatsink.resistance;
  let node = 1;
  for (const part of parts) {
    part.ladder.forEach((stage, k) => {
      link(network, node, k + 1 < part.ladder.length ? node + 1 : 0, stage.resistance);
      node++;
    });
  }
  return network;
}

/** The node called `name`; a RangeError that lists the names when there is none. */
export function nodeOf(network: ThermalNetwork, name: string): number {
  const node = network.names.indexOf(name);
  if (node < 0) throw new RangeError(`no thermal node ${name}; there are ${network.names.join(', ')}`);
  return node;
}

/** W/K matrix whose product with the rises over the air is the heat put into each node; row by row. */
export function conductanceMatrix(network: ThermalNetwork): Float64Array {
  const size = network.names.length;
  const matrix = new Float64Array(size * size);
  for (let row = 0; row < size; row++) {
    let sum = network.toAir[row]!;
    for (let column = 0; column < size; column++) {
      if (column === row) continue;
      const conductance = network.links[row * size + column]!;
      matrix[row * size + column] = -conductance;
      sum += conductance;
    }
    matrix[row * size + row] = sum;
  }
  return matrix;
}

/** Temperatures of all nodes after a long time with `watts` put into them, °C. */
export function steadyNetwork(network: ThermalNetwork, watts: ArrayLike<number>, air: number): Float64Array {
  const size = network.names.length;
  const matrix = conductanceMatrix(network);
  const rises = Float64Array.from(watts);
  for (let pivot = 0; pivot < size; pivot++) {
    for (let row = pivot + 1; row < size; row++) {
      const factor = matrix[row * size + pivot]! / matrix[pivot * size + pivot]!;
      if (factor === 0) continue;
      for (let column = pivot; column < size; column++) {
        matrix[row * size + column]! -= factor * matrix[pivot * size + column]!;
      }
      rises[row]! -= factor * rises[pivot]!;
    }
  }
  for (let row = size - 1; row >= 0; row--) {
    for (let column = row + 1; column < size; column++) {
      rises[row]! -= matrix[row * size + column]! * rises[column]!;
    }
    rises[row]! /= matrix[row * size + row]!;
  }
  return rises.map((rise) => rise + air);
}

function emptyNetwork(names: readonly string[], capacities: readonly number[]): ThermalNetwork {
  capacities.forEach((capacity, k) => {
    if (!(capacity > 0)) {
      throw new RangeError(
        `thermal node ${names[k]} needs a heat capacity above 0 J/K, not ${capacity}; add it to its neighbour if it stores nothing`,
      );
    }
  });
  const size = names.length;
  return {
    names,
    capacities: Float64Array.from(capacities),
    links: new Float64Array(size * size),
    toAir: new Float64Array(size),
  };
}

function link(network: ThermalNetwork, from: number, to: number, resistance: number): void {
  if (!(resistance > 0)) {
    throw new RangeError(
      `from ${network.names[from]} to ${network.names[to]} there must be more than 0 K/W, not ${resistance}`,
    );
  }
  const size = network.names.length;
  network.links[from * size + to] = network.links[to * size + from] = 1 / resistance;
}
