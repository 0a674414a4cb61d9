import { describe, expect, it } from 'vitest';
import { describeDesign } from '../../../daemon/predict/engine/description.js';
import { supplyModel } from '../../../daemon/predict/engine/model.js';
import { filamentResistance } from '../../../daemon/predict/rectifier/lamp-limiter.js';
import { bandsOf } from '../../../daemon/procedure/bands.js';
import { limiterOf, suggestedLamp, unloadedSecondary } from '../../../daemon/procedure/lamp.js';
import { describeStage, type Stage } from '../../../daemon/procedure/stage.js';
import { example } from '../design/topologies.js';
import { integrateToSteadyState } from '../predict/rectifier/reference-integrator.js';

const design = example('signal-cabin');
const supply = describeDesign(design);
const RAW: Omit<Stage, 'limiter'> = { regulators: false, hung: {}, lid: 'open' };
/** A heavy load on the bare reservoir, as nobody would have it behind a lamp on purpose. */
const heavy = (ohms: number): Omit<Stage, 'limiter'> => ({ ...RAW, hung: { reservoir: { ohms } } });
const lamp = suggestedLamp(design);

describe('the lamp of a limiter', () => {
  it('is about as strong as the transformer, of those that can be had (common practice)', () => {
    expect(lamp).toEqual({ ratedWatts: 40, ratedVolts: 230 });
    expect(suggestedLamp(example('goods-crane')).ratedWatts).toBe(200);
  });

  it('stays dark under an unloaded supply, and hardly lowers it', () => {
    const limiter = limiterOf(supply, RAW, lamp);
    const hot = filamentResistance(lamp, lamp.ratedWatts);
    expect(limiter.ohms.typical).toBeLessThan(hot / 4);
    expect(limiter.leaves.low).toBeGreaterThan(0.9);
  });

  it('glows and takes most of the volts when the reservoir is all but shorted', () => {
    const short = heavy(0.5);
    const limiter = limiterOf(supply, short, lamp);
    expect(limiter.ohms.typical).toBeGreaterThan(0.8 * filamentResistance(lamp, lamp.ratedWatts));
    const bands = bandsOf(describeStage(supply, { ...short, limiter }), 'idle', 0);
    expect(bands['reservoir.volts']?.high).toBeLessThan(3);
  });

  it.each([4700, 100, 22])(
    'with %d ohm on the reservoir gives the volts of an integrated circuit',
    (ohms) => {
      const stage = heavy(ohms);
      const limiter = limiterOf(supply, stage, lamp);
      const { ohms: lampOhms } = limiter;
      const certain = { ...limiter, leaves: { low: 1, typical: 1 } };
      const model = supplyModel(describeStage(supply, { ...stage, limiter: certain }), 'full');
      model.solve(model.typicalDraw());
      // 15 V + 12 % on 230 V; the plate's regulation in ohms at 2 A, and the lamp through the turns ratio squared.
      const turns = (15 * 1.12) / 230;
      const circuit = {
        ...model.reservoir.circuit,
        emfPeak: 15 * 1.12 * Math.SQRT2,
        seriesResistance: (0.12 * 15) / 2 + lampOhms.typical * turns ** 2,
        capacitance: 4700e-6,
        loadCurrent: 0,
        loadResistance: 1 / (1 / ohms + 1 / 4700),
      };
      const integrated = integrateToSteadyState(circuit, 1e-8, model.reservoir.mean);
      expect(model.reservoir.mean / integrated.meanVolts).toBeCloseTo(1, 3);
      // The filament is as warm as what goes through it makes it; the magnetising current comes on top.
      const magnetising = 0.15 * (30 / 230);
      const watts = ((turns * integrated.rectifiedRmsCurrent) ** 2 + magnetising ** 2) * lampOhms.typical;
      expect(lampOhms.typical / filamentResistance(lamp, watts)).toBeCloseTo(1, 1);
    },
  );

  it('counts both polarities of a split bridge: twice the current is twice the drop', () => {
    const split = describeDesign(example('turntable'));
    const ohms = { name: 'lampOhms', low: 500, typical: 500, high: 500 };
    const limiter = { ohms, leaves: { low: 1, typical: 1 } };
    const volts = (hung: Stage['hung']) => {
      const model = supplyModel(describeStage(split, { ...RAW, hung, limiter }), 'full');
      model.solve(model.typicalDraw());
      return model.reservoir.mean;
    };
    const one = volts({ reservoir: { ohms: 200 }, 'negative-reservoir': { ohms: 1e5 } });
    const both = volts({ reservoir: { ohms: 200 }, 'negative-reservoir': { ohms: 200 } });
    expect(both).toBeLessThan(one - 0.5);
  });
});

describe('the open secondary', () => {
  it('gives its rated volts and its regulation more (IEC 60076-1)', () => {
    expect(unloadedSecondary(supply, null).typical).toBeCloseTo(15 * 1.12, 6);
  });

  it('gives a little less behind a lamp, for the magnetising current flows through it', () => {
    const limited = unloadedSecondary(supply, limiterOf(supply, RAW, lamp));
    const bare = unloadedSecondary(supply, null);
    expect(limited.low).toBeLessThan(bare.low);
    expect(limited.low).toBeGreaterThan(0.9 * bare.low);
    expect(limited.high).toBe(bare.high);
  });
});
