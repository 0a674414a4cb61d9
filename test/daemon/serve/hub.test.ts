import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PageCommand } from '../../../daemon/serve/command-check.js';
import type { DemoView, PointStanding } from '../../../daemon/serve/messages.js';
import { INITIAL_STATE, reduce } from '../../../web/session-state.js';
import { cabin, caseTemperature, tick, volts, type Cabin } from './cabin.js';
import { expectNoGap, fakePage, type FakePage } from './fake-page.js';

const DEMO: DemoView = {
  fault: 'none',
  faults: [
    { name: 'none', title: 'no fault' },
    { name: 'diode-open', title: 'one diode open' },
  ],
};

function joined({ hub }: Cabin): FakePage & { say(message: unknown): void } {
  const page = fakePage();
  const connection = hub.connect(page, true);
  return Object.assign(page, { say: (message: unknown) => connection.receive(JSON.stringify(message)) });
}

/** What a page shows that applies everything it has received. */
function shown(page: FakePage) {
  return page.received.reduce(
    (state, message) => reduce(state, { kind: 'message', wallMs: 0, message }),
    INITIAL_STATE,
  );
}

describe('the snapshot', () => {
  it('is the first message and says everything', () => {
    const session = cabin({ recorderFile: () => 'x.ndjson', demo: () => DEMO });
    session.happen(volts(500, 5.9));
    session.happen({ kind: 'recorder', atMs: 600, writing: true, why: '' });
    const [snapshot] = joined(session).snapshots();
    expect(snapshot?.seq).toBe(1);
    expect(snapshot?.session).toMatchObject({
      design: 'signal cabin',
      bench: 'kitchen table',
      nowMs: 600,
      speed: 1,
    });
    expect(snapshot?.points[0]).toEqual({
      id: 'logic.volts',
      label: 'logic rail volts',
      unit: 'V',
      low: 4.8,
      typical: 5,
      high: 5.2,
      limits: [{ kind: 'damage', side: 'high', value: 5.5, why: 'what the logic load survives' }],
      formula: 'the set volts of a fixed regulator, 4 %',
      measuredBy: 'meter volts',
      value: 5.9,
      mark: null,
      atMs: 500,
      verdict: 'outside',
      moving: 'probe-moved',
      stale: false,
    });
    expect(snapshot?.instruments[0]).toMatchObject({
      name: 'meter',
      driver: 'scpi-meter',
      link: '/dev/ttyUSB0 at 9600 baud',
    });
    expect(snapshot?.alarms[0]).toMatchObject({
      id: 'over-limit:logic.volts',
      priority: 'high',
      state: 'unacknowledged',
    });
    expect(snapshot?.alarms[0]?.sentence).toMatch(/5\.90 V/);
    expect(snapshot?.recorder).toEqual({ writing: true, file: 'x.ndjson', why: '' });
    expect(snapshot?.demo).toEqual(DEMO);
    expect(snapshot?.history).toEqual({ 'logic.volts': { atMs: [500], value: [5.9] } });
  });

  it('comes again when it is asked for, numbered on', () => {
    const session = cabin();
    const page = joined(session);
    session.tell(volts(500, 5));
    page.say({ kind: 'snapshot' });
    expect(page.received.at(-1)).toMatchObject({
      kind: 'snapshot',
      history: { 'logic.volts': { atMs: [500] } },
    });
    expectNoGap(page);
  });

  it('and the changes behind it leave no reading out and tell none twice', () => {
    const session = cabin();
    session.happen(volts(500, 5));
    const page = joined(session);
    session.tell(volts(1000, 5.1));
    const again = joined(session);
    session.tell(volts(1500, 5.2));
    expect(page.snapshots()[0]?.history['logic.volts']?.atMs).toEqual([500]);
    expect(page.changes().flatMap(({ readings }) => readings)).toEqual([
      ['logic.volts', 1000, 5.1],
      ['logic.volts', 1500, 5.2],
    ]);
    expect(again.snapshots()[0]?.history['logic.volts']?.atMs).toEqual([500, 1000]);
    expect(again.changes().flatMap(({ readings }) => readings)).toEqual([['logic.volts', 1500, 5.2]]);
  });
});

describe('changes', () => {
  it('come together, at most every 4 ms, with every reading in order', () => {
    const session = cabin();
    const page = joined(session);
    for (let i = 1; i <= 40; i += 1) session.happen(volts(i * 10, 5 + i / 1000));
    expect(page.changes()).toEqual([]);
    session.clock.advance(3);
    expect(page.changes()).toEqual([]);
    session.clock.advance(1);
    expect(page.changes()).toHaveLength(1);
    expect(page.changes()[0]?.readings.map(([, atMs]) => atMs)).toEqual(
      Array.from({ length: 40 }, (_, i) => (i + 1) * 10),
    );
    expect(page.changes()[0]).toMatchObject({ nowMs: 400, leftOut: 0 });
  });

  it('hold standings only where something else than a reading changed', () => {
    const session = cabin();
    const page = joined(session);
    for (let n = 1; n <= 5; n += 1) session.tell(volts(500 * n, 5 + n / 1000));
    expect(page.changes()[0]?.points).toEqual([
      expect.objectContaining({ id: 'logic.volts', verdict: null, moving: 'probe-moved' }),
    ]);
    expect(page.changes()[3]?.points).toEqual([
      expect.objectContaining({ id: 'logic.volts', verdict: 'inside', moving: null }),
    ]);
    expect(page.changes()[4]).toEqual({
      kind: 'changes',
      seq: 6,
      nowMs: 2500,
      readings: [['logic.volts', 2500, 5.005]],
      leftOut: 0,
    });
  });

  it('tell once which bands stand from now on, and a later snapshot says the same', () => {
    const session = cabin();
    const page = joined(session);
    const bands = { 'logic.volts': { low: 4.95, typical: 5, high: 5.05 } };
    session.tell({ kind: 'expect', atMs: 100, load: 'full', step: null, measured: ['logic.case'], bands });
    session.tell(tick(200));
    expect(page.changes().map(({ expected }) => expected)).toEqual([
      {
        load: 'full',
        bands: [
          { id: 'logic.volts', low: 4.95, typical: 5, high: 5.05 },
          { id: 'logic.case', low: 45, typical: 52, high: 61 },
        ],
      },
      undefined,
    ]);
    const [snapshot] = joined(session).snapshots();
    expect(snapshot?.session.load).toBe('full');
    expect(snapshot?.points[0]).toMatchObject({ low: 4.95, high: 5.05 });
  });

  it('tell an alarm from its first to its last, then as normal', () => {
    const session = cabin();
    const page = joined(session);
    session.tell({ kind: 'recorder', atMs: 100, writing: false, why: 'the disk is full' });
    session.tell({ kind: 'acknowledge', atMs: 200, alarm: 'not-recording' });
    session.tell({ kind: 'recorder', atMs: 300, writing: true, why: '' });
    const states = page
      .changes()
      .flatMap(({ alarms }) => alarms ?? [])
      .map(({ id, state }) => `${id} ${state}`);
    expect(states).toEqual([
      'not-recording unacknowledged',
      'not-recording acknowledged',
      'not-recording normal',
    ]);
    expect(shown(page).alarms).toEqual([]);
  });

  it('show a gap where a point fell silent', () => {
    const session = cabin();
    const page = joined(session);
    session.tell(volts(500, 5));
    session.tell(tick(5_000));
    expect(page.changes().at(-1)?.points).toContainEqual(
      expect.objectContaining({ id: 'logic.volts', stale: true }),
    );
    expect(page.changes().at(-1)?.readings).toContainEqual(['logic.volts', 5_000, null]);
    expect(joined(session).snapshots()[0]?.history['logic.volts']).toEqual({
      atMs: [500, 5_000],
      value: [5, null],
    });
  });

  it('keep a page equal to a fresh one, whatever happens (fast-check, seed 33)', () => {
    const event = fc.oneof(
      fc.double({ min: 0, max: 12, noNaN: true }).map((value) => volts(0, value)),
      fc.double({ min: 0, max: 150, noNaN: true }).map((value) => caseTemperature(0, value)),
      fc.constant({ ...volts(0, 0), value: null, mark: 'overload' as const }),
      fc.constant(tick(0)),
      fc
        .constantFrom('lost', 'reading', 'closed')
        .map((state) => ({ kind: 'instrument', atMs: 0, instrument: 'meter', state, why: 'x' }) as const),
      fc
        .constantFrom('logic.volts', 'logic.case', 'elsewhere', null)
        .map((point) => ({ kind: 'probe', atMs: 0, instrument: 'meter', channel: 'volts', point }) as const),
      fc
        .constantFrom('over-limit:logic.volts', 'instrument-lost:meter')
        .map((alarm) => ({ kind: 'acknowledge', atMs: 0, alarm }) as const),
    );
    const step = fc.record({
      event,
      afterMs: fc.nat({ max: 3_000 }),
      wallMs: fc.nat({ max: 60 }),
      stuck: fc.boolean(),
    });
    const property = fc.property(fc.array(step, { maxLength: 80 }), (steps) => {
      const session = cabin();
      const page = joined(session);
      let atMs = 0;
      for (const { event: kind, afterMs, wallMs, stuck } of steps) {
        atMs += afterMs;
        page.bufferedAmount = stuck ? 300_000 : 0;
        session.happen({ ...kind, atMs });
        session.clock.advance(wallMs);
      }
      page.bufferedAmount = 0;
      session.tell(tick(atMs));
      expectNoGap(page);
      const known = shown(page);
      const fresh = shown(joined(session));
      expect({ ...known, alarms: [], channels: [], seq: 0, leftOut: 0 }).toEqual({
        ...fresh,
        alarms: [],
        channels: [],
        seq: 0,
        leftOut: 0,
      });
      const byId = (alarms: typeof known.alarms) => [...alarms].sort((a, b) => (a.id < b.id ? -1 : 1));
      expect(byId(known.alarms)).toEqual(byId(fresh.alarms));
    });
    fc.assert(property, { seed: 33, numRuns: 150 });
  });
});

describe('a slow page', () => {
  it('gets the newest reading of each point and the count of the others; others notice nothing', () => {
    const session = cabin();
    const slow = joined(session);
    const quick = joined(session);
    slow.bufferedAmount = 300_000;
    for (let i = 1; i <= 10; i += 1) session.tell(volts(i * 200, 5 + i / 100));
    session.tell(caseTemperature(2_200, 50));
    expect(slow.changes()).toEqual([]);
    expect(quick.changes().flatMap(({ readings }) => readings)).toHaveLength(11);
    slow.drain();
    session.tell(volts(2_500, 5.11));
    expect(slow.changes()).toHaveLength(1);
    expect(slow.changes()[0]).toMatchObject({
      readings: [
        ['logic.volts', 2_000, 5.1],
        ['logic.case', 2_200, 50],
        ['logic.volts', 2_500, 5.11],
      ],
      leftOut: 9,
    });
    expectNoGap(slow);
    expect(shown(slow).points).toEqual(shown(quick).points);
  });

  it('gets alarms at once all the same', () => {
    const session = cabin();
    const slow = joined(session);
    slow.bufferedAmount = 300_000;
    session.tell(volts(500, 9));
    const alarms = slow.changes().flatMap((message) => message.alarms ?? []);
    expect(alarms).toContainEqual(
      expect.objectContaining({ id: 'over-limit:logic.volts', state: 'unacknowledged' }),
    );
    expect(slow.changes()[0]?.readings).toEqual([]);
  });

  it('that asks for a snapshot gets it when it has taken what waits', () => {
    const session = cabin();
    const slow = joined(session);
    slow.bufferedAmount = 300_000;
    slow.say({ kind: 'snapshot' });
    session.tell(volts(500, 5));
    expect(slow.snapshots()).toHaveLength(1);
    slow.drain();
    session.tell(volts(1000, 5));
    expect(slow.snapshots()).toHaveLength(2);
    expect(slow.snapshots()[1]?.history['logic.volts']?.atMs).toEqual([500, 1000]);
    expectNoGap(slow);
  });

  it('that takes nothing for 20 s is cut off, one that takes a little is not', () => {
    const session = cabin();
    const dead = joined(session);
    const alive = joined(session);
    dead.bufferedAmount = 1_000_000;
    alive.bufferedAmount = 1_000_000;
    for (let second = 1; second <= 30; second += 1) {
      session.tell(tick(second * 1000));
      session.clock.advance(950);
      alive.bufferedAmount -= 1_000;
    }
    expect(dead.ended).toEqual(['terminated']);
    expect(alive.ended).toEqual([]);
  });

  it('never has more than a bounded amount waiting, however many alarms there are', () => {
    const session = cabin();
    const page = joined(session);
    page.stuck = true;
    page.bufferedAmount = 16 * 1024 * 1024 + 1;
    session.tell(volts(500, 9));
    expect(page.ended).toEqual(['terminated']);
    session.tell(volts(1000, 9));
    expect(page.changes()).toEqual([]);
  });
});

describe('commands', () => {
  it('that make sense are handed on', () => {
    const got: PageCommand[] = [];
    const session = cabin({ demo: () => DEMO, onCommand: (command) => (got.push(command), null) });
    const page = joined(session);
    session.tell(volts(500, 9));
    const sent: PageCommand[] = [
      { kind: 'acknowledge', alarm: 'over-limit:logic.volts' },
      { kind: 'note', text: 'lamp limiter in' },
      { kind: 'probe', instrument: 'meter', channel: 'volts', point: 'logic.case' },
      { kind: 'probe', instrument: 'meter', channel: 'volts', point: null },
      { kind: 'demo-fault', fault: 'diode-open' },
    ];
    for (const command of sent) page.say(command);
    expect(got).toEqual(sent);
    expect(page.received.filter(({ kind }) => kind === 'refused')).toEqual([]);
  });

  it.each([
    [{ kind: 'acknowledge', alarm: 'stale:none' }, /no alarm stale:none any more/],
    [
      { kind: 'probe', instrument: 'scope', channel: 'a', point: null },
      /no channel scope a; it has meter volts, thermometer t1/,
    ],
    [
      { kind: 'probe', instrument: 'meter', channel: 'volts', point: 'lamp.volts' },
      /no test point lamp\.volts; it has logic\.volts/,
    ],
    [{ kind: 'demo-fault', fault: 'diode-open' }, /simulated bench only; this one is real/],
    [{ kind: 'note', text: '' }, /note: text/],
    [{ kind: 'note', text: 'x'.repeat(5_000) }, /note: text/],
    [{ kind: 'acknowledge', alarm: 7 }, /acknowledge: alarm/],
    [{ kind: 'acknowledge', alarm: 'a', extra: 1 }, /acknowledge/],
    [
      { kind: 'switch-off' },
      /The kind "switch-off" is not known; there are acknowledge, shelve, cut-off, note, probe/,
    ],
    [{ kind: 'constructor' }, /is not known/],
    [[1, 2], /not a JSON object with a "kind"/],
    [null, /not a JSON object with a "kind"/],
  ])('%j is refused with the reason and never handed on', (message, why) => {
    const session = cabin({ onCommand: () => expect.unreachable() });
    const page = joined(session);
    page.say(message);
    expect(page.received.at(-1)).toEqual({
      kind: 'refused',
      seq: 2,
      why: expect.stringMatching(why) as string,
    });
  });

  it('that the daemon can not carry out are refused with its reason, to that page only', () => {
    const session = cabin({ onCommand: () => 'The recording is closed.' });
    const page = joined(session);
    const other = joined(session);
    page.say({ kind: 'note', text: 'too late' });
    expect(page.received.at(-1)).toMatchObject({ kind: 'refused', why: 'The recording is closed.' });
    expect(other.received.map(({ kind }) => kind)).toEqual(['snapshot']);
  });

  it('by the hundred end that page only', () => {
    const session = cabin();
    const page = joined(session);
    const other = joined(session);
    for (let i = 0; i < 60; i += 1) page.say({ kind: 'note', text: `note ${i}` });
    expect(page.ended[0]).toBe('1008 too many messages');
    expect(other.ended).toEqual([]);
  });
});

describe('what stands beside the core', () => {
  it('is told when it changes: recorder file and demo fault', () => {
    let file: string | null = null;
    let demo = DEMO;
    const session = cabin({ recorderFile: () => file, demo: () => demo });
    const page = joined(session);
    file = 'x.ndjson';
    demo = { ...DEMO, fault: 'diode-open' };
    session.tell(tick(250));
    session.tell(tick(500));
    expect(page.changes()[0]).toMatchObject({
      recorder: { file: 'x.ndjson' },
      demo: { fault: 'diode-open' },
    });
    expect(Object.keys(page.changes()[1] ?? {})).toEqual(['kind', 'seq', 'nowMs', 'readings', 'leftOut']);
  });

  it('a page that has gone gets nothing more, and closing says goodbye to the others', () => {
    const session = cabin();
    const page = fakePage();
    const connection = session.hub.connect(page, true);
    const staying = joined(session);
    connection.gone();
    connection.gone();
    session.tell(volts(500, 5));
    session.hub.close();
    expect(page.received).toHaveLength(1);
    expect(page.ended).toEqual([]);
    expect(staying.ended).toEqual(['1001 the session has ended']);
  });

  it('a probe moved to a place that the design does not know shows no point', () => {
    const session = cabin();
    const page = joined(session);
    session.tell({ kind: 'probe', atMs: 100, instrument: 'meter', channel: 'volts', point: 'elsewhere' });
    session.tell(volts(500, 3));
    const moved = page.changes()[0]?.points?.find((point: PointStanding) => point.id === 'logic.volts');
    expect(moved?.measuredBy).toBeNull();
    expect(page.changes()[1]?.readings).toEqual([]);
  });
});
