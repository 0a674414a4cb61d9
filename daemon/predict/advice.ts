import type { Design } from '../design/design.js';
import { diodeOf } from '../design/own-parts.js';
import type { Spread } from '../design/parts/spread.js';
import { windingOf } from '../design/parts/transformers.js';
import { unloadedPeak } from '../design/raw-peak.js';
import { coolingAdvice } from './advice-cooling.js';
import { dropoutAdvice, minimumLoadAdvice, regulatorAmpsAdvice } from './advice-rail.js';
import {
  capacitorAmpsAdvice,
  capacitorVoltsAdvice,
  inputVoltsAdvice,
  transformerAdvice,
} from './advice-raw.js';
import { describeDesign } from './engine/description.js';
import { supplyModel } from './engine/model.js';
import type { SupplyDescription } from './engine/supply.js';
import { mainsVolts } from './mains.js';
import type { Advice, PredictOptions } from './prediction.js';
import { stateAt } from './supply-state.js';
import type { SupplyState } from './supply-state.js';

/** The supply in the states that advice looks at. Every value is typical but those named. */
export interface AdviceStates {
  readonly design: Design;
  readonly description: SupplyDescription;
  readonly mains: Spread;
  /** All rails at full load. */
  readonly full: SupplyState;
  /** Full load, highest mains, highest ambient. */
  readonly fullHot: SupplyState;
  /** Full load, lowest mains. */
  readonly fullLow: SupplyState;
  /** The same with other numbers, by their names in the model: `farads`, `windingVolts`. */
  readonly fullLowWith: (change: Readonly<Record<string, number>>) => SupplyState;
  /** Volts that a reservoir charges to with nothing drawn on the highest mains. */
  readonly highestPeak: number;
}

const ORDER = ['destroys', 'misbehaves', 'note'] as const;

/** What the person should know or change before power, most destructive first. */
export function adviceOn(design: Design, options: PredictOptions): Advice[] {
  const states = statesOf(design, options);
  const rails = Object.keys(design.rails);
  const reservoirs = [...states.full.reservoirs.keys()];
  const advice = [
    ...[...states.full.heated.keys()].flatMap((part) => coolingAdvice(part, states)),
    ...reservoirs.flatMap((reservoir) => capacitorVoltsAdvice(reservoir, states)),
    ...rails.flatMap((rail) => inputVoltsAdvice(rail, states)),
    ...transformerAdvice(states),
    ...rails.flatMap((rail) => dropoutAdvice(rail, states)),
    ...reservoirs.flatMap((reservoir) => capacitorAmpsAdvice(reservoir, states)),
    ...rails.flatMap((rail) => regulatorAmpsAdvice(rail, states)),
    ...rails.flatMap((rail) => minimumLoadAdvice(rail, states)),
  ];
  return advice.sort((a, b) => ORDER.indexOf(a.severity) - ORDER.indexOf(b.severity));
}

function statesOf(design: Design, options: PredictOptions): AdviceStates {
  const mains = mainsVolts(design.mains, options.mainsVolts);
  const description = describeDesign(design, options);
  const model = supplyModel(description, 'full');
  const hottest = options.ambient ?? design.mains.ambient.highest;
  return {
    design,
    description,
    mains,
    full: stateAt(model, {}),
    fullHot: stateAt(model, { mainsVolts: mains.high, ambient: hottest }),
    fullLow: stateAt(model, { mainsVolts: mains.low }),
    fullLowWith: (change) => stateAt(model, { mainsVolts: mains.low, ...change }),
    highestPeak: highestPeakOf(design, mains.high),
  };
}

/** @throws {RangeError} for a diode that isn't known; a loaded design has none such. */
function highestPeakOf(design: Design, highestMains: number): number {
  const { rectifier, transformer, mains } = design;
  const law = diodeOf(design)?.law;
  if (law === undefined) throw new RangeError(`diode "${rectifier.diode}" isn't in the part library`);
  const winding = windingOf(transformer, rectifier.kind);
  return unloadedPeak(winding, { kind: rectifier.kind, law }, highestMains / mains.volts);
}
