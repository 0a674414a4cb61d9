import type { LoadState } from '../design/design.js';
import type { Prediction } from '../predict/prediction.js';
import type { ExpectedBand, ExpectEvent } from '../watch/events.js';

/**
 * An event that changed what was expected, with the bands of another design: those of the load that was on then,
 * sharpened by nothing. Where that design's bands under that load aren't known, its prediction for the session stands.
 * @param prediction what the other design predicts for the session
 */
export function otherDesignsBands(
  event: ExpectEvent,
  prediction: Prediction,
  predictionFor?: (load: LoadState) => Prediction,
): ExpectEvent {
  const isOther = event.load !== prediction.load;
  const bands = isOther && predictionFor !== undefined ? bandsOf(predictionFor(event.load)) : {};
  return { ...event, measured: [], bands };
}

function bandsOf({ points }: Prediction): Record<string, ExpectedBand> {
  return Object.fromEntries(
    Object.entries(points).map(([id, { low, typical, high, coldest }]) => [
      id,
      { low, typical, high, ...(coldest !== undefined && { coldest }) },
    ]),
  );
}
