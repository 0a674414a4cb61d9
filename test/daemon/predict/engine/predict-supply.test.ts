import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { describeDesign } from '../../../../daemon/predict/engine/description.js';
import { predictSupply } from '../../../../daemon/predict/engine/predict-supply.js';
import { faultModels } from '../../../../daemon/predict/engine/faults.js';
import { simulateSupply } from '../../../../drivers/simulated/supply.js';
import { cabin } from '../../design/signal-cabin.js';
import { about, signalCabin, splitCabin } from './supplies.js';

describe('bands', () => {
  const prediction = predictSupply(signalCabin(), { load: 'typical', draws: 1024 });

  it('hold the nominal and lie within the worst corners', () => {
    for (const [id, { low, nominal, typical, high, worst }] of Object.entries(prediction.points)) {
      expect(low, id).toBeLessThanOrEqual(nominal);
      expect(high, id).toBeGreaterThanOrEqual(nominal);
      expect(typical, id).toBeGreaterThanOrEqual(low);
      expect(typical, id).toBeLessThanOrEqual(high);
      expect(worst.low.value, id).toBeLessThanOrEqual(low);
      expect(worst.high.value, id).toBeGreaterThanOrEqual(high);
    }
  });

  it('hold the nominal for any spread of the mains (seed 51)', () => {
    const property = fc.property(fc.double({ min: 0, max: 0.2, noNaN: true }), (doubt) => {
      const mains = { ratedVolts: 230, volts: about('mainsVolts', 230, doubt), hertz: 60 };
      const { points } = predictSupply(splitCabin({ mains }), { load: 'full', draws: 64 });
      for (const [id, { low, nominal, high }] of Object.entries(points)) {
        expect(nominal >= low && nominal <= high, id).toBe(true);
      }
    });
    fc.assert(property, { seed: 51, numRuns: 12 });
  });

  it('are the same for the same seed and others for another', () => {
    const options = { load: 'typical', draws: 256 } as const;
    const [one, again, other] = [7, 7, 8].map(
      (seed) => predictSupply(signalCabin(), { ...options, seed }).points,
    );
    expect(again).toEqual(one);
    expect(other).not.toEqual(one);
  });

  it('say what they come from: the raw volts from the mains, the logic rail from its own window', () => {
    expect(prediction.points['reservoir.volts']?.shares[0]?.from).toBe('mainsVolts');
    expect(prediction.points['logic.volts']?.shares[0]?.from).toBe('logic.volts');
  });

  // Most heat at the highest mains, the largest load and the smallest output volts.
  it('name the corner: the hottest lamps case has high mains, heavy load, a small reference', () => {
    const { ends } = prediction.points['lamps.case']!.worst.high;
    const at = Object.fromEntries(ends.map(({ name, end }) => [name, end]));
    expect(at).toMatchObject({
      mainsVolts: 'high',
      'lamps.loadAmps': 'high',
      'lamps.volts': 'low',
      ambient: 'high',
    });
  });
});

// The simulated bench integrates the circuit in time steps and shares no formula or part value with predictions.
describe('simulated supplies with parts drawn within their tolerances', () => {
  const AN_HOUR_MS = 3_600_000;
  const measured = ['reservoir', 'lamps', 'logic'].flatMap((part) => [`${part}.volts`, `${part}.ripple`]);

  it.each([
    ['typical', 1],
    ['typical', 2],
    ['full', 3],
    ['idle', 4],
  ] as const)('a healthy one reads inside its bands after an hour at %s load (seed %i)', (load, seed) => {
    const { points } = predictSupply(describeDesign(cabin()), { load, draws: 2048 });
    const supply = simulateSupply(cabin(), { seed, load });
    supply.power('on');
    supply.advanceTo(AN_HOUR_MS);
    for (const id of [...measured, 'lamps.case', 'logic.case', 'transformer.amps']) {
      const { low, high } = points[id]!;
      expect(supply.read(id), id).toBeGreaterThan(low);
      expect(supply.read(id), id).toBeLessThan(high);
    }
  });

  // At idle, so that no bare regulator gets so hot that the simulated one fails short.
  it.each([
    ['diode-open', 'rectifier', 'reservoir.ripple', 5],
    ['heatsink-missing', 'logic', 'logic.case', 6],
    ['regulator-passes-input', 'logic', 'logic.volts', 7],
  ] as const)('%s of %s: %s reads in the bands of the fault (seed %i)', (fault, about, id, seed) => {
    const healthy = describeDesign(cabin());
    const faulty = faultModels(healthy).find((each) => each.fault === fault && each.about === about)!;
    const options = { load: 'idle', draws: 1024 } as const;
    const [sound, struck] = [healthy, faulty.apply(1)].map((one) => predictSupply(one, options).points[id]!);
    const supply = simulateSupply(cabin(), { seed, fault, faultRail: 'logic', load: 'idle' });
    supply.power('on');
    supply.advanceTo(AN_HOUR_MS / 4);
    expect(supply.read(id)).toBeGreaterThan(sound!.high);
    expect(supply.read(id)).toBeGreaterThan(struck!.low);
    expect(supply.read(id)).toBeLessThan(struck!.high);
  });
});
