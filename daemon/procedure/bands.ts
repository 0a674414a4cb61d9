import type { LoadState } from '../design/design.js';
import { quantiles } from '../predict/cloud/quantiles.js';
import { drawModelCloud } from '../predict/engine/model-cloud.js';
import { supplyModel, type SupplyModel } from '../predict/engine/model.js';
import type { SupplyDescription } from '../predict/engine/supply.js';
import type { Band } from './step.js';

/** Enough for the ends of a band to some per cent of its width; a procedure wants a dozen of them. */
const DRAWS = 256;

/**
 * What every test point reads of a supply as it stands in one stage, by its id, in its unit.
 * @throws {SupplyError} when the stage has no steady state.
 */
export function bandsOf(supply: SupplyDescription, load: LoadState, seed: number): Record<string, Band> {
  const model = supplyModel(supply, load);
  const cloud = drawModelCloud(model, { draws: DRAWS, seed });
  const nominal = nominalOf(model);
  const bands = model.outputs.map((id, at): readonly [string, Band] => {
    const [low = NaN, typical = NaN, high = NaN] = quantiles(cloud.results[id]!, [0.025, 0.5, 0.975]);
    return [id, { low: Math.min(low, nominal[at]!), typical, high: Math.max(high, nominal[at]!) }];
  });
  const all = Object.fromEntries(bands);
  const coldest = all['ambient.air']?.low;
  return Object.fromEntries(
    bands.map(([id, band], at) => [
      id,
      coldest !== undefined && model.units[at] === 'degC' && coldest < band.low ? { ...band, coldest } : band,
    ]),
  );
}

/** Volts that a meter may pick up on a rail that nothing feeds (common practice). */
const FLOATING_VOLTS = 0.5;

/** The bands of test points whose parts aren't connected yet, added: nothing, and as warm as the air. */
export function withUnconnected(
  bands: Readonly<Record<string, Band>>,
  points: readonly string[],
): Record<string, Band> {
  const air = bands['ambient.air'];
  const none = { low: -FLOATING_VOLTS, typical: 0, high: FLOATING_VOLTS };
  const entries = points.map((id): readonly [string, Band] => {
    const isWarm = id.endsWith('.case') || id.endsWith('.junction');
    return [id, bands[id] ?? (isWarm && air !== undefined ? air : none)];
  });
  return Object.fromEntries(entries);
}

function nominalOf(model: SupplyModel): Float64Array {
  const nominal = new Float64Array(model.outputs.length);
  model.evaluate(model.typicalDraw(), nominal);
  return nominal;
}
