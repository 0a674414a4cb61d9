import { expect, it } from 'vitest';
import { memoryLinkPair, type MemoryFarEnd } from '../../drivers/links/memory.js';
import { cabinSession } from './cabin-session.js';
import { relayAt } from './relay-at.js';

/** The board opens by itself later than the program would notice. */
const DEAD_MS = 10_000;
const BENCH = `bench: table
instruments:
  rails:
    driver: text-lines
    link: { serial: /dev/ttyUSB2 }
    options: { pattern: 'LOGIC {logic.volts} V', interval_ms: 100 }
outputs:
  mains-relay:
    driver: relay-lines
    link: { serial: /dev/ttyUSB3 }
    armed: true
`;

/** Power on through the relay, the rail at 5 V, and a program that can be held while the board's time goes on. */
async function heldTable() {
  let heldMs = 0;
  let dateAheadMs = 0;
  const heard: string[] = [];
  const ends = new Map<string, MemoryFarEnd>();
  const cabin = await cabinSession(BENCH, (clock) => ({
    clock: { ...clock, nowMs: () => clock.nowMs() + heldMs },
    wall: clock,
    dateMs: () => clock.nowMs() + dateAheadMs,
    linkFor: ({ name }) => {
      const { link, far } = memoryLinkPair(name);
      ends.set(name, far);
      if (name === 'mains-relay')
        relayAt(far, { clock, deadMs: DEAD_MS, onLine: (line) => void heard.push(line) });
      return link;
    },
  }));
  const { session, pass } = cabin;
  session.start();
  await pass(100);
  ends.get('rails')?.send(Buffer.from('\r\nLOGIC 5.02 V\r\n'));
  const order = (what: 'arm' | 'on', inSight = true) =>
    session.act({ kind: 'cut-off', output: 'mains-relay', order: what, inSight });
  expect(order('on')).toBeNull();
  await pass(2000);
  expect(heard).toContain('ALIVE');
  heard.length = 0;
  return {
    ...cabin,
    heard,
    order,
    hold: (ms: number) => (heldMs += ms),
    setDate: (ms: number) => (dateAheadMs += ms),
  };
}

it('a stall is in the recording’s events with its length, and the session goes on', async () => {
  const { events, hold, pass, session } = await heldTable();
  hold(400);
  await pass(1000);
  const stalls = events.filter(({ kind }) => kind === 'stall');
  expect(stalls).toHaveLength(1);
  expect(stalls[0]).toMatchObject({ kind: 'stall', stalledMs: expect.closeTo(425, -2) as number });
  expect(session.state.cutOffs[0]?.position).toBe('on');
});

it('after less than two seconds the keep-alive goes on', async () => {
  const { heard, hold, pass } = await heldTable();
  hold(1900);
  await pass(2000);
  expect(heard).toContain('ALIVE');
  expect(heard).not.toContain('OPEN');
});

it('after more the board hears no keep-alive but that it is to open, until somebody in sight arms it', async () => {
  const { heard, hold, order, pass, session } = await heldTable();
  hold(2001);
  await pass(5000);
  expect(heard[0]).toBe('OPEN');
  expect(heard).not.toContain('ALIVE');
  expect(session.state.cutOffs[0]).toMatchObject({ state: 'dropped', position: 'off', alarm: 'stalled' });
  expect(order('on')).toMatch(/has dropped; find out why and arm it again/);
  expect(order('arm', false)).toMatch(/in sight/);
  expect(order('arm')).toBeNull();
  expect(order('on')).toBeNull();
  await pass(2000);
  expect(heard).toContain('ALIVE');
});

it.each([
  ['forward by a day', 86_400_000],
  ['forward by three seconds', 3000],
  ['back by an hour', -3_600_000],
])('a date that is set %s is told, and is no stall: power and times go on', async (_how, ms) => {
  const { events, heard, order, pass, session, setDate } = await heldTable();
  expect(order('arm')).toBeNull();
  const beforeMs = session.state.nowMs;
  setDate(ms);
  await pass(3000);
  const told = events.filter(({ kind }) => kind === 'clock' || kind === 'stall');
  expect(told).toEqual([expect.objectContaining({ kind: 'clock', unwatchedMs: Math.max(0, ms) })]);
  expect(session.state.alarms.map(({ id }) => id)).toContain('clock-jumped');
  expect(session.state.cutOffs[0]).toMatchObject({ state: 'armed', position: 'on' });
  expect(heard.filter((line) => line === 'ALIVE').length).toBeGreaterThanOrEqual(2);
  expect(heard).not.toContain('OPEN');
  expect(session.state.nowMs - beforeMs).toBeCloseTo(3000, -3);
  const times = events.map(({ atMs }) => atMs);
  expect(times).toEqual([...times].sort((one, other) => one - other));
});
