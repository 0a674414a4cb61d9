import type { Design } from '../design/design.js';
import type { Spread } from '../design/parts/spread.js';
import { adviceOn } from './advice.js';
import { assumptionsOf } from './assumptions.js';
import { bands } from './band.js';
import { partFigures } from './figures.js';
import { limitsOf } from './limits.js';
import { neverNegative, pointMeanings, pointValues, type PointMeaning } from './points.js';
import type { Limit, PointPrediction, Prediction, PredictOptions } from './prediction.js';
import { factsOf, mapSupply, supplyOf } from './supply.js';
import { workOut } from './work-out.js';

/**
 * What every test point of a supply should read in a load state, and what to know before power.
 *
 * Bands are worked out from tolerances one at a time (see band.ts), so they draw nothing at random: `seed` is only
 * passed through. `nominal` and `typical` coincide, since every typical value is the one that is written.
 * @throws {RangeError} for a design that wasn't checked on loading and names unknown parts.
 */
export function predict(design: Design, options: PredictOptions): Prediction {
  const facts = factsOf(design);
  const supply = supplyOf(facts, options);
  const spreads = bands(supply, (values) => pointValues(workOut(facts, values)));
  const typical = workOut(
    facts,
    mapSupply(supply, (spread) => spread.typical),
  );
  const limits = limitsOf(facts, typical);
  const air = spreads['ambient.air']?.low;
  const points = Object.entries(pointMeanings(facts)).map(([id, meaning]) => {
    const settled = point(id, meaning, spreads[id], limits[id] ?? []);
    const startsCold = meaning.unit === 'degC' && air !== undefined && air < settled.low;
    return [id, startsCold ? { ...settled, coldest: air } : settled] as const;
  });
  return {
    points: Object.fromEntries(points),
    parts: partFigures(facts, typical),
    advice: adviceOn(facts, options),
    assumed: assumptionsOf(facts),
    load: options.load,
    seed: options.seed ?? 0,
  };
}

function point(
  id: string,
  meaning: PointMeaning,
  spread: Spread | undefined,
  limits: readonly Limit[],
): PointPrediction {
  if (spread === undefined) throw new Error(`test point ${id} has a meaning but no value`);
  const low = neverNegative(meaning.unit) ? Math.max(0, spread.low) : spread.low;
  return { id, ...meaning, nominal: spread.typical, low, typical: spread.typical, high: spread.high, limits };
}
