import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BandSource } from '../../daemon/band-source.js';
import { sessionHub } from '../../daemon/page.js';
import type { AlarmView } from '../../daemon/serve/messages.js';
import { startServer, type RunningServer } from '../../daemon/serve/server.js';
import { createSession, type Session } from '../../daemon/session.js';
import type { StartSuspectThread } from '../../daemon/suspects/suspect-thread.js';
import type { Wall } from '../../daemon/time/wall.js';
import { seededRandom } from '../../drivers/simulated/random.js';
import { startSimulatedBench } from '../../drivers/simulated/simulated-bench.js';
import { faultyDisk } from '../daemon/record/fake-disk.js';
import { soakTable } from './bench.js';
import { Computer } from './computer.js';
import { Facts } from './facts.js';
import { FastClock } from './fast-clock.js';
import { INSTRUMENT_FAULTS, SURROUNDING_FAULTS, type World } from './faults.js';
import { Lane, type FaultCount } from './lane.js';
import { Latencies } from './latencies.js';
import { handles, handlesLeft, memoryNow, type MemorySample } from './memory.js';
import { CountedHub, Network, SoakPage, type PageTally } from './pages.js';
import { Plug } from './plug.js';
import { standingSupply } from './standing-supply.js';
import { SessionTally, tallyOf, type RecordingTally } from './tally.js';

export interface SoakOptions {
  readonly designText: string;
  /** Of session time, or longer until every kind of fault has happened. */
  readonly hours: number;
  readonly seed: number;
  /** Of session time between two faults of an instrument, and two of what is around, on average. */
  readonly meanGapMs: number;
  readonly bandSource?: BandSource;
  readonly startSuspects?: StartSuspectThread;
  /** Called once an hour of session time. */
  readonly onHour?: (sample: MemorySample, clock: FastClock) => void;
}

export interface SoakResult {
  readonly wallSeconds: number;
  readonly live: SessionTally;
  readonly recording: RecordingTally;
  /** Whether both hold the same alarms, in order. */
  readonly sameAlarms: boolean;
  readonly faults: ReadonlyMap<string, FaultCount>;
  readonly pages: PageTally;
  /** From an alarm to the page, in session time. */
  readonly alarmToPage: Latencies;
  /** Alarms that a page which was open was never told. */
  readonly alarmsUntold: readonly string[];
  readonly memory: readonly MemorySample[];
  readonly handlesLeft: readonly string[];
  /** Timers of the session's clock that wait after its end. */
  readonly timersLeft: number;
  /** Timers that waited, at every hour. */
  readonly timers: readonly number[];
}

const HOUR_MS = 3_600_000;
/** So that drivers, disk and pages get their turn in between. */
const PIECE_MS = 100;
const SAMPLE_EVERY_MS = 10 * 60_000;
/** The pages' own time is so much slower than the session's: their messages come every second of it. */
const PAGES_SLOWER = 20;
/** An alarm that comes and goes within a message needn't be told. */
const SURELY_TOLD_MS = 5000;
const START_MS = 20_000;
const LET_GO_MS = 500;

/** One session from its start to its end, time run fast, with faults all the way. */
export async function soak(options: SoakOptions): Promise<SoakResult> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-soak-'));
  try {
    return await new Soak(options, folder).run();
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

class Soak {
  readonly #options: SoakOptions;
  readonly #folder: string;
  readonly #clock = new FastClock();
  readonly #live = new SessionTally();
  readonly #memory: MemorySample[] = [];
  readonly #timers: number[] = [];
  readonly #pages: PageTally = { messages: 0, leftOut: 0, gaps: 0, snapshots: 0 };
  readonly #alarmToPage = new Latencies();
  /** Alarms that the page hasn't been told, by id: since when. */
  readonly #untold = new Map<string, number>();
  readonly #neverTold: string[] = [];

  constructor(options: SoakOptions, folder: string) {
    this.#options = options;
    this.#folder = folder;
  }

  async run(): Promise<SoakResult> {
    const startedMs = performance.now();
    const handlesBefore = handles();
    const { design, bench: table } = soakTable(this.#options.designText);
    const startedAt = new Date();
    const computer = new Computer(this.#clock, startedAt);
    const disk = faultyDisk();
    const bench = startSimulatedBench({
      design: design.value,
      bench: table.value,
      clock: this.#clock,
      seed: this.#options.seed,
      supply: standingSupply(design.value, this.#options.seed),
    });
    const plugs = new Map(
      bench.instruments.map((name) => [name, new Plug(name, bench.portOf(name), this.#clock)] as const),
    );
    const { bandSource, startSuspects } = this.#options;
    const setup = {
      design,
      bench: table,
      load: 'typical',
      clock: this.#clock,
      startedAt,
      linkFor: ({ name }: { readonly name: string }) => plugs.get(name)!.link,
      recordings: this.#folder,
      disk,
      wall: computer.wall,
      dateMs: computer.dateMs,
      ...(bandSource !== undefined && { bandSource }),
      ...(startSuspects !== undefined && { startSuspects }),
    } as const;
    const session = await createSession(setup);
    const file = session.file;
    const pageWall = slower(this.#clock, PAGES_SLOWER);
    const hub = new CountedHub(sessionHub(session, { setup, speed: 1, demo: null }, pageWall));
    const pageFolder = await emptyPage(this.#folder);
    const server = await startServer({ port: 0, pageFolder, hub, wall: pageWall });
    const network = await Network.to(server.port);
    const desk = new SoakPage(server, this.#pages, (alarms) => this.#told(alarms));
    const phone = new SoakPage({ port: network.port, hostPort: server.port }, this.#pages);
    const world = {
      session,
      bench,
      plugs,
      disk,
      computer,
      desk,
      phone,
      network,
      hub,
      troubled: { name: null },
    };
    const lanes = this.#lanes(session, world);
    this.#listen(session, desk);
    desk.open();
    phone.open();
    session.start();
    await this.#runThrough(session, lanes, desk);
    desk.close();
    phone.close();
    await this.#end(session, server, network);
    await bench.stop();
    await new Promise((resolve) => setTimeout(resolve, LET_GO_MS));
    const recording = await tallyOf(file ?? '');
    return {
      wallSeconds: (performance.now() - startedMs) / 1000,
      live: this.#live,
      recording,
      sameAlarms: this.#live.digest() === recording.tally.digest(),
      faults: new Map(lanes.flatMap(({ counts }) => [...counts])),
      pages: this.#pages,
      alarmToPage: this.#alarmToPage,
      alarmsUntold: this.#neverTold,
      memory: this.#memory,
      handlesLeft: handlesLeft(handlesBefore, handles()),
      timersLeft: this.#clock.waiting,
      timers: this.#timers,
    };
  }

  #lanes(session: Session, world: Omit<World, 'facts' | 'random'>): readonly Lane[] {
    const { seed, meanGapMs } = this.#options;
    return [INSTRUMENT_FAULTS, SURROUNDING_FAULTS].map((faults, at) => {
      const facts = new Facts();
      session.onStep((event, _state, effects) => facts.take(event, effects));
      const random = seededRandom(seed * 2 + at + 1);
      return new Lane(faults, { ...world, facts, random }, { random, meanGapMs });
    });
  }

  #listen(session: Session, desk: SoakPage): void {
    session.onStep((event, _state, effects) => {
      this.#live.event(event);
      for (const effect of effects) {
        this.#live.effect(effect);
        if (effect.kind !== 'alarm') continue;
        const { id, suppressedBy } = effect.alarm;
        const isNews = effect.change === 'raised' && suppressedBy.length === 0;
        if (isNews && desk.isOpen) this.#untold.set(id, effect.atMs);
        // Gone before the page's next message: there is nothing to tell any more.
        if (effect.change === 'removed') this.#untold.delete(id);
      }
    });
  }

  #told(alarms: readonly AlarmView[]): void {
    for (const { id } of alarms) {
      const sinceMs = this.#untold.get(id);
      if (sinceMs === undefined) continue;
      this.#untold.delete(id);
      this.#alarmToPage.add(this.#clock.nowMs() - sinceMs);
    }
  }

  async #runThrough(session: Session, lanes: readonly Lane[], desk: SoakPage): Promise<void> {
    const endMs = this.#options.hours * HOUR_MS;
    let sampleAtMs = SAMPLE_EVERY_MS;
    let hourAtMs = HOUR_MS;
    for (;;) {
      const nowMs = this.#clock.nowMs();
      const isEnough = nowMs >= endMs && lanes.every(({ isComplete }) => isComplete);
      const mayBegin = nowMs > START_MS && !isEnough;
      if (isEnough && lanes.every(({ isIdle }) => isIdle)) return;
      if (!lanes.some(({ waitsForDisk }) => waitsForDisk)) this.#clock.advance(PIECE_MS);
      await new Promise((resolve) => setImmediate(resolve));
      for (const lane of lanes) lane.step(this.#clock.nowMs(), mayBegin);
      if (this.#clock.nowMs() < sampleAtMs) continue;
      sampleAtMs += SAMPLE_EVERY_MS;
      this.#memory.push(memoryNow(this.#clock.nowMs()));
      this.#acknowledgeAll(session, desk);
      this.#noteUntold();
      if (this.#clock.nowMs() < hourAtMs) continue;
      hourAtMs += HOUR_MS;
      this.#timers.push(this.#clock.waiting);
      const newest = this.#memory.at(-1);
      if (newest !== undefined) this.#options.onHour?.(newest, this.#clock);
    }
  }

  /** As a person at the page does. */
  #acknowledgeAll(session: Session, desk: SoakPage): void {
    if (!desk.isOpen) return;
    for (const { id, acknowledged, active } of session.state.alarms) {
      if (!acknowledged || !active) desk.send({ kind: 'acknowledge', alarm: id });
    }
  }

  #noteUntold(): void {
    for (const [id, sinceMs] of this.#untold) {
      if (this.#clock.nowMs() - sinceMs < SURELY_TOLD_MS) continue;
      this.#untold.delete(id);
      this.#neverTold.push(`${id} at ${Math.round(sinceMs / 1000)} s`);
    }
  }

  /** The clock has to go on, for some of what ends waits for it. */
  async #end(session: Session, server: RunningServer, network: Network): Promise<void> {
    let isOver = false;
    const ending = (async () => {
      await session.close();
      await server.close();
      await network.close();
      isOver = true;
    })();
    while (!isOver) {
      this.#clock.advance(PIECE_MS);
      await new Promise((resolve) => setImmediate(resolve));
    }
    await ending;
  }
}

function slower(clock: FastClock, times: number): Wall {
  return {
    nowMs: () => clock.nowMs() / times,
    after: (delayMs, action) => clock.after(delayMs * times, action),
  };
}

async function emptyPage(folder: string): Promise<string> {
  const page = join(folder, 'page');
  await mkdir(page, { recursive: true });
  await writeFile(join(page, 'index.html'), '<!doctype html><title>soak</title>');
  return page;
}
