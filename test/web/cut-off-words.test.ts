import { describe, expect, it } from 'vitest';
import type { CutOffView } from '../../daemon/serve/messages.js';
import { cutOffButtons, cutOffState } from '../../web/cut-off-words.js';

const view = (more: Partial<CutOffView>): CutOffView => ({
  output: 'mains-relay',
  state: 'disarmed',
  sinceMs: 0,
  position: 'off',
  why: null,
  on: ['over-limit'],
  at: null,
  isFalling: false,
  caution: '',
  ...more,
});

describe('a cut-off on the page', () => {
  it.each([
    [view({}), 'Not armed: no alarm drops it; power is off.'],
    [view({ state: 'armed', position: 'on' }), 'Armed; power is on.'],
    [
      view({ state: 'dropped', position: 'on', isFalling: true, why: 'logic volts over its limit' }),
      'Dropped by logic volts over its limit; power is being taken away. It stays so until it is armed again.',
    ],
    [view({ position: 'unknown' }), 'Not armed: no alarm drops it; whether power is on is not known.'],
  ])('says where it stands', (cutOff, words) => {
    expect(cutOffState(cutOff)).toBe(words);
  });

  it.each(['disarmed', 'armed', 'dropped'] as const)(
    'power can be taken away when it may be on (%s)',
    (state) => {
      for (const position of ['on', 'unknown'] as const) {
        expect(cutOffButtons(view({ state, position })).map(({ order }) => order)).toContain('off');
      }
    },
  );

  it('lets nothing through that has dropped', () => {
    const orders = cutOffButtons(view({ state: 'dropped' })).map(({ order }) => order);
    expect(orders).toEqual(['off', 'arm']);
  });

  it('what gives power, or takes it by a test, needs somebody who sees the supply', () => {
    const buttons = (['disarmed', 'armed', 'dropped'] as const).flatMap((state) =>
      cutOffButtons(view({ state })),
    );
    const sighted = buttons.filter(({ needsSight }) => needsSight).map(({ order }) => order);
    expect(new Set(sighted)).toEqual(new Set(['on', 'arm', 'test']));
  });
});
