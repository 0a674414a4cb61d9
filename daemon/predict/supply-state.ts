import type { LoadState } from '../design/design.js';
import type { FilterModel } from './engine/filter-model.js';
import type { SupplyModel } from './engine/model.js';
import type { RailModel } from './engine/rail-model.js';
import type { ReservoirModel } from './engine/reservoir-model.js';

/** A whole supply in the steady state, every number of it known; magnitudes. */
export interface SupplyState {
  readonly load: LoadState;
  /** Air around the parts, degrees C. */
  readonly air: number;
  /** In the winding, or in one half, A RMS. */
  readonly windingAmps: number;
  /** Drawn from all reservoirs, A. */
  readonly drawnAmps: number;
  /** The winding can't deliver what is drawn all the time. */
  readonly starved: boolean;
  /** `reservoir`, and `negative-reservoir` where there is one. */
  readonly reservoirs: ReadonlyMap<string, ReservoirState>;
  /** The regulators of the rails and the pass device of the filter, where their heat is known. */
  readonly heated: ReadonlyMap<string, HeatState>;
  readonly rails: ReadonlyMap<string, RailState>;
}

export interface ReservoirState {
  /** V. */
  readonly mean: number;
  readonly valley: number;
  /** Drawn out of it, and through its diodes on average, A. */
  readonly drawnAmps: number;
  /** Ripple current of the capacitor, A RMS. */
  readonly capacitorAmps: number;
}

export interface HeatState {
  /** W. */
  readonly watts: number;
  /** Degrees C. */
  readonly case: number;
  readonly heatsink: number;
  readonly junction: number;
}

export interface RailState {
  /** At the regulator's input, behind its series resistor, V. */
  readonly inputValley: number;
  readonly setVolts: number;
  readonly dropoutVolts: number;
  readonly volts: number;
  /** Out of the regulator: load, divider and the rails that it feeds, A. */
  readonly outputAmps: number;
  /** Into the regulator, A. */
  readonly inputAmps: number;
}

/**
 * The supply with every number as written, except those given by name (`mainsVolts`, `lamps.r2`).
 * @throws {SupplyError} as `SupplyModel.solve` does; {RangeError} for a name that no number has.
 */
export function stateAt(model: SupplyModel, change: Readonly<Record<string, number>>): SupplyState {
  const draw = model.typicalDraw();
  for (const [name, value] of Object.entries(change)) {
    const place = model.parameters.findIndex((parameter) => parameter.name === name);
    if (place < 0) throw new RangeError(`the supply has no number called ${name}`);
    draw[place] = value;
  }
  model.solve(draw);
  return snapshot(model);
}

function snapshot(model: SupplyModel): SupplyState {
  const { reservoir, negativeReservoir, filter } = model;
  const nodes: [string, ReservoirModel][] = [['reservoir', reservoir]];
  if (negativeReservoir !== null) nodes.push(['negative-reservoir', negativeReservoir]);
  const parts: [string, FilterModel | RailModel][] = model.rails.map((rail) => [rail.description.name, rail]);
  if (filter !== null) parts.unshift(['filter', filter]);
  return {
    load: model.load,
    air: model.air,
    windingAmps: model.windingAmps(),
    drawnAmps: nodes.reduce((sum, [, node]) => sum + node.solved('loadMeanCurrent'), 0),
    starved: nodes.some(([, node]) => node.solved('starved') === 1),
    reservoirs: new Map(nodes.map(([name, node]) => [name, reservoirState(node)])),
    heated: new Map(
      parts.flatMap(([name, { cooling, watts }]) =>
        cooling === null
          ? []
          : [[name, { watts, case: cooling.case, heatsink: cooling.heatsink, junction: cooling.junction }]],
      ),
    ),
    rails: new Map(
      model.rails.map((rail) => [
        rail.description.name,
        {
          inputValley: rail.inputValley,
          setVolts: rail.setVolts,
          dropoutVolts: rail.dropoutVolts,
          volts: rail.mean,
          outputAmps: rail.outputAmps,
          inputAmps: rail.inputAmps,
        },
      ]),
    ),
  };
}

function reservoirState(node: ReservoirModel): ReservoirState {
  return {
    mean: node.mean,
    valley: node.valley,
    drawnAmps: node.solved('loadMeanCurrent'),
    capacitorAmps: node.solved('capacitorRmsCurrent'),
  };
}
