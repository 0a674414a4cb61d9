import { describe, expect, it } from 'vitest';
import { suggestedLamp } from '../../../daemon/procedure/lamp.js';
import { procedureFor } from '../../../daemon/procedure/procedure-for.js';
import { procedureOf } from '../../../daemon/procedure/procedure.js';
import type { ProcedureOptions } from '../../../daemon/procedure/step-maker.js';
import { example } from '../design/topologies.js';

describe('a walk made anew', () => {
  const design = example('signal-cabin');
  const usual: ProcedureOptions = {
    load: 'full',
    lamp: suggestedLamp(design),
    hasCutOff: false,
    canMeasure: () => true,
  };

  it.each([
    ['with the suggested lamp', {}],
    ['with a lamp of 60 W', { lamp: { ratedWatts: 60, ratedVolts: design.mains.volts } }],
    ['without a lamp, with a cut-off', { lamp: null, hasCutOff: true }],
    ['on a bench with a voltmeter only', { canMeasure: (point: string) => point.endsWith('.volts') }],
  ])('%s for the same design is the same', (_, changes) => {
    const made = procedureOf(design, { ...usual, ...changes });
    expect(procedureFor(design, made, 'full')).toEqual(made);
  });

  it('for another design that its lamp would starve has that one’s steps, bands and lamp', () => {
    const crane = example('goods-crane');
    const cabins = procedureOf(design, usual);
    const made = procedureFor(crane, cabins, 'full');
    const read = cabins.steps.flatMap(({ points }) => points.map(({ point }) => point));
    const canMeasure = (point: string) => read.includes(point);
    expect(made).toEqual(procedureOf(crane, { ...usual, canMeasure, lamp: suggestedLamp(crane) }));
    expect(Object.keys(made.steps.find(({ id }) => id === 'raw')!.bands)).toContain('reservoir.volts');
  });
});
