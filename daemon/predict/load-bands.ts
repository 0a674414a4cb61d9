import { LOAD_STATES, type Design, type LoadState } from '../design/design.js';
import type { Spread } from '../design/parts/spread.js';
import { testPointsOf } from '../design/test-points.js';
import { describeDesign } from './engine/description.js';
import { supplyModel } from './engine/model.js';
import { drawModelCloud } from './engine/model-cloud.js';
import type { PointUnit, PredictOptions } from './prediction.js';
import { cloudBands } from './supply-cloud.js';

/** A power of two; enough to tell states apart, and quick enough for a session's start. */
const DRAWS = 128;
/** Electrical: a case says hours later what was drawn. */
const QUICK: readonly PointUnit[] = ['V', 'Vrms', 'Vpp', 'A', 'Arms'];
/** Of the narrower band's width: nearer together, two states look alike at a point. */
const APART = 0.25;

/**
 * In every load state, the bands of the test points that tell the states apart.
 * @throws {SupplyError} as `predict` does.
 */
export function loadBands(
  design: Design,
  options: Omit<PredictOptions, 'load'>,
): Record<LoadState, Record<string, Spread>> {
  const description = describeDesign(design, options);
  const ids = new Set(testPointsOf(design));
  const found = LOAD_STATES.map((load) => {
    const model = supplyModel(description, load);
    const quick = model.outputs.filter((id, k) => ids.has(id) && QUICK.includes(model.units[k]!));
    const bands = cloudBands(drawModelCloud(model, { draws: DRAWS, seed: options.seed ?? 0 }));
    return { load, bands, quick };
  });
  const telling = (found[0]?.quick ?? []).filter((id) => areApart(found.map(({ bands }) => bands[id]!)));
  return Object.fromEntries(
    found.map(({ load, bands }) => [
      load,
      Object.fromEntries(telling.map((id) => [id, spreadOf(bands[id]!)])),
    ]),
  ) as Record<LoadState, Record<string, Spread>>;
}

function areApart(bands: readonly Spread[]): boolean {
  const typical = bands.map((band) => band.typical);
  const narrowest = Math.min(...bands.map(({ low, high }) => high - low));
  return Math.max(...typical) - Math.min(...typical) > APART * narrowest;
}

function spreadOf({ low, typical, high }: Spread): Spread {
  return { low, typical, high };
}
