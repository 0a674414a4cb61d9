import { describe, expect, it } from 'vitest';
import { whyNot } from '../../../daemon/serve/command-check.js';
import { createHub } from '../../../daemon/serve/hub.js';
import { readPageMessage } from '../../../daemon/serve/page-message.js';
import { procedureView } from '../../../daemon/serve/procedure-view.js';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import { beginWatch, watch } from '../../../daemon/watch/watch.js';
import { manualClock } from '../../manual-clock.js';
import { PLAN } from '../watch/cabin.js';
import { upToRails, Walk, WALK_PLAN, WELL } from '../watch/procedure/walk.js';
import { fakePage } from './fake-page.js';

describe('the power-up as a page shows it', () => {
  it('is nothing in a session without one, and refuses its messages', () => {
    const state = beginWatch(PLAN);
    expect(procedureView(state)).toBeNull();
    expect(whyNot({ kind: 'step', step: 'soak', action: 'begin' }, state, null)).toMatch(
      /railminder powerup/,
    );
  });

  it('says which step is done and why the next can’t begin', () => {
    const walk = new Walk().off().act('cold-checks', { action: 'begin' });
    const view = procedureView(walk.state);
    expect(view).toMatchObject({ current: 'cold-checks', next: 'rails', ended: null });
    expect(view?.whyNotNext).toMatch(
      /is not done \(3 checks are not answered\)\. Finish it, or override it with a reason\./,
    );
    expect(procedureView(upToRails().state)?.whyNotNext).toBeNull();
  });

  it('holds checks with what is wanted, and values that were kept', () => {
    const view = procedureView(upToRails().state);
    expect(view?.steps[0]?.checks[0]).toMatchObject({
      id: 'earth',
      wanted: '0.30 Ω or less',
      waiver: 'class II',
      answer: '0.12 Ω',
      inside: true,
    });
    expect(view?.steps[1]?.points[1]).toMatchObject({
      point: 'logic.volts',
      low: 4.8,
      captured: { value: 5, verdict: 'inside' },
    });
  });

  it('says in a sentence what is wrong', () => {
    const walk = new Walk().off().act('cold-checks', { action: 'begin' }).answerAll();
    walk.act('rails', { action: 'begin' }).stand(6000, { ...WELL, logic: 5.35 });
    expect(procedureView(walk.state)?.steps[1]?.failures).toEqual([
      'Logic rail: 5.35 V where 4.80 to 5.20 V is expected.',
    ]);
  });
});

describe('the hub', () => {
  it('tells the power-up in the snapshot, and again when a step changes, not with every reading', () => {
    const clock = manualClock();
    let state = beginWatch(WALK_PLAN);
    const hub = createHub({
      state,
      session: {
        design: 'cabin',
        bench: 'table',
        load: 'typical',
        startedAt: '2026-11-25T08:39:12Z',
        speed: 1,
      },
      supply: { rectifier: 'bridge', blocks: [] },
      instruments: [],
      recorderFile: () => null,
      demo: () => null,
      onCommand: () => null,
      wall: clock,
    });
    const tell = (event: WatchEvent): void => {
      const next = watch(state, event);
      state = next.state;
      hub.publish(event, state, next.effects);
      clock.advance(50);
    };
    const page = fakePage();
    hub.connect(page, true);
    expect(page.snapshots()[0]?.procedure).toMatchObject({ current: null, next: 'cold-checks' });
    tell({ kind: 'step', atMs: 10, step: 'cold-checks', action: 'begin' });
    tell({ kind: 'tick', atMs: 260 });
    const told = page.received.flatMap((message) =>
      message.kind === 'changes' && message.procedure !== undefined ? [message.procedure.current] : [],
    );
    expect(told).toEqual(['cold-checks']);
  });
});

describe('a page’s message about a step', () => {
  it.each([
    { kind: 'step', step: 'soak', action: 'begin' },
    { kind: 'step', step: 'cold-checks', action: 'answer', check: 'earth', text: '0.1' },
    { kind: 'step', step: 'soak', action: 'override', reason: 'no time today' },
    { kind: 'step', step: 'soak', action: 'abort', reason: '' },
    { kind: 'step', step: 'sign-off', action: 'sign', name: 'Ada' },
  ])('is read: %j', (message) => {
    expect(readPageMessage(JSON.stringify(message)).message).toEqual(message);
  });

  it.each([
    { kind: 'step', step: 'soak' },
    { kind: 'step', step: 'soak', action: 'jump' },
    { kind: 'step', step: 'soak', action: 'answer', text: '1' },
    { kind: 'step', step: '', action: 'begin' },
    { kind: 'step', step: 'soak', action: 'override', reason: 'x'.repeat(2000) },
  ])('is refused: %j', (message) => {
    expect(readPageMessage(JSON.stringify(message)).message).toBeNull();
  });
});
