import { describe, expect, it } from 'vitest';
import { describeDesign } from '../../../../daemon/predict/engine/description.js';
import { faultModels } from '../../../../daemon/predict/engine/faults.js';
import { RIPPLE_HERTZ, suspectClouds } from '../../../../daemon/watch/suspects/clouds.js';
import { judge } from '../../../../daemon/watch/suspects/judge.js';
import { beginSuspects } from '../../../../daemon/watch/suspects/model.js';
import { cabin } from '../../design/signal-cabin.js';
import { example } from '../../design/topologies.js';

const seed = 4;

describe('the clouds of all suspects (seed 4)', () => {
  const clouds = [...suspectClouds(cabin(), { load: 'typical', seed, draws: 16 })];

  it('there is the healthy one and one for each known fault', () => {
    expect(clouds.map(({ fault, about }) => `${fault} ${about}`)).toEqual([
      'healthy ',
      ...faultModels(describeDesign(cabin())).map(({ fault, about }) => `${fault} ${about}`),
    ]);
  });

  it('what comes by degrees is drawn at several sizes, what moves the volts with two kinds of load', () => {
    const runs = (fault: string): number[] =>
      clouds.find((each) => each.fault === fault)!.runs.map(({ length }) => length);
    expect(runs('diode-open')).toEqual([1]);
    expect(runs('heatsink-loose')).toEqual([8]);
    expect(runs('adjust-grounded')).toEqual([1, 1]);
    expect(runs('overload')).toEqual([8, 8]);
  });

  // A bridge gives two pulses a cycle of 50 Hz, half of one gives one.
  it('the ripple of half a bridge has the frequency of the mains', () => {
    const hertz = (fault: string): number | undefined =>
      clouds.find((each) => each.fault === fault)!.runs[0]![0]!.cloud.results[RIPPLE_HERTZ]![0];
    expect(hertz('healthy')).toBe(100);
    expect(hertz('diode-open')).toBe(50);
  });

  // 12 % of 15 V at 2 A: 0.9 ohm by the definition of regulation.
  it('the winding has the resistance that its regulation says', () => {
    const ohms = clouds[0]!.runs[0]![0]!.windingOhms;
    const mean = ohms.reduce((sum, each) => sum + each, 0) / ohms.length;
    expect(mean).toBeCloseTo(0.9, 1);
  });

  // Split rails, a half-wave and a filter: whatever the supply, its own typical readings are healthy.
  it.each(['turntable', 'level-crossing', 'goods-crane'])('%s reads healthy where it is typical', (name) => {
    const model = beginSuspects([...suspectClouds(example(name), { load: 'full', seed, draws: 32 })]);
    const typical = model.points.map(({ id, scale }) => ({
      point: id,
      value: scale.middle,
      standardUncertainty: 0,
    }));
    expect(judge(model, typical).suspects[0]).toMatchObject({ fault: 'healthy' });
    expect(judge(model, typical).suspects[0]!.probability).toBeGreaterThan(0.9);
  });
});
