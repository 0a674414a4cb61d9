import { readFileSync } from 'node:fs';
import type { Design, LoadState } from '../../daemon/design/design.js';
import { loadDesign } from '../../daemon/design/load.js';
import { ExpectedBands } from '../../daemon/expected-bands.js';
import { loadBands } from '../../daemon/predict/load-bands.js';
import { predict } from '../../daemon/predict/predict.js';
import type { WatchPlan } from '../../daemon/watch/plan.js';
import { supplyPlan } from '../../daemon/watch/supply-plan.js';

/** A supply that is run, with what takes long to work out kept for all its sessions. */
export interface RunDesign {
  readonly name: string;
  readonly design: Design;
  readonly bands: ExpectedBands;
  planFor(load: LoadState): Omit<WatchPlan, 'channels'>;
}

/** The examples, three of them in the form that the simulated bench can build: every rail on one reservoir. */
export function runDesigns(): readonly RunDesign[] {
  return [example('signal-cabin'), crossing(), crane(), turntable()].map(runDesign);
}

function runDesign(design: Design): RunDesign {
  const plans = new Map<LoadState, Omit<WatchPlan, 'channels'>>();
  const loads = loadBands(design, {});
  return {
    name: design.design,
    design,
    bands: new ExpectedBands(design, 0),
    planFor(load) {
      const known = plans.get(load);
      if (known !== undefined) return known;
      const prediction = predict(design, { load });
      const plan = { prediction, loads, supply: supplyPlan(design, prediction) };
      plans.set(load, plan);
      return plan;
    },
  };
}

function example(name: string): Design {
  const file = `daemon/design/examples/${name}/${name}.design.yaml`;
  return loadDesign(readFileSync(file, 'utf8'), file);
}

/** The 5 V regulator on the reservoir instead of the 12 V rail, on a heatsink for that. */
function crossing(): Design {
  const design = example('level-crossing');
  const flasher = design.rails['flasher']!;
  const cooling = { ...flasher.cooling!, heatsink: 8 };
  return { ...design, rails: { ...design.rails, flasher: { ...flasher, from: 'reservoir', cooling } } };
}

/** Without its ripple filter, and the regulator on a heatsink of its own. */
function crane(): Design {
  const design = without(example('goods-crane'), 'filter', 'parts', 'heatsinks');
  const rail = design.rails['crane']!;
  const cooling = { ...rail.cooling!, package: 'TO-3', heatsink: 0.9 };
  return { ...design, rails: { crane: { ...rail, from: 'reservoir', cooling } } };
}

/** The positive half: a centre-tapped winding and two diodes. */
function turntable(): Design {
  const design = without(example('turntable'), 'negative_reservoir');
  return {
    ...design,
    rectifier: { ...design.rectifier, kind: 'centre-tap' },
    rails: { plus: design.rails['plus']! },
  };
}

function without(design: Design, ...keys: readonly (keyof Design)[]): Design {
  const left = Object.entries(design).filter(([key]) => !keys.includes(key as keyof Design));
  return Object.fromEntries(left) as unknown as Design;
}
