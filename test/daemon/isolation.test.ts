import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { threadedBands } from '../../daemon/band-source.js';
import { hookSession } from '../../daemon/hooks/session-hooks.js';
import type { StartSuspectThread } from '../../daemon/suspects/suspect-thread.js';
import type { Service } from '../../daemon/watch/events.js';
import type { Driver } from '../../drivers/driver.js';
import { memoryLinkPair, type MemoryFarEnd } from '../../drivers/links/memory.js';
import { cabinSession, type CabinSession } from './cabin-session.js';
import { cabin as design } from './design/signal-cabin.js';

const BENCH = `bench: table
instruments:
  rails:
    driver: text-lines
    link: { serial: /dev/ttyUSB2 }
    options: { pattern: 'LOGIC {logic.volts} V', interval_ms: 100 }
`;

interface Table extends CabinSession {
  /** Lets the board speak for so long, ten readings a second. */
  readonly speak: (ms: number) => Promise<void>;
  readonly isActive: (alarm: string) => boolean | undefined;
}

async function table(
  surroundings: (clock: CabinSession['clock']) => object = () => ({}),
  benchText = BENCH,
): Promise<Table> {
  const ends = new Map<string, MemoryFarEnd>();
  const cabin = await cabinSession(benchText, (clock) => ({
    linkFor: ({ name }) => {
      const { link, far } = memoryLinkPair(name);
      ends.set(name, far);
      return link;
    },
    ...surroundings(clock),
  }));
  return {
    ...cabin,
    speak: async (ms) => {
      for (let passed = 0; passed < ms; passed += 100) {
        ends.get('rails')?.send(Buffer.from('LOGIC 5.02 V\r\n'));
        await cabin.pass(100);
      }
    },
    isActive: (alarm) => cabin.session.state.alarms.find(({ id }) => id === alarm)?.active,
  };
}

/** The rest of the session doesn't notice: ten readings a second come in, and no instrument is lost or silent. */
async function expectGoesOn({ events, speak, session }: Table): Promise<void> {
  const before = events.length;
  await speak(2000);
  const readings = events.slice(before).filter(({ kind }) => kind === 'reading');
  expect(readings.length).toBeGreaterThan(18);
  expect(session.state.alarms.filter(({ id }) => id.startsWith('stale') || id.includes('lost'))).toEqual([]);
}

/** A session whose bands come from a thread that ends like this, or says this, when it is asked; it has been asked. */
async function withMortalBands(death: string): Promise<Table> {
  vi.stubEnv('MORTAL_WORKER', death);
  onTestFinished(() => void vi.unstubAllEnvs());
  const file = new URL('children/mortal-worker.mjs', import.meta.url);
  const watched = await table((wall) => ({
    bandSource: threadedBands({ design: design(), seed: 0 }, { wall, file }),
  }));
  watched.session.start();
  watched.session.act({ kind: 'load', load: 'idle' });
  return watched;
}

describe('what works beside the watching dies alone', () => {
  it.each(['page', 'terminal', 'recordings', 'hook'] satisfies Service[])(
    '%s that throws',
    async (service) => {
      const watched = await table();
      let isBroken = true;
      let calls = 0;
      watched.session.onStep(() => {
        calls += 1;
        if (isBroken) throw new TypeError('nothing to show');
      }, service);
      let others = 0;
      watched.session.onStep(() => void (others += 1));
      watched.session.start();
      await expectGoesOn(watched);
      expect(watched.isActive(`service-down:${service}`)).toBe(true);
      expect(calls).toBe(1);
      expect(others).toBeGreaterThan(20);
      isBroken = false;
      await watched.speak(5000);
      expect(watched.isActive(`service-down:${service}`)).not.toBe(true);
      expect(calls).toBeGreaterThan(10);
    },
  );

  it.each([
    ['throws', 'throw'],
    ['leaves', 'exit'],
    ['says what makes no sense', 'rubbish'],
  ])('the thread that works out what is expected, when it %s', async (_how, death) => {
    const watched = await withMortalBands(death);
    await vi.waitFor(() => expect(watched.isActive('service-down:bands')).toBe(true), 20_000);
    vi.stubEnv('MORTAL_WORKER', '');
    await expectGoesOn(watched);
    await watched.speak(5000);
    await vi.waitFor(() => expect(watched.isActive('service-down:bands')).toBe(false), 20_000);
  });

  it('an answer with bands that are none is not taken', async () => {
    const watched = await withMortalBands('bands');
    await vi.waitFor(async () => {
      await watched.speak(300);
      expect(watched.isActive('service-down:bands')).toBe(true);
    }, 20_000);
    expect(watched.events.filter(({ kind }) => kind === 'expect')).toEqual([]);
    await expectGoesOn(watched);
    expect(await watched.session.close()).toBe(true);
  });

  it('a part that dies before the session starts is told when it starts', async () => {
    const watched = await table();
    watched.session.tellService('bands', 'the system gives no thread');
    expect(watched.events).toEqual([]);
    watched.session.start();
    expect(watched.isActive('service-down:bands')).toBe(true);
    expect(watched.events).toContainEqual(
      expect.objectContaining({ kind: 'service', service: 'bands', working: false }),
    );
  });

  it('the thread that weighs suspects', async () => {
    let fail: (why: string) => void = () => undefined;
    let judge: () => void = () => undefined;
    let threads = 0;
    const startSuspects: StartSuspectThread = (_task, { onFailed, onJudged }) => {
      threads += 1;
      fail = onFailed;
      const other = { probability: 1, action: { switchOff: false, words: 'Look.' } };
      judge = () => onJudged({ suspects: [], other, otherLoad: null, next: null, odd: [], parameters: [] });
      return { weigh: () => undefined, stop: () => undefined };
    };
    const watched = await table(() => ({ startSuspects }));
    watched.session.start();
    await watched.speak(30_000);
    expect(threads).toBe(1);
    fail('out of memory');
    expect(watched.isActive('service-down:suspects')).toBe(true);
    await expectGoesOn(watched);
    await watched.speak(3000);
    expect(threads).toBe(2);
    judge();
    expect(watched.isActive('service-down:suspects')).toBe(false);
  });

  it('a judgement with a number that is none is not taken', async () => {
    let judge: () => void = () => undefined;
    const startSuspects: StartSuspectThread = (_task, { onJudged }) => {
      const other = { probability: NaN, action: { switchOff: false, words: 'Look.' } };
      judge = () => onJudged({ suspects: [], other, otherLoad: null, next: null, odd: [], parameters: [] });
      return { weigh: () => undefined, stop: () => undefined };
    };
    const watched = await table(() => ({ startSuspects }));
    watched.session.start();
    await watched.speak(30_000);
    judge();
    expect(watched.isActive('service-down:suspects')).toBe(true);
    expect(watched.session.state.suspicion).toBeNull();
    await expectGoesOn(watched);
    expect(await watched.session.close()).toBe(true);
  });

  it('a hook', async () => {
    const watched = await table();
    let isWell = false;
    const deliver = () => (isWell ? Promise.resolve() : Promise.reject(new Error('it answered 503')));
    const hook = { name: 'run siren', priority: 'low', timeoutMs: 1000, deliver } as const;
    const stop = hookSession(watched.session, [hook], {
      design: 'signal cabin',
      startedAt: new Date(),
      wall: watched.clock,
    });
    onTestFinished(stop);
    watched.session.start();
    await watched.speak(500);
    watched.session.tellService('recordings', 'no table for this');
    await watched.speak(100);
    expect(watched.isActive('service-down:hook:run siren')).toBe(true);
    await expectGoesOn(watched);
    isWell = true;
    await watched.speak(5000);
    expect(watched.isActive('service-down:hook:run siren')).toBe(false);
  });
});

it.each([
  ['value', { value: NaN, atMs: 0 }],
  ['time', { value: 5, atMs: Infinity }],
])('a driver that tells a %s which is no number is that instrument’s fault', async (_what, told) => {
  const odd: Driver = {
    name: 'odd',
    reads: 'a meter that nobody has',
    channelsOf: () => [],
    checkOptions: () => [],
    intervalMs: () => 500,
    start({ emit, clock, link }) {
      link.start({ onState: () => undefined, onBytes: () => undefined });
      clock.after(100, () => emit({ kind: 'reading', channel: 'reservoir.volts', unit: 'V', ...told }));
      return { stop: () => link.stop() };
    },
  };
  const bench = `${BENCH}  odd:
    driver: ./odd.mjs
    link: { tcp: 'localhost:5025' }
    channels: { reservoir.volts: { measures: dc-volts } }
`;
  const { events, session, speak, isActive } = await table(
    () => ({ outsideDrivers: new Map([['./odd.mjs', odd]]) }),
    bench,
  );
  session.start();
  await speak(2000);
  expect(isActive('instrument-lost:odd')).toBe(true);
  expect(events).toContainEqual(
    expect.objectContaining({ kind: 'fault', instrument: 'odd', code: 'driver-failed' }),
  );
  expect(session.state.instruments.find(({ name }) => name === 'rails')?.state).toBe('reading');
  expect(await session.close()).toBe(true);
});
