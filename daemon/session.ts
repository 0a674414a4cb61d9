import type { Bench } from './design/bench.js';
import type { Design, LoadState } from './design/design.js';
import type { BandSource } from './band-source.js';
import { cutOffPlans, wantedPosition } from './cut-offs.js';
import { joinOutputs, SessionOutputs, type JoinedOutput, type LinkedDevice } from './outputs.js';
import { LoopWatch } from './time/loop-watch.js';
import { ServiceTeller } from './service-teller.js';
import { StepListeners, type StepListener } from './step-listeners.js';
import { isRecordable } from './record/encode.js';
import { asOtherEvent } from './record/schemas.js';
import { ClockJumps } from './time/clock-jumps.js';
import { joinInstruments, type JoinedInstrument, type OutsideDrivers } from './channels.js';
import type { Written } from './files.js';
import { loadBands } from './predict/load-bands.js';
import { Expectations } from './expectations.js';
import { waysTo } from './measurable.js';
import { predict } from './predict/predict.js';
import type { Procedure } from './procedure/step.js';
import type { Disk } from './record/disk.js';
import { recordingHeader } from './record/header.js';
import { stampMs } from './record/stamp.js';
import { openRecording, type Recording } from './record/writer.js';
import type { InstrumentTaps } from './instrument-taps.js';
import { operatorEvent, type OperatorAction } from './operator-events.js';
import { isOutside } from './outside-effect.js';
import { SessionInstruments } from './session-instruments.js';
import { LiveSuspects } from './suspects/live-suspects.js';
import type { StartSuspectThread } from './suspects/suspect-thread.js';
import { backgroundWall, type Wall } from './time/wall.js';
import { VERSION } from './version.js';
import { orderProblem } from './watch/cut-off-order.js';
import type { Effect } from './watch/effects.js';
import type {
  ExpectEvent,
  HookEvent,
  Service,
  ServiceEvent,
  SuspectsEvent,
  WatchEvent,
} from './watch/events.js';
import type { WatchPlan } from './watch/plan.js';
import { expectationOf } from './watch/procedure/expectation.js';
import { rehearseDrop } from './watch/rehearse.js';
import { supplyPlan } from './watch/supply-plan.js';
import { beginWatch, watch, type WatchState } from './watch/watch.js';
import type { Clock } from '../drivers/clock.js';
import type { Link } from '../drivers/link.js';
import { Superseded } from '../drivers/outputs/output.js';

/** Session time between two ticks. */
const TICK_MS = 250;

export interface SessionSetup {
  readonly design: Written<Design>;
  readonly bench: Written<Bench>;
  readonly load: LoadState;
  readonly clock: Clock;
  readonly startedAt: Date;
  /** Not asked for an instrument whose readings a person types, nor for an output that isn't armed. */
  readonly linkFor: (device: LinkedDevice) => Link;
  /** Drivers from outside that the person trusts. */
  readonly outsideDrivers?: OutsideDrivers;
  /** Weighs what was measured against every known fault; left out, nothing is suspected. */
  readonly startSuspects?: StartSuspectThread;
  /** Works out what is expected under another load and once something was measured; left out: that stays as it was. */
  readonly bandSource?: BandSource;
  /** What to walk through; left out: nothing. */
  readonly procedure?: Procedure;
  /** The folder for the recording. */
  readonly recordings: string;
  /** The disk that it is written to; the system's when left out. */
  readonly disk?: Disk;
  /** The computer's own time, to notice that it slept or that its date was set. */
  readonly wall?: Wall;
  /** The computer's date, ms since 1970. */
  readonly dateMs?: () => number;
}

export type { StepListener };

/** One watched run: instruments in, the core in the middle, the recording and listeners out. */
export interface Session {
  readonly plan: WatchPlan;
  readonly state: WatchState;
  readonly instruments: readonly JoinedInstrument[];
  readonly outputs: readonly JoinedOutput[];
  /** What the instruments send, as it comes. */
  readonly taps: InstrumentTaps;
  /** The recording's file; null before the disk took it. */
  readonly file: string | null;
  /** Whether anything was beyond a limit or outside its prediction at any time. */
  readonly somethingOutside: boolean;
  /** One that throws is told as a stopped service and tried again later. */
  onStep(listener: StepListener, service?: Service): void;
  /** Opens the links and begins to tick. Listeners added before miss nothing. */
  start(): void;
  /** Returns why it can't be done, for a person; null when it is done. */
  act(action: OperatorAction): string | null;
  /** Lets power through an output or takes it away. Rejects with what is wrong and the cure. */
  switchOutput(name: string, position: 'on' | 'off'): Promise<void>;
  /** What came of a hook; the session stamps the time. */
  tell(event: HookEvent): void;
  /** Something that works beside the watching stopped, and why; null: it works. Told once for each change. */
  tellService(service: Service, why: string | null, name?: string): void;
  /** Switches the outputs off, stops the instruments, closes the recording. Resolves with whether all of it is on the disk. */
  close(): Promise<boolean>;
  /** In place of `close` for one that never started: nothing is left of its recording. */
  withdraw(): Promise<void>;
  /**
   * Something was thrown where nobody called: by a promise or a timer. When it comes out of an outside driver's file,
   * every instrument of that driver has failed, and that is told. Returns whether it does.
   */
  takeStray(problem: unknown): boolean;
}

/**
 * Joins the parts of a session.
 * @throws {FileProblems} when the bench names a driver or options that don't exist.
 */
export async function createSession(setup: SessionSetup): Promise<Session> {
  const instruments = joinInstruments(setup.bench, setup.outsideDrivers);
  const outputs = joinOutputs(setup.bench);
  const prediction = predict(setup.design.value, { load: setup.load });
  const plan: WatchPlan = {
    prediction,
    loads: loadBands(setup.design.value, {}),
    channels: instruments.flatMap(({ plans }) => plans),
    ...(setup.procedure !== undefined && { procedure: setup.procedure }),
    supply: supplyPlan(setup.design.value, prediction),
    cutOffs: cutOffPlans(outputs),
  };
  const session = new RunningSession(setup, { instruments, outputs, plan });
  await session.openRecording();
  return session;
}

class RunningSession implements Session {
  readonly plan: WatchPlan;
  readonly instruments: readonly JoinedInstrument[];
  readonly outputs: readonly JoinedOutput[];
  readonly taps: InstrumentTaps;
  readonly #setup: SessionSetup;
  readonly #listeners: StepListeners;
  readonly #services = new ServiceTeller((event) => {
    if (this.#zeroMs === null) this.#early.push(event);
    else this.#take({ ...event, atMs: this.#now() });
  });
  /** Told before the start, when nobody hears it yet and there is no recording. */
  readonly #early: Omit<ServiceEvent, 'atMs'>[] = [];
  readonly #loop: LoopWatch;
  readonly #waiting: WatchEvent[] = [];
  readonly #instruments: SessionInstruments;
  readonly #outputs: SessionOutputs;
  /** The session's own time, for what runs in it. */
  readonly #clock: Clock = {
    nowMs: () => this.#now(),
    after: (delayMs, action) => this.#setup.clock.after(delayMs, action),
  };
  readonly #suspects: LiveSuspects | null;
  readonly #jumps: ClockJumps;
  #state: WatchState;
  #recording: Recording | null = null;
  /** The clock's time at `start`; null before. */
  #zeroMs: number | null = null;
  #lastMs = 0;
  #stepping = false;
  #somethingOutside = false;
  #cancelTick: () => void = () => undefined;
  #closing: Promise<boolean> | null = null;
  readonly #expectations: Expectations | null = null;

  constructor(
    setup: SessionSetup,
    { instruments, outputs, plan }: Pick<Session, 'instruments' | 'outputs' | 'plan'>,
  ) {
    this.#setup = setup;
    this.outputs = outputs;
    this.#outputs = new SessionOutputs(outputs, {
      clock: this.#clock,
      linkFor: setup.linkFor,
      take: (event) => this.#take(event),
    });
    this.instruments = instruments;
    this.#instruments = new SessionInstruments(instruments, {
      benchFile: setup.bench.file,
      clock: this.#clock,
      linkFor: setup.linkFor,
      state: () => this.#state,
      take: (event) => this.#take(event),
    });
    this.taps = this.#instruments.taps;
    this.plan = plan;
    this.#state = beginWatch(plan);
    this.#listeners = new StepListeners(this.#clock, (service, why) => this.tellService(service, why));
    this.#loop = new LoopWatch(this.#clock, (stalledMs) =>
      this.#take({ kind: 'stall', atMs: this.#now(), stalledMs: Math.round(stalledMs) }),
    );
    this.#suspects = this.#liveSuspects(setup);
    const suspects = this.#suspects;
    if (suspects !== null) this.onStep((...step) => suspects.take(...step), 'suspects');
    this.#jumps = new ClockJumps(setup.wall ?? backgroundWall, setup.dateMs ?? Date.now);
    if (setup.bandSource === undefined) return;
    setup.bandSource.onHealth((why) => this.tellService('bands', why));
    const expectations = new Expectations(plan, setup.bandSource, (event) =>
      this.#takeFrom('bands', { ...event, atMs: this.#now() }),
    );
    this.#expectations = expectations;
    this.onStep((...step) => expectations.onStep(...step), 'bands');
  }

  get state(): WatchState {
    return this.#state;
  }

  get file(): string | null {
    return this.#recording?.file ?? null;
  }

  get somethingOutside(): boolean {
    return this.#somethingOutside;
  }

  onStep(listener: StepListener, service: Service = 'terminal'): void {
    this.#listeners.add(listener, service);
  }

  async openRecording(): Promise<void> {
    const { design, bench, startedAt, recordings, disk } = this.#setup;
    this.#recording = await openRecording({
      folder: recordings,
      ...(disk !== undefined && { disk }),
      name: design.value.design,
      header: recordingHeader(
        {
          software: `railminder ${VERSION}`,
          design: { file: design.file, text: design.text },
          bench: { file: bench.file, text: bench.text },
          plan: this.plan,
        },
        startedAt,
      ),
      onTrouble: (why) => this.#take({ kind: 'recorder', atMs: this.#now(), writing: false, why }),
      onWell: () => this.#take({ kind: 'recorder', atMs: this.#now(), writing: true, why: '' }),
      onLittleRoom: (why) => this.#take({ kind: 'recorder', atMs: this.#now(), writing: true, why }),
    });
  }

  start(): void {
    this.#zeroMs = this.#setup.clock.nowMs();
    // Told here and not on opening, so that trouble with the disk reaches every listener.
    const trouble = this.#recording?.trouble ?? null;
    this.#take({ kind: 'recorder', atMs: this.#now(), writing: trouble === null, why: trouble ?? '' });
    for (const event of this.#early) this.#take({ ...event, atMs: this.#now() });
    for (const { name, probes } of this.instruments) {
      for (const [channel, point] of probes) this.act({ kind: 'probe', instrument: name, channel, point });
    }
    this.#instruments.start();
    this.#outputs.start();
    this.#loop.start();
    this.#tick();
  }

  switchOutput(name: string, position: 'on' | 'off'): Promise<void> {
    const why =
      position === 'on' ? orderProblem(this.#state, { output: name, order: 'on', inSight: true }) : null;
    const isCutOff = this.#state.cutOffs.some(({ output }) => output === name);
    return why !== null && isCutOff ? Promise.reject(new Error(why)) : this.#switched(name, position);
  }

  act(action: OperatorAction): string | null {
    if (action.kind === 'typed')
      return this.#instruments.type(action.instrument, action.channel, action.text);
    const { event, why } = operatorEvent(action, this.#state, this.#now());
    if (event !== null) this.#take(event);
    if (action.kind === 'cut-off' && action.order === 'arm' && why === null) rehearseDrop(this.#state);
    return why;
  }

  tell(event: HookEvent): void {
    this.#take({ ...event, atMs: this.#now() });
  }

  tellService(service: Service, why: string | null, name = ''): void {
    this.#services.tell(service, why, name);
  }

  /** Power is taken away before anything else is done with what the core decided. */
  #carryOut(effect: Effect): void {
    const position = effect.kind === 'cut-off' ? wantedPosition(effect) : null;
    if (effect.kind !== 'cut-off' || position === null) return;
    this.#switched(effect.output, position).catch(() => undefined);
  }

  async #switched(output: string, position: 'on' | 'off'): Promise<void> {
    const answer = (failed: string | null): void =>
      this.#take({ kind: 'output', atMs: this.#now(), output, position, failed });
    try {
      await this.#outputs.switch(output, position);
      answer(null);
    } catch (problem) {
      // The order that took its place tells what comes of it.
      if (!(problem instanceof Superseded))
        answer(problem instanceof Error ? problem.message : String(problem));
      throw problem;
    }
  }

  close(): Promise<boolean> {
    this.#closing ??= this.#close();
    return this.#closing;
  }

  async withdraw(): Promise<void> {
    await this.#stopAll();
    await this.#recording?.withdraw();
  }

  takeStray(problem: unknown): boolean {
    return this.#instruments.takeStray(problem);
  }

  #liveSuspects({ design, load, startSuspects }: SessionSetup): LiveSuspects | null {
    if (startSuspects === undefined) return null;
    return new LiveSuspects({
      design: design.value,
      load,
      seed: this.plan.prediction.seed,
      ways: waysTo(this.instruments, Object.keys(this.plan.prediction.points)),
      startThread: startSuspects,
      clock: this.#clock,
      emit: (event) => this.#takeFrom('suspects', event),
      onHealth: (why) => this.tellService('suspects', why),
    });
  }

  async #close(): Promise<boolean> {
    await this.#stopAll();
    return (await this.#recording?.close(this.#now())) ?? false;
  }

  /** Power first. */
  async #stopAll(): Promise<void> {
    await this.#outputs.stop();
    this.#suspects?.stop();
    this.#listeners.stop();
    this.#loop.stop();
    this.#cancelTick();
    await this.#expectations?.stop();
    await this.#instruments.stop();
  }

  #tick(): void {
    this.#loop.look();
    const jump = this.#jumps.next();
    if (jump !== null) this.#take({ kind: 'clock', atMs: this.#now(), ...jump });
    this.#take({ kind: 'tick', atMs: this.#now() });
    // After the core has taken the tick: a core that is stuck lets the outputs fall.
    this.#outputs.keepAlive();
    this.#cancelTick = this.#setup.clock.after(TICK_MS, () => this.#tick());
  }

  /** The session's own time: 0 until the start, however long opening the recording took. */
  #now(): number {
    return this.#zeroMs === null ? 0 : this.#setup.clock.nowMs() - this.#zeroMs;
  }

  /** What a thread worked out is as little to be trusted as what an instrument sends. */
  #takeFrom(service: Service, event: ExpectEvent | SuspectsEvent): void {
    if (isRecordable(event) && asOtherEvent(event) !== null) this.#take(event);
    else this.tellService(service, 'it gave an answer that makes no sense');
  }

  /** One event at a time: what a listener or the recorder causes meanwhile waits its turn. */
  #take(event: WatchEvent): void {
    this.#waiting.push(event);
    if (this.#stepping) return;
    this.#stepping = true;
    try {
      for (let next = this.#waiting.shift(); next !== undefined; next = this.#waiting.shift())
        this.#step(next);
    } finally {
      this.#stepping = false;
    }
  }

  #step(unstamped: WatchEvent): void {
    const atMs = stampMs(unstamped.atMs, this.#lastMs);
    this.#lastMs = atMs;
    const event: WatchEvent = { ...unstamped, atMs };
    this.#recording?.append(event);
    const { state, effects } = watch(this.#state, event);
    this.#state = state;
    for (const effect of effects) this.#carryOut(effect);
    for (const effect of effects) {
      this.#recording?.appendEffect(effect);
      if (isOutside(effect)) this.#somethingOutside = true;
    }
    this.#listeners.call(event, state, effects);
    const expected = event.kind === 'step' ? expectationOf(state) : null;
    if (expected !== null) this.#take(expected);
  }
}
