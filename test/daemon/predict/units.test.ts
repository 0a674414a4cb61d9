import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { windingOf } from '../../../daemon/design/parts/transformers.js';
import { describeDesign } from '../../../daemon/predict/engine/description.js';
import { changedDesign } from '../../../daemon/predict/advice/change-design.js';
import { rippleShare } from '../../../daemon/predict/regulator/rejection.js';
import { cabin } from '../design/signal-cabin.js';

const SEED = 20251125;
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

function forAll<T>(values: fc.Arbitrary<T>, check: (value: T) => void): void {
  fc.assert(fc.property(values, check), { seed: SEED, numRuns: 300 });
}

describe(`units survive a round trip (seed ${SEED})`, () => {
  const design = cabin();

  it('microfarads in the file are farads inside', () => {
    forAll(between(1, 1e5), (capacity) => {
      const changed = changedDesign(design, [{ key: 'reservoir.capacity_uF', value: capacity }]);
      expect(describeDesign(changed).reservoir.farads.typical * 1e6).toBeCloseTo(capacity, 6);
    });
  });

  it('regulation in percent is ohms, and those are the same regulation', () => {
    forAll(fc.tuple(between(6, 60), between(3, 500), between(3, 40)), ([volts, va, percent]) => {
      const byPercent = windingOf({ volts, va, regulation_percent: percent }, 'bridge');
      const byOhms = windingOf({ volts, va, winding_ohms: byPercent.ohms }, 'bridge');
      expect(byOhms.regulation * 100).toBeCloseTo(percent, 9);
      expect(byOhms.ratedAmps).toBeCloseTo(byPercent.ratedAmps, 12);
    });
  });

  it('volt-amperes are amps times volts, whichever is written', () => {
    forAll(fc.tuple(between(6, 60), between(3, 500)), ([volts, va]) => {
      const amps = windingOf({ volts, va }, 'centre-tap').ratedAmps;
      expect(windingOf({ volts, amps }, 'centre-tap')).toEqual(windingOf({ volts, va }, 'centre-tap'));
      expect(2 * volts * amps).toBeCloseTo(va, 9);
    });
  });

  it('decibels are a share of the volts and back', () => {
    forAll(between(0, 120), (decibels) => {
      expect(-20 * Math.log10(rippleShare(decibels))).toBeCloseTo(decibels, 9);
    });
  });

  it('the mains of the other half of the world: half the volts on half the primary give the same rails', () => {
    const other = changedDesign(design, [{ key: 'mains.volts', value: 115 }]);
    const [here, there] = [describeDesign(design), describeDesign(other)];
    expect(there.mains.volts.typical / there.mains.ratedVolts).toBeCloseTo(
      here.mains.volts.typical / here.mains.ratedVolts,
      12,
    );
  });
});
