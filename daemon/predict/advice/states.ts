import type { Design } from '../../design/design.js';
import { diodeOf } from '../../design/own-parts.js';
import type { Spread } from '../../design/parts/spread.js';
import { windingOf } from '../../design/parts/transformers.js';
import { unloadedPeak } from '../../design/raw-peak.js';
import { describeDesign } from '../engine/description.js';
import type { SupplyModel } from '../engine/model.js';
import { supplyModel } from '../engine/model.js';
import type { SupplyDescription } from '../engine/supply.js';
import { mainsVolts } from '../mains.js';
import type { PredictOptions } from '../prediction.js';
import { solveSwitchOn } from '../rectifier/switch-on.js';
import type { SupplyState } from '../supply-state.js';
import { stateAt } from '../supply-state.js';

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
  /** Volts that a reservoir charges to with nothing drawn on the highest mains. */
  readonly highestPeak: number;
  /** Highest current of a diode when the switch is thrown at the worst moment on the highest mains, A. */
  readonly inrushAmps: number;
}

/** Works the states out. @throws {SupplyError} as the model does. */
export function statesOf(design: Design, options: PredictOptions): AdviceStates {
  const mains = mainsVolts(design.mains, options.mainsVolts);
  const description = describeDesign(design, options);
  const model = supplyModel(description, 'full');
  const hottest = options.ambient ?? design.mains.ambient.highest;
  const full = stateAt(model, {});
  const fullLow = stateAt(model, { mainsVolts: mains.low });
  const fullHot = stateAt(model, { mainsVolts: mains.high, ambient: hottest });
  return {
    design,
    description,
    mains,
    full,
    fullHot,
    fullLow,
    highestPeak: highestPeakOf(design, mains.high),
    inrushAmps: inrushOf(model),
  };
}

/** Of the state that the model was left in. */
function inrushOf({ reservoir, negativeReservoir }: SupplyModel): number {
  return [reservoir, negativeReservoir].reduce(
    (most, node) =>
      node === null ? most : Math.max(most, solveSwitchOn(node.unfiltered()).inrushPeakCurrent),
    0,
  );
}

/** @throws {RangeError} for a diode that isn't known; a loaded design has none such. */
function highestPeakOf(design: Design, highestMains: number): number {
  const { rectifier, transformer, mains } = design;
  const law = diodeOf(design)?.law;
  if (law === undefined) throw new RangeError(`diode "${rectifier.diode}" isn't in the part library`);
  const winding = windingOf(transformer, rectifier.kind);
  return unloadedPeak(winding, { kind: rectifier.kind, law }, highestMains / mains.volts);
}
