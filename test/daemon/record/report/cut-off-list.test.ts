import { expect, it } from 'vitest';
import { cutOffList } from '../../../../daemon/record/report/cut-off-list.js';
import type { Effect } from '../../../../daemon/watch/effects.js';
import { instrument, poweredCabin, reading, SUPPLIED } from '../../watch/cabin.js';
import { HEADER } from '../signal-cabin.js';

const RELAY = 'mains-relay';
const isOf =
  <Kind extends Effect['kind']>(kind: Kind) =>
  (effect: Effect): effect is Extract<Effect, { kind: Kind }> =>
    effect.kind === kind;

function listOf(effects: readonly Effect[]): string {
  const header = { ...HEADER, plan: SUPPLIED };
  return cutOffList({
    header,
    alarms: effects.filter(isOf('alarm')),
    cutOffs: effects.filter(isOf('cut-off')),
  }).text;
}

it('the report lists what a cut-off did and why, and what it doesn’t replace', () => {
  const { effects } = poweredCabin(SUPPLIED).feed(
    instrument(100, RELAY, 'open'),
    { kind: 'cut-off', atMs: 400, output: RELAY, order: 'arm', inSight: true },
    reading(600, 'meter volts', 18),
    { kind: 'output', atMs: 620, output: RELAY, position: 'off', failed: null },
  );
  const text = listOf(effects);
  expect(text).toContain('mains-relay is armed, by somebody who has the supply in sight');
  expect(text).toContain('was dropped by the alarm &quot;logic volts, eighteen');
  expect(text).toContain('mains-relay says that power is off');
  expect(text).toContain('doesn&#39;t replace a fuse, a lamp limiter or a person');
});

it('says nothing where there was none', () => {
  expect(listOf([])).toBe('');
});
