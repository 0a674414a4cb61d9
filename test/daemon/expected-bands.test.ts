import { describe, expect, it } from 'vitest';
import { ExpectedBands } from '../../daemon/expected-bands.js';
import { predict } from '../../daemon/predict/predict.js';
import type { ExpectedBand } from '../../daemon/watch/events.js';
import { simulateSupply, type SupplyOptions } from '../../drivers/simulated/supply.js';
import { cabin } from './design/signal-cabin.js';

const width = (band: ExpectedBand | undefined): number => (band?.high ?? NaN) - (band?.low ?? NaN);
/** As a meter of 0.5 % shows it, half of its half-width. */
const measured = (point: string, value: number) => ({
  point,
  value,
  standardUncertainty: 0.0025 * Math.abs(value),
});

describe('expected bands of the signal cabin', () => {
  const design = cabin();
  const bands = new ExpectedBands(design, 0);
  const plain = bands.answer({ load: 'full', measurements: [] });

  it('are those of the prediction where nothing was measured', () => {
    const { points } = predict(design, { load: 'full' });
    expect(Object.keys(plain.bands)).toEqual(Object.keys(points));
    for (const [id, band] of Object.entries(plain.bands)) expect(points[id], id).toMatchObject(band);
    expect(plain.measured).toEqual([]);
  });

  it('tighten downstream of a measured reservoir, and not at the reservoir itself', () => {
    const answer = bands.answer({ load: 'full', measurements: [measured('reservoir.volts', 18.4)] });
    expect(answer.measured).toEqual(['reservoir.volts']);
    for (const id of ['reservoir.valley', 'lamps.dissipation', 'logic.dissipation'])
      expect(width(answer.bands[id]), id).toBeLessThan(0.7 * width(plain.bands[id]));
    expect(answer.bands['reservoir.volts']).toEqual(plain.bands['reservoir.volts']);
    for (const [id, { low, high }] of Object.entries(answer.bands)) {
      expect(low, id).toBeGreaterThanOrEqual(plain.bands[id]?.low ?? Infinity);
      expect(high, id).toBeLessThanOrEqual(plain.bands[id]?.high ?? -Infinity);
    }
  });

  it('leave out a value that no supply of this design comes near, and a point that it doesn’t have', () => {
    const measurements = [measured('reservoir.volts', 40), measured('siding.volts', 5)];
    const answer = bands.answer({ load: 'full', measurements });
    expect(answer).toEqual(plain);
  });

  it('of another load state are that state’s own', () => {
    const idle = bands.answer({ load: 'idle', measurements: [] });
    expect(idle.bands['transformer.amps']?.high).toBeLessThan(plain.bands['transformer.amps']?.low ?? 0);
  });
});

// The simulated bench integrates the circuit in time steps and shares no formula or part value with the predictions.
describe('simulated signal cabins judged by bands sharpened on their own volts', () => {
  const bands = new ExpectedBands(cabin(), 0);
  const MEASURED = ['reservoir.volts', 'lamps.volts', 'logic.volts'];
  const JUDGED = [...MEASURED, 'reservoir.ripple', 'transformer.amps', 'lamps.case', 'logic.case'];

  function sharpenedBy(options: SupplyOptions) {
    const supply = simulateSupply(cabin(), { ...options, load: 'full' });
    supply.advanceTo(10_000);
    const measurements = MEASURED.map((point) => measured(point, supply.read(point)));
    return { supply, answer: bands.answer({ load: 'full', measurements }) };
  }

  it('healthy ones stay inside, 95 % of all points or more, ten minutes later (seeds 1 to 5)', () => {
    let inside = 0;
    for (let seed = 1; seed <= 5; seed += 1) {
      const { supply, answer } = sharpenedBy({ seed });
      supply.advanceTo(600_000);
      for (const id of JUDGED) {
        const { low, high } = answer.bands[id] ?? { low: NaN, high: NaN };
        if (supply.read(id) >= low && supply.read(id) <= high) inside += 1;
      }
    }
    expect(inside / (5 * JUDGED.length)).toBeGreaterThanOrEqual(0.95);
  }, 60_000);

  it('ones without a heatsink are outside sooner than by the bands before, or as soon (seeds 1 to 3)', () => {
    let gainedMs = 0;
    for (const seed of [1, 2, 3]) {
      const { supply, answer } = sharpenedBy({ seed, fault: 'heatsink-missing', faultRail: 'logic' });
      const before = bands.answer({ load: 'full', measurements: [] }).bands['logic.case'];
      const edge = answer.bands['logic.case'];
      let soonerMs = Infinity;
      let laterMs = Infinity;
      for (let atMs = 10_500; atMs < 300_000 && laterMs === Infinity; atMs += 500) {
        supply.advanceTo(atMs);
        const value = supply.read('logic.case');
        if (value > (edge?.high ?? Infinity)) soonerMs = Math.min(soonerMs, atMs);
        if (value > (before?.high ?? Infinity)) laterMs = atMs;
      }
      expect(soonerMs, `seed ${seed}`).toBeLessThanOrEqual(laterMs);
      gainedMs += laterMs - soonerMs;
    }
    expect(gainedMs).toBeGreaterThan(0);
  }, 60_000);
});
