import type { Design } from '../design/design.js';
import type { Spread } from '../design/parts/spread.js';
import { describeDesign } from './engine/description.js';
import { faultModels } from './engine/faults.js';
import { supplyModel } from './engine/model.js';
import { drawModelCloud } from './engine/model-cloud.js';
import { SupplyError } from './engine/supply-error.js';
import type { PredictOptions } from './prediction.js';
import type { SupplyCloud } from './supply-cloud.js';
import { cloudBands } from './supply-cloud.js';

/** Enough for a band of each result; every fault has a cloud of its own. */
export const FAULT_DRAWS = 2000;

/** Supplies built from one design that all have the same fault, at its whole size. */
export interface FaultCloud {
  /** Stable word, `heatsink-missing`. */
  readonly fault: string;
  /** The part or rail that has it. */
  readonly about: string;
  /** For a person: `the lamps regulator stands without its heatsink`. */
  readonly title: string;
  /** Null where a supply with this fault has no steady state. */
  readonly cloud: SupplyCloud | null;
  /** Why there is no cloud; empty when there is one. */
  readonly trouble: string;
}

/**
 * The cloud of every known fault of a design, one after the other. The same seed draws the same parts as the healthy
 * cloud, so that the two differ by the fault alone.
 */
export function* faultClouds(design: Design, options: PredictOptions): Generator<FaultCloud> {
  const { load, seed = 0, draws = FAULT_DRAWS } = options;
  for (const { fault, about, title, apply } of faultModels(describeDesign(design, options))) {
    try {
      const cloud = drawModelCloud(supplyModel(apply(1), load), { draws, seed });
      yield { fault, about, title, cloud, trouble: '' };
    } catch (error) {
      if (!(error instanceof SupplyError)) throw error;
      yield { fault, about, title, cloud: null, trouble: error.message };
    }
  }
}

/** Every known fault of a design, without working out what it would read. */
export function knownFaults(design: Design): readonly Pick<FaultCloud, 'fault' | 'about' | 'title'>[] {
  return faultModels(describeDesign(design)).map(({ fault, about, title }) => ({ fault, about, title }));
}

/** What a fault makes every test point read. */
export interface FaultBands extends Omit<FaultCloud, 'cloud'> {
  readonly points: Readonly<Record<string, Spread>>;
}

export function faultBands({ cloud, ...fault }: FaultCloud): FaultBands {
  const bands = cloud === null ? [] : Object.entries(cloudBands(cloud));
  const points = bands.map(([id, { low, typical, high }]) => [id, { low, typical, high }] as const);
  return { ...fault, points: Object.fromEntries(points) };
}
