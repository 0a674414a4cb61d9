import { describe, expect, it } from 'vitest';
import { LOAD_STATES } from '../../../daemon/design/design.js';
import { testPointsOf } from '../../../daemon/design/test-points.js';
import { predict } from '../../../daemon/predict/predict.js';
import type { PointPrediction, Prediction } from '../../../daemon/predict/prediction.js';
import { cabin } from '../design/signal-cabin.js';

function point(prediction: Prediction, id: string): PointPrediction {
  const found = prediction.points[id];
  if (found === undefined) throw new Error(`no prediction for ${id}`);
  return found;
}

const BARE_LOGIC = [
  'interface: greased\n      heatsink: 8',
  'interface: greased\n      heatsink: none',
] as const;

describe('the signal cabin', () => {
  const healthy = predict(cabin(), { load: 'typical' });

  it('has a prediction for every test point of the design, in order', () => {
    expect(Object.keys(healthy.points).sort()).toEqual(testPointsOf(cabin()).sort());
    for (const { id, low, typical, high, formula } of Object.values(healthy.points)) {
      expect(low, id).toBeLessThanOrEqual(typical);
      expect(typical, id).toBeLessThanOrEqual(high);
      expect(formula, id).not.toBe('');
    }
  });

  // 1.25 x (1 + 2050 / 240) + 50 uA x 2050 = 12.03 V; the 7805's window is 4.75 to 5.25 V (ST L78 DS0422).
  it('sets its rails as the datasheets say', () => {
    expect(point(healthy, 'lamps.volts').nominal).toBeCloseTo(12.03, 2);
    const logic = point(healthy, 'logic.volts');
    expect(logic.low).toBeCloseTo(4.75, 2);
    expect(logic.nominal).toBe(5);
    expect(logic.high).toBeCloseTo(5.25, 2);
  });

  // Common practice: RMS current of a capacitor-input bridge is 1.6 to 2 times its direct current.
  it('loads its transformer by 1.6 to 2 times the direct current, below its rating', () => {
    const amps = healthy.parts['reservoir']?.['drawn_A'] ?? NaN;
    const ratio = point(healthy, 'transformer.amps').typical / amps;
    expect(ratio).toBeGreaterThan(1.6);
    expect(ratio).toBeLessThan(2);
    expect(predict(cabin(), { load: 'full' }).points['transformer.amps']?.high).toBeLessThan(2);
  });

  it('stays comfortable and gives no advice', () => {
    for (const rail of ['lamps', 'logic']) {
      expect(point(healthy, `${rail}.case`).typical).toBeGreaterThan(45);
      expect(point(healthy, `${rail}.case`).high).toBeLessThan(75);
    }
    expect(healthy.advice.filter(({ severity }) => ['destroys', 'misbehaves'].includes(severity))).toEqual(
      [],
    );
  });

  // A bare TO-220 is 50 to 65 K/W junction to air (ST, Fairchild): some 3 W make 150 K and more.
  it('cooks its logic regulator without a heatsink', () => {
    const bare = predict(cabin(BARE_LOGIC), { load: 'typical' });
    const limit = point(bare, 'logic.case').limits.at(0)?.value ?? NaN;
    expect(point(bare, 'logic.case').low).toBeGreaterThan(limit);
    expect(limit).toBeGreaterThan(100);
    const wrong = bare.advice.filter(({ severity }) => ['destroys', 'misbehaves'].includes(severity));
    expect(wrong.map(({ finding, severity }) => [finding, severity])).toEqual([
      ['heatsink-missing', 'destroys'],
    ]);
  });

  it('heat is volts across times amps through, in every load', () => {
    for (const load of LOAD_STATES) {
      const prediction = predict(cabin(), { load });
      const across = point(prediction, 'reservoir.volts').nominal - point(prediction, 'lamps.volts').nominal;
      const through = prediction.parts['lamps']?.['output_A'] ?? NaN;
      expect(point(prediction, 'lamps.dissipation').nominal).toBeCloseTo(across * through, 9);
    }
  });

  it('measured mains and ambient move and narrow the bands', () => {
    const measured = predict(cabin(), { load: 'typical', mainsVolts: 241, ambient: 30 });
    const width = (prediction: Prediction, id: string) =>
      point(prediction, id).high - point(prediction, id).low;
    expect(width(measured, 'reservoir.volts')).toBeLessThan(width(healthy, 'reservoir.volts') / 2);
    expect(point(measured, 'reservoir.volts').typical).toBeGreaterThan(
      point(healthy, 'reservoir.volts').typical,
    );
    const air = point(measured, 'ambient.air');
    for (const [value, stated] of [
      [air.low, 28] as const,
      [air.typical, 30] as const,
      [air.high, 32] as const,
    ]) {
      expect(value).toBeCloseTo(stated, 1);
    }
    expect(point(measured, 'logic.case').typical).toBeGreaterThan(point(healthy, 'logic.case').typical + 8);
  });

  it('is the same twice, keeps the seed, and changes nothing in the design', () => {
    const design = cabin();
    const before = JSON.stringify(design);
    expect(predict(design, { load: 'idle', seed: 5 })).toEqual(predict(cabin(), { load: 'idle', seed: 5 }));
    expect(predict(design, { load: 'idle', seed: 5 }).seed).toBe(5);
    expect(JSON.stringify(design)).toBe(before);
  });

  it('a design may rename a point and add a limit', () => {
    const design = cabin(['label: logic regulator tab', 'label: bell tab\n    limit: { high: 70 }']);
    const { label, limits } = point(predict(design, { load: 'typical' }), 'logic.case');
    expect(label).toBe('bell tab');
    expect(limits.at(-1)).toEqual({
      kind: 'rating',
      side: 'high',
      value: 70,
      why: 'your own limit, from the design file',
    });
  });

  it('a winding that is overloaded beyond all reason still gives numbers', () => {
    const starved = predict(
      cabin(['va: 30', 'va: 0.5'], ['regulation_percent: 12', 'regulation_percent: 40']),
      { load: 'full' },
    );
    expect(
      Object.values(starved.points).every(({ low, high }) => Number.isFinite(low) && Number.isFinite(high)),
    ).toBe(true);
    expect(starved.advice[0]?.finding).toBe('transformer-overload');
  });

  // IEC 60062: the widest marked tolerance of a capacitor, Z, is -20 to +80 %, so half of it is never passed.
  it.each([66, 80, 100])('a reservoir of +-%i %% still gives numbers', (percent) => {
    const { points } = predict(cabin(['tolerance_percent: 20', `tolerance_percent: ${percent}`]), {
      load: 'full',
    });
    const { low = NaN, nominal = NaN, high = NaN } = points['reservoir.ripple'] ?? {};
    expect(low).toBeGreaterThan(nominal / (1 + percent / 100) / 1.2);
    expect(high).toBeLessThan(2.2 * nominal);
  });

  it('an unknown part in an unchecked design is named', () => {
    const design = cabin();
    const unchecked = { ...design, rectifier: { ...design.rectifier, diode: '1N9999' } };
    expect(() => predict(unchecked, { load: 'full' })).toThrow('diode "1N9999" isn\'t in the part library');
  });
});
