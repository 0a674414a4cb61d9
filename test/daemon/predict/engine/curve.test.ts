import { describe, expect, it } from 'vitest';
import { describeDesign } from '../../../../daemon/predict/engine/description.js';
import { temperatureCurves } from '../../../../daemon/predict/engine/curve.js';
import { supplyModel } from '../../../../daemon/predict/engine/model.js';
import { certain } from '../../../../daemon/predict/engine/parameters.js';
import { predictSupply } from '../../../../daemon/predict/engine/predict-supply.js';
import type { RailDescription } from '../../../../daemon/predict/engine/supply.js';
import { simulateSupply } from '../../../../drivers/simulated/supply.js';
import { cabin } from '../../design/signal-cabin.js';
import { cooledBy, signalCabin } from './supplies.js';

const MINUTES = [0, 1, 2, 5, 10, 20, 30, 60, 240].map((minutes) => 60 * minutes);

describe('a case from switch-on', () => {
  const { model, points } = predictSupply(signalCabin(), { load: 'typical', draws: 256 });
  const curve = temperatureCurves(model, points, MINUTES)['lamps.case']!;

  it('begins at the ambient and ends in its band', () => {
    expect(curve.typical[0]).toBeCloseTo(points['ambient.air']!.typical, 6);
    const { low, typical, high } = points['lamps.case']!;
    expect(
      [curve.low.at(-1), curve.typical.at(-1), curve.high.at(-1)].map((value) => Math.round(value! * 100)),
    ).toEqual([low, typical, high].map((value) => Math.round(value * 100)));
  });

  it('only rises, low below typical below high', () => {
    MINUTES.forEach((_, k) => {
      expect(curve.low[k]).toBeLessThanOrEqual(curve.typical[k]!);
      expect(curve.typical[k]).toBeLessThanOrEqual(curve.high[k]!);
      if (k > 0) expect(curve.typical[k]).toBeGreaterThan(curve.typical[k - 1]!);
    });
  });

  // One lump: tau = R C. Junction and case ride on the heatsink's 60 J/K x 8 K/W = 480 s.
  it('has the time constant of its heatsink', () => {
    expect(curve.timeConstants[0]).toBeGreaterThan(480);
    expect(curve.timeConstants[0]).toBeLessThan(510);
  });
});

// A bare TO-220 of 1 to 2 J/K on 50 to 65 K/W takes one to three minutes (from memory, common practice).
it('a bare package takes a minute or two', () => {
  const supply = signalCabin();
  const bare = {
    ...supply,
    rails: supply.rails.map((each) => ({ ...each, cooling: cooledBy(each.name, null) })),
  };
  const { model, points } = predictSupply(bare, { load: 'typical', draws: 64 });
  const { timeConstants } = temperatureCurves(model, points, MINUTES)['logic.case']!;
  expect(timeConstants[0]).toBeGreaterThan(40);
  expect(timeConstants[0]).toBeLessThan(120);
});

it('parts on a shared heatsink rise together and end where they settle', () => {
  const supply = signalCabin();
  const on = (part: RailDescription): RailDescription => ({
    ...part,
    cooling: {
      ...part.cooling,
      mounting: { interface: certain(`${part.name}.caseSink`, 1), heatsink: 'wall', fitted: true },
    },
  });
  const wall = { kind: 'rated' as const, toAir: certain('wall', 3), capacity: certain('wall.capacity', 200) };
  const shared = { ...supply, rails: supply.rails.map(on), heatsinks: { wall } };
  const { model, points } = predictSupply(shared, { load: 'typical', draws: 64 });
  const curves = temperatureCurves(model, points, MINUTES);
  for (const id of ['lamps.case', 'logic.case']) {
    expect(curves[id]!.typical.at(-1)).toBeCloseTo(points[id]!.typical, 2);
    // 3 K/W x 200 J/K, and both cases' 1.5 J/K beside it.
    expect(curves[id]!.timeConstants[0]).toBeGreaterThan(600);
    expect(curves[id]!.timeConstants[0]).toBeLessThan(630);
  }
});

// The simulated bench steps its own heat network in time.
it.each([1, 2])('a simulated case stays within its band on the way up (seed %i)', (seed) => {
  const model = supplyModel(describeDesign(cabin()), 'typical');
  const { points } = predictSupply(model.description, { load: 'typical', draws: 1024 });
  const curves = temperatureCurves(model, points, MINUTES);
  const supply = simulateSupply(cabin(), { seed });
  supply.power('on');
  MINUTES.slice(1, 8).forEach((seconds, k) => {
    supply.advanceTo(1000 * seconds);
    for (const id of ['lamps.case', 'logic.case']) {
      expect(supply.read(id), `${id} after ${seconds} s`).toBeGreaterThan(curves[id]!.low[k + 1]!);
      expect(supply.read(id), `${id} after ${seconds} s`).toBeLessThan(curves[id]!.high[k + 1]!);
    }
  });
});
