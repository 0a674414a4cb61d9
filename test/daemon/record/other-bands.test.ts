import { describe, expect, it } from 'vitest';
import type { Prediction } from '../../../daemon/predict/prediction.js';
import { otherDesignsBands } from '../../../daemon/record/other-bands.js';
import type { ExpectEvent } from '../../../daemon/watch/events.js';
import { PREDICTION } from '../watch/cabin.js';

const sharpened: ExpectEvent = {
  kind: 'expect',
  atMs: 4000,
  load: 'typical',
  step: null,
  measured: ['reservoir.volts'],
  bands: { 'logic.volts': { low: 4.99, typical: 5, high: 5.01 } },
};
const full: Prediction = { ...PREDICTION, load: 'full' };

describe('what was expected by the design of the recording', () => {
  it('is dropped where another design judges: its own prediction stands', () => {
    expect(otherDesignsBands(sharpened, PREDICTION)).toEqual({ ...sharpened, measured: [], bands: {} });
  });

  it('is that of the other design under the load that was on then', () => {
    const { bands, load } = otherDesignsBands({ ...sharpened, load: 'full' }, PREDICTION, () => full);
    expect(load).toBe('full');
    expect(bands['logic.volts']).toEqual({ low: 4.9, typical: 5, high: 5.1 });
    expect(Object.keys(bands)).toEqual(Object.keys(PREDICTION.points));
  });

  it('leaves the other design’s prediction for the session where that load was never worked out', () => {
    expect(otherDesignsBands({ ...sharpened, load: 'idle' }, PREDICTION).bands).toEqual({});
  });
});
