import type { Spread } from '../design/parts/spread.js';
import { unloadedPeak } from '../design/raw-peak.js';
import { coolingAdvice } from './advice-cooling.js';
import { dropoutAdvice, minimumLoadAdvice, regulatorAmpsAdvice } from './advice-rail.js';
import {
  capacitorAmpsAdvice,
  capacitorVoltsAdvice,
  inputVoltsAdvice,
  transformerAdvice,
} from './advice-raw.js';
import { mainsVolts } from './mains.js';
import type { Advice, PredictOptions } from './prediction.js';
import { mapSupply, supplyOf, type Supply, type SupplyFacts } from './supply.js';
import { workOut, type SupplyState } from './work-out.js';

/** The supply in the states that advice looks at. Every value is typical but those named. */
export interface AdviceStates {
  readonly facts: SupplyFacts;
  readonly mains: Spread;
  /** All rails at full load. */
  readonly full: SupplyState;
  /** Full load, highest mains, highest ambient. */
  readonly fullHot: SupplyState;
  /** Full load, lowest mains. */
  readonly fullLow: SupplyState;
  /** The same with a reservoir of so many farads, or another winding. */
  readonly fullLowWith: (change: { readonly farads?: number; readonly windingVolts?: number }) => SupplyState;
  /** Volts that the reservoir charges to with nothing drawn on the highest mains. */
  readonly highestPeak: number;
}

const ORDER = ['destroys', 'misbehaves', 'note'] as const;

/** What the person should know or change before power, most destructive first. */
export function adviceOn(facts: SupplyFacts, options: PredictOptions): Advice[] {
  const states = statesOf(facts, options);
  const rails = Object.keys(facts.design.rails);
  const advice = [
    ...rails.flatMap((rail) => coolingAdvice(rail, states)),
    ...capacitorVoltsAdvice(states),
    ...rails.flatMap((rail) => inputVoltsAdvice(rail, states)),
    ...transformerAdvice(states),
    ...rails.flatMap((rail) => dropoutAdvice(rail, states)),
    ...capacitorAmpsAdvice(states),
    ...rails.flatMap((rail) => regulatorAmpsAdvice(rail, states)),
    ...rails.flatMap((rail) => minimumLoadAdvice(rail, states)),
  ];
  return advice.sort((a, b) => ORDER.indexOf(a.severity) - ORDER.indexOf(b.severity));
}

function statesOf(facts: SupplyFacts, options: PredictOptions): AdviceStates {
  const mains = mainsVolts(facts.design.mains, options.mainsVolts);
  const hottest = options.ambient ?? facts.design.mains.ambient.highest;
  const supply = mapSupply(supplyOf(facts, { ...options, load: 'full' }), ({ typical }) => typical);
  const at = (change: Partial<Supply<number>['circuit']>) =>
    workOut(facts, { ...supply, circuit: { ...supply.circuit, ...change } });
  return {
    facts,
    mains,
    full: at({ mainsVolts: mains.typical }),
    fullHot: at({ mainsVolts: mains.high, ambient: hottest }),
    fullLow: at({ mainsVolts: mains.low }),
    fullLowWith: (change) => at({ mainsVolts: mains.low, ...change }),
    highestPeak: unloadedPeak(
      facts.winding,
      { kind: facts.design.rectifier.kind, law: facts.diode },
      mains.high / facts.design.mains.volts,
    ),
  };
}
