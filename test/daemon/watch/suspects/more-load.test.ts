import { describe, expect, it } from 'vitest';
import { LOAD_STATES, type LoadState } from '../../../../daemon/design/design.js';
import { suspectClouds } from '../../../../daemon/watch/suspects/clouds.js';
import { judge } from '../../../../daemon/watch/suspects/judge.js';
import { beginSuspects, type SuspectModel } from '../../../../daemon/watch/suspects/model.js';
import { pointWithMoreLoad } from '../../../../daemon/watch/suspects/more-load.js';
import { cabin } from '../../design/signal-cabin.js';
import { sessionOf, type BenchFault } from './sessions.js';

const design = cabin();
const LOOSE: BenchFault = { fault: 'heatsink-loose', about: 'lamps' };
const models = new Map(
  LOAD_STATES.map((load) => [load, beginSuspects([...suspectClouds(design, { load, seed: 1 })])]),
);
const modelOf = (load: LoadState): SuspectModel => models.get(load)!;

function asked(load: LoadState, struck: BenchFault | null, seed: number, candidates?: ReadonlySet<string>) {
  const { settled } = sessionOf(design, load, struck, seed);
  const judgement = judge(modelOf(load), settled);
  return { judgement, point: pointWithMoreLoad(judgement, settled, load, modelOf, candidates) };
}

describe('where more load would show what hides at idle', () => {
  // 0.05 A over some 8 V is 0.4 W and 3 K over a loose screw, 0.35 A is 2.8 W and over 20 K (8 K/W, from memory).
  it('the case of the lamps regulator at typical load, for a screw that may be loose (seed 52)', () => {
    const { judgement, point } = asked('idle', LOOSE, 52);
    expect(judgement.suspects[0]!.fault).toBe('healthy');
    expect(point).toMatchObject({ point: 'lamps.case', load: 'typical' });
    const [healthy, loose] = point!.splits;
    expect([healthy!.fault, loose!.fault]).toEqual(['healthy', 'heatsink-loose']);
    expect(loose!.reads - healthy!.reads).toBeGreaterThan(8);
  });

  it('is not asked for where no probe goes there', () => {
    expect(asked('idle', LOOSE, 52, new Set(['reservoir.volts'])).point).toBeNull();
  });

  it('nor where a fault leads: the supply is switched off first (seed 6)', () => {
    const { judgement, point } = asked('idle', { fault: 'r2-too-large', about: 'lamps' }, 6);
    expect(judgement.suspects[0]!.alike).toHaveLength(1);
    expect(point).toBeNull();
  });

  it('nor under full load, where there is no more', () => {
    expect(asked('full', null, 5).point).toBeNull();
  });
});
