import { describe, expect, it } from 'vitest';
import { describeDesign } from '../../../daemon/predict/engine/description.js';
import { faultModels } from '../../../daemon/predict/engine/faults.js';
import { supplyModel } from '../../../daemon/predict/engine/model.js';
import { drawModelCloud } from '../../../daemon/predict/engine/model-cloud.js';
import { faultBands, faultClouds } from '../../../daemon/predict/fault-clouds.js';
import { predict } from '../../../daemon/predict/predict.js';
import { faultTable } from '../../../daemon/predict/print-faults.js';
import { cabin } from '../design/signal-cabin.js';
import { example } from '../design/topologies.js';

const DRAWS = 128;
const seed = 11;

describe('fault clouds (seed 11)', () => {
  const design = cabin();
  const faults = [...faultClouds(design, { load: 'full', seed, draws: DRAWS })].map(faultBands);
  const bandOf = (fault: string, about: string, point: string) =>
    faults.find((each) => each.fault === fault && each.about === about)?.points[point];

  it('there is one for each fault, and every one can be worked out', () => {
    expect(faults.length).toBe(faultModels(describeDesign(design)).length);
    expect(faults.filter(({ trouble }) => trouble !== '')).toEqual([]);
  });

  it.each(['goods-crane', 'level-crossing', 'turntable'])('%s has them too', (name) => {
    const clouds = [...faultClouds(example(name), { load: 'typical', seed, draws: 16 })];
    expect(clouds.filter(({ cloud }) => cloud === null)).toEqual([]);
  });

  it('a fault of size 0 has the healthy cloud', () => {
    const supply = describeDesign(design);
    const healthy = drawModelCloud(supplyModel(supply, 'full'), { draws: 32, seed });
    for (const { apply } of faultModels(supply)) {
      expect(drawModelCloud(supplyModel(apply(0), 'full'), { draws: 32, seed })).toEqual(healthy);
    }
  });

  // Common practice: half the pulses, about twice the ripple; a bare TO-220 at 3 W is far above 100 degrees C.
  it('an open diode shows in the ripple, a missing heatsink at the case', () => {
    const { points } = predict(design, { load: 'full', seed });
    expect(bandOf('diode-open', 'rectifier', 'reservoir.ripple')?.low).toBeGreaterThan(
      points['reservoir.ripple']?.high ?? Infinity,
    );
    expect(bandOf('heatsink-missing', 'logic', 'logic.case')?.low).toBeGreaterThan(100);
  });

  it('the table names for each where it shows, the furthest first, within 100 columns', () => {
    const lines = faultTable(predict(design, { load: 'full', seed }), faults).split('\n');
    expect(lines.every((line) => line.length <= 100)).toBe(true);
    const open = lines.findIndex((line) => line.includes('(diode-open)'));
    expect(lines[open + 1]).toMatch(
      /^ {4}reservoir\.ripple +\d\.\d\d to \d\.\d\d V p-p, not \d\.\d\d to \d\.\d\d$/,
    );
  });

  it('says so when a fault shows nowhere, or has no steady state', () => {
    const prediction = predict(design, { load: 'full', seed });
    const { points } = prediction;
    const nowhere = { fault: 'none', about: 'lamps', title: 'nothing', trouble: '', points };
    expect(faultTable(prediction, [nowhere])).toContain('only a look or a touch finds it');
    expect(faultTable(prediction, [{ ...nowhere, points: {}, trouble: 'no steady state' }])).toContain(
      'no steady state',
    );
  });
});
