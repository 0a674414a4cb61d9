import type { Design } from '../design/design.js';
import { adviceOn } from './advice.js';
import { assumptionsOf } from './assumptions.js';
import { partFigures } from './figures.js';
import { limitsOf } from './limits.js';
import { neverNegative, pointMeanings, pointValues, type PointMeaning } from './points.js';
import type { Limit, PointPrediction, Prediction, PredictOptions } from './prediction.js';
import {
  cloudBands,
  drawSupplyCloud,
  worstCorner,
  type CloudBand,
  type Evaluate,
  type SpreadShare,
  type SupplyCloud,
} from './supply-cloud.js';
import { factsOf, mapSupply, supplyOf, type SupplyFacts } from './supply.js';
import { sourceWords } from './source-words.js';
import { workOut } from './work-out.js';

/** A power of two, which Sobol' points cover most evenly. */
const USUAL_DRAWS = 2048;

/**
 * What every test point of a supply should read in a load state, and what to know before power: the nominal value
 * from every part as written; low, typical (median) and high from a cloud of supplies with each part drawn within its
 * tolerance. The same seed gives the same numbers.
 * @throws {RangeError} for a design that wasn't checked on loading and names unknown parts.
 * @throws {RectifierError} naming the circuit when its steady state can't be found.
 */
export function predict(design: Design, options: PredictOptions): Prediction {
  const facts = factsOf(design);
  const supply = supplyOf(facts, options);
  const evaluate: Evaluate = (values) => pointValues(workOut(facts, values));
  const nominal = workOut(
    facts,
    mapSupply(supply, (spread) => spread.typical),
  );
  const bands = cloudBands(predictionCloud(facts, options));
  const nominalValues = pointValues(nominal);
  const limits = limitsOf(facts, nominal);
  const air = bands['ambient.air']?.low;
  const points = Object.entries(pointMeanings(facts)).map(([id, meaning]) => {
    const band = bands[id];
    const value = nominalValues[id];
    if (band === undefined || value === undefined)
      throw new Error(`test point ${id} has a meaning but no value`);
    const worst = {
      low: worstCorner(supply, evaluate, id, band.shares, 'low'),
      high: worstCorner(supply, evaluate, id, band.shares, 'high'),
    };
    const settled = point(id, meaning, value, band, worst, limits[id] ?? []);
    const startsCold = meaning.unit === 'degC' && air !== undefined && air < settled.low;
    return [id, startsCold ? { ...settled, coldest: air } : settled] as const;
  });
  return {
    points: Object.fromEntries(points),
    parts: partFigures(facts, nominal),
    advice: adviceOn(facts, options),
    assumed: assumptionsOf(facts),
    load: options.load,
    seed: options.seed ?? 0,
  };
}

/** The cloud of supplies behind a prediction; its results are the test points. */
export function predictionCloud(
  facts: SupplyFacts,
  options: PredictOptions,
  draws = USUAL_DRAWS,
): SupplyCloud {
  return drawSupplyCloud(supplyOf(facts, options), (values) => pointValues(workOut(facts, values)), {
    draws,
    seed: options.seed ?? 0,
  });
}

function point(
  id: string,
  meaning: PointMeaning,
  nominal: number,
  band: CloudBand,
  worst: PointPrediction['worst'],
  limits: readonly Limit[],
): PointPrediction {
  const floor = neverNegative(meaning.unit) ? 0 : -Infinity;
  return {
    id,
    ...meaning,
    nominal,
    low: Math.max(floor, Math.min(band.low, nominal)),
    typical: band.typical,
    high: Math.max(band.high, nominal),
    worst: { low: Math.min(worst.low, band.low, nominal), high: Math.max(worst.high, band.high, nominal) },
    widthFrom: band.shares.map(({ from, share }: SpreadShare) => ({ from: sourceWords(from), share })),
    limits,
  };
}
