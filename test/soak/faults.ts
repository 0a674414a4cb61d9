import type { Session } from '../../daemon/session.js';
import type { RandomSource } from '../../drivers/simulated/random.js';
import type { SimulatedBench } from '../../drivers/simulated/simulated-bench.js';
import type { FaultyDisk } from '../daemon/record/fake-disk.js';
import type { Computer } from './computer.js';
import type { Facts } from './facts.js';
import type { CountedHub, Network, SoakPage } from './pages.js';
import type { Plug } from './plug.js';

/** What a fault has to work with. */
export interface World {
  readonly session: Session;
  readonly bench: SimulatedBench;
  readonly plugs: ReadonlyMap<string, Plug>;
  readonly disk: FaultyDisk;
  readonly computer: Computer;
  readonly desk: SoakPage;
  readonly phone: SoakPage;
  readonly network: Network;
  readonly hub: CountedHub;
  /** The instrument that has its turn, or had it last. */
  readonly troubled: { name: string | null };
  /** What was told since this fault began. */
  readonly facts: Facts;
  readonly random: RandomSource;
}

/** Time that passes, or something that must come about meanwhile; else it is a fault that wasn't seen or told. */
export type Wait =
  | { readonly kind: 'pass'; readonly ms: number }
  | {
      readonly kind: 'expect';
      readonly what: string;
      readonly withinMs: number;
      readonly isSo: () => boolean;
    }
  /** The same for what the disk does, in its own time: the session's stands still. */
  | { readonly kind: 'expect-of-disk'; readonly what: string; readonly isSo: () => boolean };

/** One thing that goes wrong, is seen and told, and is over again. */
export type SoakFault = (world: World) => Generator<Wait, void, void>;

const pass = (ms: number): Wait => ({ kind: 'pass', ms });
const expect = (what: string, isSo: () => boolean, withinMs = 60_000): Wait => ({
  kind: 'expect',
  what,
  withinMs,
  isSo,
});

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
/** The scope's captures are so far apart. */
const LONGEST_INTERVAL_MS = 5 * MINUTE_MS;

/** Faults of one instrument. */
export const INSTRUMENT_FAULTS: Readonly<Record<string, SoakFault>> = {
  *unplug(world) {
    const name = anyInstrument(world);
    yield* awayAndBack(world, name);
  },

  *'replug-elsewhere'(world) {
    const name = anyInstrument(world);
    const plug = plugOf(world, name);
    const home = plug.path;
    plug.path = `${home}-moved`;
    yield* awayAndBack(world, name);
    yield expect(`the new path of ${name}`, () => world.facts.has(`path ${name} ${home}-moved`));
    plug.path = home;
  },

  *junk(world) {
    const name = anyInstrument(world);
    const bytes = Uint8Array.from({ length: 4000 }, () => Math.floor(256 * world.random.uniform()));
    for (let at = 0; at < bytes.length; at += 100) {
      plugOf(world, name).send(bytes.subarray(at, at + 100));
      yield pass(100);
    }
    yield* faultTold(world, name);
  },

  *stall(world) {
    const name = anyInstrument(world);
    world.bench.misbehave(name, { isStuck: true });
    yield expect(
      `the silence of ${name}`,
      () => world.facts.hasAny(`raised stale:${name}.`),
      5 * LONGEST_INTERVAL_MS,
    );
    world.bench.misbehave(name, {});
    yield* wellAgain(world, name);
  },

  *flood(world) {
    const name = anyInstrument(world);
    const letters = new Uint8Array(64 * 1024).fill(0x41);
    for (let chunk = 0; chunk < 16; chunk += 1) plugOf(world, name).send(letters);
    yield* faultTold(world, name);
  },

  *'wrong-device'(world) {
    const name = anyInstrument(world);
    const other = otherDriver(world, name);
    yield pass(0);
    void plugOf(world, name).moveTo(world.bench.portOf(other));
    yield expect(`a fault of ${name}`, () => world.facts.has(`fault ${name}`), 3 * LONGEST_INTERVAL_MS);
    void plugOf(world, name).moveHome();
    yield* wellAgain(world, name);
  },
};

/** Faults of what is around the session. */
export const SURROUNDING_FAULTS: Readonly<Record<string, SoakFault>> = {
  *'disk-full'({ disk, facts, session }) {
    // Less than a few seconds of ticks alone take, so that it is full whatever else is silent.
    disk.freeBytes = 100;
    yield pass(5000);
    yield { kind: 'expect-of-disk', what: 'that nothing is written', isSo: () => facts.has('not writing') };
    yield expect('its alarm', () => facts.has('raised not-recording'));
    yield pass(30_000);
    disk.freeBytes = Infinity;
    yield { kind: 'expect-of-disk', what: 'that it is written again', isSo: () => facts.has('writing') };
    yield expect('the return of its alarm', () => !isActive(session, 'not-recording'), 120_000);
  },

  *'page-closed'({ desk }) {
    desk.close();
    yield pass(60_000);
    desk.open();
    yield expect('a snapshot for the page', () => desk.isOpen);
  },

  *'network-cut'({ hub, network, phone }) {
    const before = hub.open;
    network.cut();
    // Two heartbeats of the pages' own time, which is slower than the session's.
    yield expect('that the phone is gone', () => hub.open < before, 15 * MINUTE_MS);
    network.mend();
    phone.drop();
    phone.open();
    yield expect('a snapshot for the phone', () => phone.isOpen);
  },

  *'clock-set'({ computer, facts, random, session }) {
    computer.setDate((random.uniform() < 0.5 ? -1 : 1) * (1 + 5 * random.uniform()) * HOUR_MS);
    yield* clockTold(facts, session);
  },

  /** Its clock stands still meanwhile, as on Linux, or counts on. */
  *suspend(world) {
    const { computer, facts, random, session } = world;
    // What its clock counts is taken from the hours of the soak.
    if (random.uniform() < 0.5) computer.sleep(20_000 + random.uniform() * HOUR_MS, 'stands-still');
    else computer.sleep(20_000 + random.uniform() * MINUTE_MS, 'counts-on');
    yield* clockTold(facts, session);
    const troubled = world.troubled.name;
    yield expect(
      'that every instrument reads',
      () =>
        session.state.instruments.every(
          ({ name, state }) => state === 'reading' || name === troubled || name === world.troubled.name,
        ),
      3 * LONGEST_INTERVAL_MS,
    );
  },

  *'rail-follows-input'({ bench, facts, session }) {
    bench.switchFault('regulator-passes-input', 'logic');
    yield expect('the rail that follows', () => facts.has('raised passing-input:logic.volts'));
    bench.switchFault('none');
    yield expect('its return', () => !isActive(session, 'passing-input:logic.volts'), 120_000);
  },
};

function* awayAndBack(world: World, name: string): Generator<Wait, void, void> {
  const { bench, facts } = world;
  void bench.unplug(name);
  yield expect(`the loss of ${name}`, () => facts.has(`lost ${name}`));
  yield expect(`the alarm of ${name}`, () => facts.has(`raised instrument-lost:${name}`));
  yield pass(3000 + 60_000 * world.random.uniform());
  facts.forget();
  void bench.plugIn(name);
  yield* wellAgain(world, name);
}

function* faultTold({ facts, session }: World, name: string): Generator<Wait, void, void> {
  yield expect(`a fault of ${name}`, () => facts.has(`fault ${name}`));
  yield* wellAgain({ facts, session }, name);
}

/** Back with readings, and no alarm of its own is left. */
function* wellAgain(
  { facts, session }: Pick<World, 'facts' | 'session'>,
  name: string,
): Generator<Wait, void, void> {
  facts.forget();
  yield expect(`readings of ${name}`, () => facts.has(`heard ${name}`), 3 * LONGEST_INTERVAL_MS);
  const isItsOwn = (id: string): boolean =>
    id === `instrument-lost:${name}` || id.startsWith(`stale:${name}.`);
  yield expect(
    `the return of the alarms of ${name}`,
    () => !session.state.alarms.some(({ id, active }) => active && isItsOwn(id)),
    3 * LONGEST_INTERVAL_MS,
  );
}

function* clockTold(facts: Facts, session: Session): Generator<Wait, void, void> {
  yield expect('the jump of the clock', () => facts.has('clock'));
  yield expect('its alarm', () => facts.has('raised clock-jumped'));
  yield expect('its return', () => !isActive(session, 'clock-jumped'), 120_000);
}

function isActive(session: Session, alarm: string): boolean {
  return session.state.alarms.some(({ id, active }) => active && id === alarm);
}

function anyInstrument({ bench, random, troubled }: World): string {
  const { instruments } = bench;
  const name = instruments[Math.floor(random.uniform() * instruments.length)] ?? '';
  troubled.name = name;
  return name;
}

function otherDriver({ session }: World, name: string): string {
  const driverOf = (of: string): string | undefined =>
    session.instruments.find((one) => one.name === of)?.driver.name;
  return session.instruments.find((one) => one.driver.name !== driverOf(name))?.name ?? name;
}

function plugOf({ plugs }: World, name: string): Plug {
  const plug = plugs.get(name);
  if (plug === undefined) throw new RangeError(`there is no instrument ${name}`);
  return plug;
}
