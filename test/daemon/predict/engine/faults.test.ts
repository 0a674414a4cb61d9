import { describe, expect, it } from 'vitest';
import { faultModels } from '../../../../daemon/predict/engine/faults.js';
import type { SupplyFault } from '../../../../daemon/predict/engine/faults.js';
import { supplyModel } from '../../../../daemon/predict/engine/model.js';
import { signalCabin, splitCabin, typicalResults } from './supplies.js';

const supply = signalCabin();
const healthy = typicalResults(supply);

function faultOf(fault: string, about: string): SupplyFault {
  const found = faultModels(supply).find((each) => each.fault === fault && each.about === about);
  if (found === undefined) throw new Error(`no fault ${fault} of ${about}`);
  return found;
}

function whole(fault: string, about: string): Record<string, number> {
  return typicalResults(faultOf(fault, about).apply(1));
}

describe('every fault', () => {
  it.each(faultModels(supply))('$fault of $about at size 0 is the healthy supply', ({ apply }) => {
    expect(apply(0)).toBe(supply);
  });

  it.each(faultModels(supply))('$fault of $about keeps numbers and results in their places', ({ apply }) => {
    const [before, after] = [supplyModel(supply, 'typical'), supplyModel(apply(1), 'typical')];
    expect(after.parameters.map(({ name }) => name)).toEqual(before.parameters.map(({ name }) => name));
    expect(after.outputs).toEqual(before.outputs);
  });

  it.each(faultModels(supply))('$fault of $about shows in a result when whole', ({ apply }) => {
    const results = typicalResults(apply(1));
    const moved = Object.keys(healthy).filter((id) => {
      return Math.abs(results[id]! - healthy[id]!) > 0.05 * Math.abs(healthy[id]!);
    });
    expect(moved).not.toEqual([]);
  });

  it.each(faultModels(supply).filter(({ graded }) => graded))(
    '$fault of $about grows out of the healthy supply',
    ({ apply }) => {
      const results = typicalResults(apply(1e-6));
      for (const [id, value] of Object.entries(healthy)) {
        expect(Math.abs(results[id]! - value), id).toBeLessThan(1e-3 * (1 + Math.abs(value)));
      }
    },
  );

  it.each(faultModels(supply))('$fault of $about takes no size outside 0 to 1', ({ apply }) => {
    expect(() => apply(1.5)).toThrow("a fault's size lies between 0 and 1; it is 1.5");
  });
});

describe('what a practitioner expects of each (common practice)', () => {
  it('one open diode: half the pulses, so about twice the ripple', () => {
    const ripple = whole('diode-open', 'rectifier')['reservoir.ripple']!;
    expect(ripple / healthy['reservoir.ripple']!).toBeGreaterThan(1.8);
    expect(ripple / healthy['reservoir.ripple']!).toBeLessThan(2.6);
  });

  it('a third of the reservoir: about three times the ripple', () => {
    const ripple = whole('reservoir-dried', 'reservoir')['reservoir.ripple']!;
    expect(ripple / healthy['reservoir.ripple']!).toBeGreaterThan(2.4);
  });

  it('a regulator that passes its input: the load sees the reservoir', () => {
    const results = whole('regulator-passes-input', 'logic');
    expect(results['reservoir.volts']! - results['logic.volts']!).toBeLessThan(0.1);
  });

  it('adjust grounded: the reference alone, 1.25 V (LM317 datasheets)', () => {
    expect(whole('adjust-grounded', 'lamps')['lamps.volts']).toBeCloseTo(1.25, 9);
  });

  it('R2 open: as high as the dropout lets it', () => {
    const results = whole('adjust-open', 'lamps');
    expect(results['reservoir.volts']! - results['lamps.volts']!).toBeGreaterThan(1);
    expect(results['reservoir.volts']! - results['lamps.volts']!).toBeLessThan(2.5);
  });

  it('R2 ten times too small: 1.25 x (1 + 205/240) + 50 uA x 205 = 2.328 V', () => {
    expect(whole('r2-too-small', 'lamps')['lamps.volts']).toBeCloseTo(2.328, 3);
  });

  it('no heatsink: more than 60 K hotter, and nothing else', () => {
    const results = whole('heatsink-missing', 'logic');
    expect(results['logic.case']! - healthy['logic.case']!).toBeGreaterThan(60);
    expect(results['logic.volts']).toBe(healthy['logic.volts']);
  });

  it('a probe that fell off: the case reads nearly air while the junction is as hot as ever', () => {
    const results = whole('sensor-off', 'logic');
    expect(results['logic.case']!).toBeLessThan(32);
    expect(results['logic.junction']).toBeCloseTo(healthy['logic.junction']!, 9);
  });

  it('the wrong tap: about twice the raw volts', () => {
    const volts = whole('tap-too-high', 'transformer')['reservoir.volts']!;
    expect(volts / healthy['reservoir.volts']!).toBeGreaterThan(1.9);
    expect(volts / healthy['reservoir.volts']!).toBeLessThan(2.3);
  });
});

it('a split supply has both reservoirs among its faults, one diode hits the positive one', () => {
  const split = splitCabin();
  const faults = faultModels(split);
  const dried = faults.filter(({ fault }) => fault === 'reservoir-dried').map(({ about }) => about);
  expect(dried).toEqual(['reservoir', 'negative-reservoir']);
  const open = typicalResults(faults.find(({ fault }) => fault === 'diode-open')!.apply(1));
  expect(open['reservoir.ripple']!).toBeGreaterThan(1.8 * open['negative-reservoir.ripple']!);
});
