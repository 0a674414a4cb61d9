import { expect, it } from 'vitest';
import type { Driver, DriverContext, RunningInstrument } from '../../drivers/driver.js';
import { memoryLinkPair, type MemoryFarEnd } from '../../drivers/links/memory.js';
import { cabinSession } from './cabin-session.js';

const BENCH = `
bench: Cabin table with a driver that fails
instruments:
  odd:
    driver: ./odd.mjs
    link: { tcp: 'localhost:5025' }
    channels: { reservoir.volts: { measures: dc-volts } }
  rails:
    driver: text-lines
    link: { tcp: 'localhost:5026' }
    options: { pattern: '{logic.volts} V' }
`;

const BY_A_THROW: Readonly<Record<string, (context: DriverContext) => RunningInstrument>> = {
  'at its start': () => {
    throw new TypeError('no table for this meter');
  },
  'when its link changed': ({ link }) => {
    link.start({
      onState: () => {
        throw new RangeError('no table for this meter');
      },
      onBytes: () => undefined,
    });
    return { stop: () => link.stop() };
  },
  'on bytes from the instrument': ({ emit, clock, link }) => {
    link.start({
      onState: ({ kind }) => emit({ kind: 'state', atMs: clock.nowMs(), state: 'open', why: kind }),
      onBytes: () => {
        throw new Error('no table for this meter');
      },
    });
    return { stop: () => link.stop() };
  },
  'at its time': ({ clock, link }) => {
    link.start({ onState: () => undefined, onBytes: () => undefined });
    clock.after(100, () => {
      throw new Error('no table for this meter');
    });
    return { stop: () => Promise.reject(new Error('asked to stop after it had failed')) };
  },
};

async function table(start: Driver['start']) {
  const odd: Driver = {
    name: 'odd',
    reads: 'a meter that nobody has',
    channelsOf: () => [],
    checkOptions: () => [],
    intervalMs: () => 500,
    start,
  };
  const ends = new Map<string, MemoryFarEnd>();
  const cabin = await cabinSession(BENCH, () => ({
    outsideDrivers: new Map([['./odd.mjs', odd]]),
    linkFor: ({ name }) => {
      const { link, far } = memoryLinkPair(name);
      ends.set(name, far);
      return link;
    },
  }));
  const say = (name: string, text: string): void => ends.get(name)?.send(Buffer.from(text));
  return { ...cabin, say };
}

it.each(Object.entries(BY_A_THROW))(
  'a driver that throws %s is that instrument’s fault; the others go on',
  async (where, start) => {
    const { events, pass, say, session } = await table(start);
    session.start();
    for (let line = 0; line < 10; line += 1) {
      say('odd', '5.01\n');
      say('rails', '\n5.01 V\n');
      await pass(200);
    }
    const words = `the driver odd failed ${where}: no table for this meter`;
    const failed = events.filter((event) => event.kind === 'fault' && event.instrument === 'odd');
    expect(failed).toEqual([expect.objectContaining({ code: 'driver-failed', count: 1, detail: words })]);
    const [odd, rails] = ['odd', 'rails'].map((name) =>
      session.state.instruments.find((each) => each.name === name),
    );
    expect(odd).toMatchObject({ state: 'lost', faults: { 'driver-failed': 1 } });
    expect(odd?.why).toMatch(`${words}; mend the driver or choose another, then start again`);
    expect(session.state.alarms.map(({ id }) => id)).toContain('instrument-lost:odd');
    expect(rails?.state).toBe('reading');
    const volts = events.filter((event) => event.kind === 'reading' && event.instrument === 'rails');
    expect(volts.length).toBeGreaterThan(8);
    expect(await session.close()).toBe(true);
  },
);

it('nothing counts that such a driver still says', async () => {
  let sayMore: () => void = () => undefined;
  const { events, pass, session } = await table(({ clock, emit }) => {
    sayMore = () =>
      emit({ kind: 'reading', atMs: clock.nowMs(), channel: 'reservoir.volts', value: 21, unit: 'V' });
    throw new Error('half started');
  });
  session.start();
  sayMore();
  await pass(1000);
  expect(events.filter(({ kind }) => kind === 'reading')).toEqual([]);
});

it('a driver that fails when it is stopped lets the session end with all of it on the disk', async () => {
  const { events, pass, session } = await table(({ link }) => {
    link.start({ onState: () => undefined, onBytes: () => undefined });
    return { stop: () => Promise.reject(new Error('the port is stuck')) };
  });
  session.start();
  await pass(500);
  expect(await session.close()).toBe(true);
  expect(events).toContainEqual(
    expect.objectContaining({ detail: 'the driver odd failed when it was stopped: the port is stuck' }),
  );
});
