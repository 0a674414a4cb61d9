import { describe, expect, it } from 'vitest';
import { loadBench, loadDesign } from '../../daemon/design/load.js';
import { suggestedLamp } from '../../daemon/procedure/lamp.js';
import { procedureOf } from '../../daemon/procedure/procedure.js';
import { canMeasure } from '../../daemon/measurable.js';
import { joinInstruments } from '../../daemon/channels.js';
import { testPointsOf } from '../../daemon/design/test-points.js';
import { cabinSession } from './cabin-session.js';
import { example, exampleText } from './design/topologies.js';

const BY_HAND = `
bench: one meter
instruments:
  hand: { driver: by-hand, channels: { leads: { measures: dc-volts } } }
`;

const design = loadDesign(exampleText('signal-cabin'), 'signal-cabin.design.yaml');
const procedure = procedureOf(design, {
  load: 'typical',
  lamp: suggestedLamp(design),
  hasCutOff: false,
  canMeasure: (point) => point.endsWith('.volts'),
});

async function started() {
  const linkFor = () => {
    throw new Error('a typed instrument has no link');
  };
  const cabin = await cabinSession(BY_HAND, () => ({ linkFor, procedure }));
  cabin.session.start();
  return cabin;
}

describe('a session that walks through a power-up', () => {
  it('expects what the step does from its beginning on, once', async () => {
    const { session, events } = await started();
    const act = (step: string, action: 'begin' | 'override') =>
      session.act(
        action === 'begin'
          ? { kind: 'step', step, action }
          : { kind: 'step', step, action, reason: 'checked before' },
      );
    for (const { id } of procedure.steps.slice(0, 4)) {
      expect(act(id, 'begin')).toBeNull();
      expect(act(id, 'override')).toBeNull();
    }
    const expected = events.flatMap((event) => (event.kind === 'expect' ? [event.step] : []));
    expect(expected).toEqual(['raw']);
    expect(session.state.expecting?.bands['reservoir.volts']).toEqual(
      procedure.steps[3]?.bands['reservoir.volts'],
    );
  });

  it('says why not, and records nothing of it', async () => {
    const { session, events } = await started();
    expect(session.act({ kind: 'step', step: 'soak', action: 'begin' })).toMatch(/not the next step/);
    expect(events.some(({ kind }) => kind === 'step')).toBe(false);
  });
});

describe('what a bench can measure', () => {
  const measures = (name: string) => {
    const text = exampleText(name, 'bench');
    const value = loadBench(text, 'x', example(name));
    const instruments = joinInstruments({ file: 'x', text, value });
    return testPointsOf(example(name)).filter(canMeasure(instruments, testPointsOf(example(name))));
  };

  // A meter shows the mean of what ripples, so that a valley takes a scope.
  it('is where a channel sits, and all that one with leads can be moved to', () => {
    expect(measures('goods-crane')).toEqual([
      ...['reservoir.volts', 'filter.volts', 'filter.case'],
      ...['crane.volts', 'crane.case'],
    ]);
  });
});
