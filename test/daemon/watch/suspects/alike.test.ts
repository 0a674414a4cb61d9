import { describe, expect, it } from 'vitest';
import { RIPPLE_HERTZ, suspectClouds } from '../../../../daemon/watch/suspects/clouds.js';
import { judge } from '../../../../daemon/watch/suspects/judge.js';
import type { Suspect } from '../../../../daemon/watch/suspects/judgement.js';
import { beginSuspects, type SuspectDistribution } from '../../../../daemon/watch/suspects/model.js';
import { alikeWords } from '../../../../daemon/watch/suspects/suspect-words.js';
import { cabin } from '../../design/signal-cabin.js';
import { benchFaults, sessionOf } from './sessions.js';

const design = cabin();
const idle = beginSuspects([...suspectClouds(design, { load: 'idle', seed: 1 })]);

function alikeNames({ alike = [] }: Suspect): string[] {
  return alike.map(({ fault, about }) => `${fault} ${about}`);
}

function distribution(fault: string, about: string): SuspectDistribution {
  return idle.suspects.find((each) => each.fault === fault && each.about === about)!;
}

/** On every point the two ranges of two standard deviations of some component of each meet. */
function overlap(one: SuspectDistribution, other: SuspectDistribution): boolean {
  return one.components.some((a) =>
    other.components.some((b) =>
      idle.points.every((_, place) => {
        const width = a.mean.length;
        const variance = a.covariance[place * width + place]! + b.covariance[place * width + place]!;
        return Math.abs(a.mean[place]! - b.mean[place]!) <= 2 * Math.sqrt(variance) + 1e-9;
      }),
    ),
  );
}

// 0.05 A over some 8 V: 0.4 W, and a loose screw adds at most 8 K/W (from memory), 3 K in all.
describe('at idle the lamps regulator turns too little into heat', () => {
  it('so that the cloud of a loose heatsink lies over that of a healthy supply on every point', () => {
    const healthy = idle.suspects[idle.healthy]!;
    expect(overlap(distribution('heatsink-loose', 'lamps'), healthy)).toBe(true);
    expect(overlap(distribution('diode-open', 'rectifier'), healthy)).toBe(false);
    expect(overlap(distribution('overload', 'lamps'), healthy)).toBe(false);
  });

  it('and a healthy supply is not called free of it (seed 5)', () => {
    const [first] = judge(idle, sessionOf(design, 'idle', null, 5).settled).suspects;
    expect(first!.fault).toBe('healthy');
    expect(alikeNames(first!)).toContain('heatsink-loose lamps');
    expect(alikeWords(first!)).toMatch(/^Not ruled out, too small to be seen under this load: .*loose/);
  });
});

// Ten times R2 asks for more than the reservoir has, and so does no R2 at all: either way the regulator passes all it can.
it('R2 that is open and R2 that is far too large are named together (seed 6)', () => {
  const { settled } = sessionOf(design, 'idle', { fault: 'r2-too-large', about: 'lamps' }, 6);
  const [first] = judge(idle, settled).suspects;
  expect([`${first!.fault} ${first!.about}`, ...alikeNames(first!)].sort()).toEqual([
    'adjust-open lamps',
    'r2-too-large lamps',
  ]);
  expect(alikeWords(first!)).toMatch(/^Either this or: R2 of the lamps .* No test point tells them apart\.$/);
});

it('nothing is called alike while another test point would tell more', () => {
  const [first, second] = sessionOf(design, 'idle', null, 5).settled;
  expect(judge(idle, []).suspects[0]!.alike).toBeUndefined();
  expect(judge(idle, [first!, second!]).suspects[0]!.alike).toBeUndefined();
});

it('where every point was measured the true fault leads or is named with the one that does (seeds 1 to 18)', () => {
  const faults = benchFaults(design);
  const missed = faults.flatMap(({ fault, about }, at) => {
    const { settled, truth } = sessionOf(design, 'idle', { fault, about }, 1 + at);
    const [first] = judge(idle, settled).suspects;
    return [`${first!.fault} ${first!.about}`, ...alikeNames(first!)].includes(truth) ? [] : [truth];
  });
  expect(missed.length).toBeLessThanOrEqual(0.1 * faults.length);
});

it('no more than four are named, and how many more there are', () => {
  const alike = ['a', 'b', 'c', 'd', 'e', 'f'].map((title) => ({ fault: title, about: '', title }));
  const suspect = {
    about: '',
    title: '',
    probability: 1,
    evidence: [],
    action: { switchOff: true, words: '' },
  };
  expect(alikeWords({ ...suspect, fault: 'overload', alike })).toBe(
    'Either this or: a; or: b; or: c; or: d; or: 2 more. No test point tells them apart.',
  );
  expect(alikeWords({ ...suspect, fault: 'overload', alike: [] })).toBeNull();
  expect(alikeWords({ ...suspect, fault: 'overload' })).toBeNull();
});

it('asks for no point that the design does not have', () => {
  expect(idle.points.map(({ id }) => id).filter((id) => id !== RIPPLE_HERTZ)).toEqual(
    expect.not.arrayContaining(['reservoir.peak']),
  );
});
