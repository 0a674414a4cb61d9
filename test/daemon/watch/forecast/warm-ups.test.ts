import { beforeAll, describe, expect, it } from 'vitest';
import { NOTHING_KNOWN } from '../../../../daemon/watch/forecast/prior.js';
import { listen, middle, leads, recognised, share, type Told } from './listen.js';
import { makeWarmUps } from './warm-ups.js';

describe('warm-ups of the same kinds from another integrator (seed 3)', () => {
  let all: readonly Told[];
  beforeAll(() => {
    all = makeWarmUps(80, 3).map((trace) => listen(trace, NOTHING_KNOWN));
  }, 300_000);

  it('tells no change of quiet ones', () => {
    const quiet = all.filter(({ trace }) =>
      trace.truth.events.every(({ type }) => type === 'missing_samples'),
    );
    expect(quiet.length).toBeGreaterThan(15);
    expect(quiet.filter(({ changes }) => changes.length > 0)).toEqual([]);
  });

  it.each([
    ['power_off', 'switched-off'],
    ['sensor_off', 'sensor-lifted'],
  ] as const)('tells %s as %s within half a minute in 95 %%', (event, name) => {
    const seen = all.flatMap((told) => recognised(told, event, [name]));
    expect(seen.length).toBeGreaterThan(4);
    expect(share(seen)).toBeGreaterThanOrEqual(0.95);
  });

  it('says for 60 % of the way before a limit is crossed, in the middle, that it is ahead', () => {
    expect(middle(leads(all))).toBeGreaterThanOrEqual(0.6);
  });
});
