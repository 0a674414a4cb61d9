import { describe, expect, it } from 'vitest';
import type { Prediction } from '../../../daemon/predict/prediction.js';
import {
  otherDesignsBands,
  otherDesignsPlan,
  type OtherDesign,
} from '../../../daemon/record/other-design.js';
import type { ExpectEvent } from '../../../daemon/watch/events.js';
import { PLAN, PREDICTION, SUPPLIED } from '../watch/cabin.js';
import { PROCEDURE } from '../watch/procedure/walk.js';

const sharpened: ExpectEvent = {
  kind: 'expect',
  atMs: 4000,
  load: 'typical',
  step: null,
  measured: ['reservoir.volts'],
  bands: { 'logic.volts': { low: 4.99, typical: 5, high: 5.01 } },
};
const full: Prediction = { ...PREDICTION, load: 'full' };

const other: OtherDesign = {
  prediction: PREDICTION,
  supply: SUPPLIED.supply!,
  procedure: null,
  predictionFor: () => full,
};

describe('what was expected by the design of the recording', () => {
  it('is dropped where another design judges: its own prediction stands', () => {
    expect(otherDesignsBands(sharpened, other)).toEqual({ ...sharpened, measured: [], bands: {} });
  });

  it('is that of the other design under the load that was on then', () => {
    const { bands, load } = otherDesignsBands({ ...sharpened, load: 'full' }, other);
    expect(load).toBe('full');
    expect(bands['logic.volts']).toEqual({ low: 4.9, typical: 5, high: 5.1 });
    expect(Object.keys(bands)).toEqual(Object.keys(PREDICTION.points));
  });

  it('is that of the other design’s own step', () => {
    const rails = PROCEDURE.steps.find(({ id }) => id === 'rails')!;
    const ofStep = otherDesignsBands({ ...sharpened, step: 'rails' }, { ...other, procedure: PROCEDURE });
    expect(ofStep).toEqual({ ...sharpened, step: 'rails', measured: [], bands: rails.bands });
  });
});

describe('the plan by which another design judges', () => {
  it('has its steps, bands and rails, and the recording’s instruments and cut-offs', () => {
    const then = { ...SUPPLIED, procedure: { steps: [], afterAbort: [] } };
    const now = otherDesignsPlan(then, { ...other, prediction: full, procedure: PROCEDURE });
    expect(now).toEqual({
      prediction: full,
      channels: PLAN.channels,
      supply: SUPPLIED.supply,
      cutOffs: SUPPLIED.cutOffs,
      procedure: PROCEDURE,
    });
    expect(otherDesignsPlan(then, other).procedure).toBeUndefined();
  });
});
