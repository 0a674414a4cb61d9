import type { Design } from '../design/design.js';
import { testPointsOf } from '../design/test-points.js';
import { adviceOn } from './advice/advice.js';
import { assumptionsOf } from './assumptions.js';
import { describeDesign } from './engine/description.js';
import { predictSupply, USUAL_DRAWS } from './engine/predict-supply.js';
import type { SupplyPoint } from './engine/predict-supply.js';
import { figuresOf } from './figures.js';
import { limitsOf } from './limits.js';
import { pointMeaning } from './points.js';
import type { PointPrediction, Prediction, PredictOptions } from './prediction.js';
import { sourceWords } from './source-words.js';
import { stateAt } from './supply-state.js';

/**
 * What every test point of a supply should read in a load state, and what to know before power: the nominal value
 * from every part as written; low, typical (median) and high from a cloud of supplies with each part drawn within its
 * tolerance. The same seed gives the same numbers.
 * @throws {RangeError} for a design that wasn't checked on loading and names unknown parts.
 * @throws {SupplyError} naming the circuit when its steady state can't be found.
 */
export function predict(design: Design, options: PredictOptions): Prediction {
  const { load, seed = 0, draws = USUAL_DRAWS } = options;
  const description = describeDesign(design, options);
  const { points: predicted, model } = predictSupply(description, { load, seed, draws });
  const limits = limitsOf(design, description, stateAt(model, {}));
  const coldest = predicted['ambient.air']?.low;
  const points = testPointsOf(design).map((id) => {
    const found = predicted[id];
    if (found === undefined) throw new Error(`test point ${id} has a meaning but no value`);
    const startsCold = found.unit === 'degC' && coldest !== undefined && coldest < found.low;
    return [
      id,
      { ...point(id, design, found), ...(startsCold && { coldest }), limits: limits[id] ?? [] },
    ] as const;
  });
  return {
    points: Object.fromEntries(points),
    parts: figuresOf(model),
    advice: adviceOn(design, options),
    assumed: assumptionsOf(design),
    load,
    seed,
  };
}

function point(id: string, design: Design, found: SupplyPoint): Omit<PointPrediction, 'limits' | 'coldest'> {
  const { unit, nominal, low, typical, high, worst, shares } = found;
  const { label, formula } = pointMeaning(id, design);
  return {
    id,
    label: design.points[id]?.label ?? label,
    unit,
    formula,
    nominal,
    low,
    typical,
    high,
    worst: { low: worst.low.value, high: worst.high.value },
    widthFrom: shares.map(({ from, share }) => ({ from: sourceWords(from), share })),
  };
}
