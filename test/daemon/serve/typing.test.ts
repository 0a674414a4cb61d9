import { describe, expect, it } from 'vitest';
import type { PageCommand } from '../../../daemon/serve/command-check.js';
import { createHub } from '../../../daemon/serve/hub.js';
import { typingPlaces, type TypedChannel } from '../../../daemon/serve/typing.js';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import { beginWatch, watch } from '../../../daemon/watch/watch.js';
import { manualClock } from '../../manual-clock.js';
import { PLAN } from './cabin.js';
import { fakePage } from './fake-page.js';

const CHANNELS = [
  { instrument: 'hand', channel: 'red', intervalMs: 100_000, typed: true },
  { instrument: 'hand', channel: 'blue', intervalMs: 100_000, typed: true },
  { instrument: 'meter', channel: 'volts', intervalMs: 500 },
] as const;
const TYPED: readonly TypedChannel[] = [
  { instrument: 'hand', channel: 'red', points: ['logic.volts'] },
  { instrument: 'hand', channel: 'blue', points: ['logic.volts', 'logic.case'] },
];

function stateAfter(...probes: readonly (readonly [instrument: string, channel: string, point: string])[]) {
  return probes.reduce(
    (state, [instrument, channel, point]) =>
      watch(state, { kind: 'probe', atMs: 0, instrument, channel, point }).state,
    beginWatch({ ...PLAN, channels: CHANNELS }),
  );
}

describe('where a person may type', () => {
  it('is each test point that a channel of theirs can reach, an idle one first', () => {
    expect(typingPlaces(stateAfter(), TYPED)).toEqual([
      { point: 'logic.volts', instrument: 'hand', channel: 'red', there: false },
      { point: 'logic.case', instrument: 'hand', channel: 'blue', there: false },
    ]);
  });

  it('is where the probe sits, and not what another instrument measures', () => {
    expect(typingPlaces(stateAfter(['hand', 'blue', 'logic.case']), TYPED)[1]).toEqual({
      point: 'logic.case',
      instrument: 'hand',
      channel: 'blue',
      there: true,
    });
    const cabled = typingPlaces(stateAfter(['meter', 'volts', 'logic.volts']), TYPED);
    expect(cabled.map(({ point }) => point)).toEqual(['logic.case']);
  });
});

describe('a page on which a person types', () => {
  function table(answer: string | null = null) {
    let state = beginWatch({ ...PLAN, channels: CHANNELS });
    const clock = manualClock();
    const done: PageCommand[] = [];
    const hub = createHub({
      state,
      session: { design: 'cabin', bench: 'table', load: 'typical', startedAt: '2026-01-01', speed: 1 },
      supply: { rectifier: 'bridge', blocks: [] },
      instruments: [
        { name: 'hand', driver: 'by-hand', link: 'typed by hand', typed: TYPED },
        { name: 'meter', driver: 'scpi-meter', link: 'x' },
      ],
      recorderFile: () => null,
      demo: () => null,
      onCommand: (command) => (done.push(command), answer),
      wall: clock,
    });
    const page = fakePage();
    const connection = hub.connect(page, true);
    return {
      page,
      done,
      say: (message: object) => connection.receive(JSON.stringify(message)),
      tell: (event: WatchEvent) => {
        state = watch(state, event).state;
        hub.publish(event, state, []);
        clock.advance(50);
      },
      refusals: () => page.received.flatMap((one) => (one.kind === 'refused' ? [one.why] : [])),
    };
  }

  it('hears where, and when a probe was moved', () => {
    const { page, tell } = table();
    expect(page.snapshots()[0]?.typing).toHaveLength(2);
    tell({ kind: 'probe', atMs: 1, instrument: 'hand', channel: 'red', point: 'logic.volts' });
    expect(page.changes().at(-1)?.typing?.[0]).toMatchObject({ point: 'logic.volts', there: true });
  });

  it('has its reading handed on, and hears why not', () => {
    const typed = { kind: 'typed', instrument: 'hand', channel: 'red', text: '5.02' };
    const { done, say } = table();
    say(typed);
    expect(done).toEqual([typed]);
    const refusing = table('that is no number');
    refusing.say({ ...typed, text: 'five' });
    expect(refusing.refusals()).toEqual(['that is no number']);
  });

  it('can not type for an instrument with a cable, nor nothing, nor a book', () => {
    const { done, say, refusals } = table();
    say({ kind: 'typed', instrument: 'meter', channel: 'volts', text: '5' });
    say({ kind: 'typed', instrument: 'hand', channel: 'red', text: ' ' });
    say({ kind: 'typed', instrument: 'hand', channel: 'red', text: '5'.repeat(201) });
    expect(done).toEqual([]);
    expect(refusals()[0]).toBe(
      'Nothing is typed for meter volts; readings are typed for hand red, hand blue.',
    );
    expect(refusals()).toHaveLength(3);
  });
});
