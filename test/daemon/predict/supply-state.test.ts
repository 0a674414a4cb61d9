import { expect, it } from 'vitest';
import { describeDesign } from '../../../daemon/predict/engine/description.js';
import { supplyModel } from '../../../daemon/predict/engine/model.js';
import { stateAt } from '../../../daemon/predict/supply-state.js';
import { cabin } from '../design/signal-cabin.js';

const model = supplyModel(describeDesign(cabin()), 'full');

// A higher mains leaves more volts across the regulator at the same current: more heat (Ohm's law).
it('moves the numbers that are named, and only those', () => {
  const [typical, high] = [stateAt(model, {}), stateAt(model, { mainsVolts: 253 })];
  const rise = high.reservoirs.get('reservoir')!.mean - typical.reservoirs.get('reservoir')!.mean;
  expect(rise).toBeGreaterThan(1.5);
  const heat = high.heated.get('lamps')!.watts - typical.heated.get('lamps')!.watts;
  expect(heat).toBeCloseTo(rise * (0.5 + 1.25 / 240), 6);
  expect(high.air).toBe(typical.air);
  expect(stateAt(model, {})).toEqual(typical);
});

it('names a number that the supply has not', () => {
  expect(() => stateAt(model, { farrads: 1 })).toThrow('the supply has no number called farrads');
});
