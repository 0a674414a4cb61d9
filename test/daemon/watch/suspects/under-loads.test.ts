import { describe, expect, it } from 'vitest';
import { SuspectWeigher } from '../../../../daemon/suspects/weigher.js';
import { RIPPLE_HERTZ } from '../../../../daemon/watch/suspects/clouds.js';
import type { Judgement } from '../../../../daemon/watch/suspects/judgement.js';
import type { Settled } from '../../../../daemon/watch/suspects/settled.js';
import { otherLoadWords } from '../../../../daemon/watch/suspects/suspect-words.js';
import { cabin } from '../../design/signal-cabin.js';
import { sessionOf, type BenchFault } from './sessions.js';

const design = cabin();
const weigher = new SuspectWeigher({ design, seed: 3 });
const OPEN: BenchFault = { fault: 'diode-open', about: 'rectifier' };
const RAW = ['reservoir.volts', 'reservoir.ripple', 'transformer.amps'];

// Worked out here, before any test's time runs.
weigher.judge({ settled: measured('typical', OPEN, ...RAW), load: 'typical', isLoadSure: false });

function measured(load: 'typical' | 'full', struck: BenchFault | null, ...points: string[]): Settled[] {
  return sessionOf(design, load, struck, 11).settled.filter(({ point }) => points.includes(point));
}

function leading({ suspects: [first] }: Judgement): [string, number] {
  return [first!.fault, first!.probability];
}

// The simulated bench integrates the circuit in time steps and shares no formula with the predictions.
describe('a load that nobody named (seed 11)', () => {
  it('an open diode is no full load: the current is that of one, the ripple is not', () => {
    const settled = measured('typical', OPEN, ...RAW);
    const judgement = weigher.judge({ settled, load: 'typical', isLoadSure: false });
    expect(leading(judgement)[0]).toBe('diode-open');
    expect(leading(judgement)[1]).toBeGreaterThan(0.9);
    expect(judgement.otherLoad).toBeNull();
  });

  // A full-wave rectifier ripples at twice the mains frequency, half of one at the mains frequency.
  it('nor when the load was taken for full by mistake, once a scope shows half of the pulses', () => {
    const hertz = { point: RIPPLE_HERTZ, value: 50, standardUncertainty: 0.05 };
    const settled = [...measured('typical', OPEN, ...RAW), hertz];
    const judgement = weigher.judge({ settled, load: 'full', isLoadSure: false });
    expect(leading(judgement)[0]).toBe('diode-open');
    expect(judgement.otherLoad).toMatchObject({ load: 'typical' });
  });

  it('a full load is no fault, and the person is asked to say so', () => {
    const settled = measured('full', null, ...RAW);
    const judgement = weigher.judge({ settled, load: 'typical', isLoadSure: false });
    expect(leading(judgement)[0]).toBe('healthy');
    expect(judgement.otherLoad?.load).toBe('full');
    expect(otherLoadWords({ load: 'full', probability: 0.87 })).toBe(
      'These readings fit full load better (87 %): say which load is on.',
    );
  });

  it('counts as it was said once a person has said it', () => {
    const settled = measured('full', null, ...RAW);
    const judgement = weigher.judge({ settled, load: 'typical', isLoadSure: true });
    expect(leading(judgement)[0]).not.toBe('healthy');
    expect(judgement.otherLoad).toBeNull();
  });

  it('all probabilities sum to 1 under several loads too', () => {
    const settled = measured('full', OPEN, ...RAW);
    const { suspects, other } = weigher.judge({ settled, load: 'typical', isLoadSure: false });
    const sum = suspects.reduce((total, { probability }) => total + probability, other.probability);
    expect(sum).toBeCloseTo(1, 9);
    expect(new Set(suspects.map(({ fault, about }) => `${fault} ${about}`)).size).toBe(suspects.length);
  });
});
