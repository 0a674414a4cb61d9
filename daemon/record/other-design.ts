import type { LoadState } from '../design/design.js';
import type { Prediction } from '../predict/prediction.js';
import type { Procedure } from '../procedure/step.js';
import type { ExpectedBand, ExpectEvent } from '../watch/events.js';
import type { SupplyPlan, WatchPlan } from '../watch/plan.js';

/** What judges a session instead of the design in its recording. */
export interface OtherDesign {
  /** For the load of the session. */
  readonly prediction: Prediction;
  readonly supply: SupplyPlan;
  /** The steps of its power-up; null in a session without one. */
  readonly procedure: Procedure | null;
  /** What it predicts in another load state, asked for when the session changed over. */
  readonly predictionFor: (load: LoadState) => Prediction;
}

/** Loads are told apart by the recorded design's bands, so with another one they aren't. */
export function otherDesignsPlan(
  { channels, cutOffs }: WatchPlan,
  { prediction, supply, procedure }: OtherDesign,
): WatchPlan {
  return {
    prediction,
    channels,
    supply,
    ...(procedure !== null && { procedure }),
    ...(cutOffs !== undefined && { cutOffs }),
  };
}

/**
 * An event that changed what was expected, with the bands of another design: those of its own step of the power-up, or
 * of the load that was on then, sharpened by nothing.
 */
export function otherDesignsBands(event: ExpectEvent, other: OtherDesign): ExpectEvent {
  const { prediction, procedure, predictionFor } = other;
  const step = procedure?.steps.find(({ id }) => id === event.step);
  const ofLoad = event.load === prediction.load ? {} : bandsOf(predictionFor(event.load));
  return { ...event, measured: [], bands: step?.bands ?? ofLoad };
}

function bandsOf({ points }: Prediction): Record<string, ExpectedBand> {
  return Object.fromEntries(
    Object.entries(points).map(([id, { low, typical, high, coldest }]) => [
      id,
      { low, typical, high, ...(coldest !== undefined && { coldest }) },
    ]),
  );
}
