import type { Design, LoadState } from '../design/design.js';
import { SupplyError } from '../predict/engine/supply-error.js';
import { lampWattsOf } from './first-steps.js';
import { suggestedLamp } from './lamp.js';
import { procedureOf } from './procedure.js';
import type { Procedure } from './step.js';

/**
 * A walk as it was made, made anew for another design: with the same lamp, and a cut-off and instruments where it had
 * them. A lamp that starves the other design is none for it: then it is the one that suits that design.
 * @param load what its real loads drew
 * @throws as `procedureOf` does
 */
export function procedureFor(design: Design, made: Procedure, load: LoadState): Procedure {
  const watts = lampWattsOf(made);
  const measured = new Set(made.steps.flatMap(({ points }) => points.map(({ point }) => point)));
  const options = {
    load,
    hasCutOff: made.steps.some(({ kind }) => kind === 'cut-off'),
    canMeasure: (point: string) => measured.has(point),
  };
  const lamp = watts === null ? null : { ratedWatts: watts, ratedVolts: design.mains.volts };
  try {
    return procedureOf(design, { ...options, lamp });
  } catch (error) {
    if (lamp === null || !(error instanceof SupplyError)) throw error;
    return procedureOf(design, { ...options, lamp: suggestedLamp(design) });
  }
}
