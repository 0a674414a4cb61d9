import type { Effect } from '../watch/effects.js';
import type { WatchEvent } from '../watch/events.js';
import type { WatchState } from '../watch/state.js';
import { ChangeFinder, recorderView, type Changes, type PageReading, type Surroundings } from './changes.js';
import { whyNot, type PageCommand } from './command-check.js';
import { History } from './history.js';
import type { DemoView, SessionView, SnapshotMessage, SupplyView } from './messages.js';
import { Occurrences } from './occurrences.js';
import { ONLY_LOOKS } from './keys.js';
import { bodyOf, PageClient, type PageSocket, type PageSource } from './page-client.js';
import { readPageMessage } from './page-message.js';
import { suspicionView } from './suspicion-view.js';
import { procedureView } from './procedure-view.js';
import { typingPlaces } from './typing.js';
import {
  alarmViews,
  cutOffViews,
  instrumentViews,
  pointViews,
  typedChannels,
  type InstrumentLabel,
} from './views.js';
import { backgroundWall, type Wall } from '../time/wall.js';

/** Pages hear of changes at most this often, in wall time: a quarter of a frame of a screen, so that hardly one is missed. */
export const BATCH_MS = 4;
/** The same while no page listens, for what a page that comes will want to know. */
export const ALONE_BATCH_MS = 250;
/** A burst is told before its time, so that what waits stays small. */
const MOST_READINGS = 5_000;
/** A page's person is slower than this; a program that isn't gets cut off. */
const MOST_MESSAGES_A_SECOND = 50;
const POLICY_VIOLATION = 1008;
const GOING_AWAY = 1001;

export interface HubOptions {
  /** The state at the session's start. */
  readonly state: WatchState;
  readonly session: Omit<SessionView, 'nowMs' | 'mayAct'>;
  readonly supply: SupplyView;
  /** In the order of the bench file. */
  readonly instruments: readonly InstrumentLabel[];
  /** Where the recording goes now; null when nowhere. */
  readonly recorderFile: () => string | null;
  /** The simulated bench's faults as they are now; null on a real bench. */
  readonly demo: () => DemoView | null;
  /** Carries out a command that makes sense; returns why not when it can't. Must not throw. */
  readonly onCommand: (command: PageCommand) => string | null;
  /** Called with why the pages can't be told, and with null whenever they were. Must not throw. */
  readonly onHealth?: (why: string | null) => void;
  readonly wall?: Wall;
}

/** What the page's connection tells the hub. */
export interface PageConnection {
  /** A message of the page; anything at all may be in it. */
  receive(text: string): void;
  /** It is gone. Safe to call twice. */
  gone(): void;
}

/** Tells every page what happens, and hands their commands on. */
export interface Hub {
  /**
   * A page came: it gets the whole state, then every change, without a gap between.
   * @param mayAct false: it only looks, and every command of it is refused
   */
  connect(socket: PageSocket, mayAct: boolean): PageConnection;
  /** An event happened; this is the state after it, with what the core told of it. Returns at once, however slow the pages are. */
  publish(event: WatchEvent, state: WatchState, effects: readonly Effect[]): void;
  /** Says goodbye to every page. */
  close(): void;
}

export function createHub(options: HubOptions): Hub {
  return new SessionHub(options);
}

class SessionHub implements Hub {
  readonly #options: HubOptions;
  readonly #wall: Wall;
  readonly #clients = new Set<PageClient>();
  readonly #histories = new Map<string, History>();
  readonly #finder: ChangeFinder;
  readonly #occurrences: Occurrences;
  #state: WatchState;
  #readings: PageReading[] = [];
  #stopTimer: (() => void) | null = null;

  constructor(options: HubOptions) {
    this.#options = options;
    this.#wall = options.wall ?? backgroundWall;
    this.#state = options.state;
    this.#occurrences = new Occurrences(options.session.load);
    this.#finder = new ChangeFinder(options.state, options.instruments, this.#surroundings());
  }

  connect(socket: PageSocket, mayAct: boolean): PageConnection {
    this.#tellWaiting();
    const source: PageSource = {
      snapshot: () => this.#snapshot(mayAct),
      standing: (point) => this.#finder.standing(point),
    };
    const client = new PageClient(socket, source, this.#wall);
    this.#clients.add(client);
    client.snapshot();
    let second = { startMs: this.#wall.nowMs(), messages: 0 };
    return {
      receive: (text) => {
        const nowMs = this.#wall.nowMs();
        if (nowMs - second.startMs >= 1000) second = { startMs: nowMs, messages: 0 };
        second.messages += 1;
        if (second.messages <= MOST_MESSAGES_A_SECOND) this.#receive(client, text, mayAct);
        else client.close(POLICY_VIOLATION, 'too many messages');
      },
      gone: () => void this.#clients.delete(client),
    };
  }

  publish(event: WatchEvent, state: WatchState, effects: readonly Effect[]): void {
    this.#state = state;
    this.#occurrences.take(event, state, effects);
    if (event.kind === 'reading') this.#keepReading(event.instrument, event.channel);
    const waitMs = this.#clients.size === 0 ? ALONE_BATCH_MS : BATCH_MS;
    if (this.#readings.length >= MOST_READINGS) this.#tellChanges();
    else this.#stopTimer ??= this.#wall.after(waitMs, () => this.#tellInTime());
  }

  close(): void {
    this.#tellWaiting();
    for (const client of this.#clients) client.close(GOING_AWAY, 'the session has ended');
    this.#clients.clear();
  }

  /** Takes the value from the state: the core knows whether the reading counts, and in which unit. */
  #keepReading(instrument: string, channel: string): void {
    const place = this.#state.channelIndex[instrument]?.[channel];
    const id = place === undefined ? undefined : this.#state.channels[place]?.point;
    const point = id == null ? undefined : this.#state.points[this.#state.pointIndex[id] ?? -1];
    if (point === undefined || point.channel !== place || point.atMs === null) return;
    if (!Object.hasOwn(this.#state.plan.prediction.points, point.id)) return;
    this.#readings.push([point.id, point.atMs, point.value]);
  }

  /** So that a snapshot doesn't hold what the changes behind it tell again. */
  #tellWaiting(): void {
    if (this.#stopTimer !== null) this.#tellChanges();
  }

  /** Nobody else hears of what goes wrong in a timer. */
  #tellInTime(): void {
    try {
      this.#tellChanges();
      this.#options.onHealth?.(null);
    } catch (problem) {
      this.#options.onHealth?.(problem instanceof Error ? problem.message : String(problem));
    }
  }

  #tellChanges(): void {
    this.#stopTimer?.();
    this.#stopTimer = null;
    const changes = {
      ...this.#finder.next(this.#state, this.#readings, this.#surroundings()),
      ...this.#occurrences.next(),
    };
    this.#readings = [];
    for (const [id, atMs, value] of changes.readings) this.#history(id).add(atMs, value);
    if (this.#clients.size === 0) return;
    const body = bodyOf(changes);
    for (const client of this.#clients) {
      if (!isTold(client, changes, body)) this.#clients.delete(client);
    }
  }

  #receive(client: PageClient, text: string, mayAct: boolean): void {
    const { message, why } = readPageMessage(text);
    if (message === null) {
      client.refuse(why);
    } else if (message.kind === 'snapshot') {
      this.#tellWaiting();
      client.snapshot();
    } else if (!mayAct) {
      client.refuse(ONLY_LOOKS);
    } else {
      const reason = whyNot(message, this.#state, this.#options.demo()) ?? this.#options.onCommand(message);
      if (reason !== null) client.refuse(reason);
    }
  }

  #snapshot(mayAct: boolean): Omit<SnapshotMessage, 'kind' | 'seq'> {
    const { session, supply, instruments } = this.#options;
    const state = this.#state;
    const { recorderFile, demo } = this.#surroundings();
    const histories = [...this.#histories].map(([id, history]) => [id, history.columns()] as const);
    return {
      supply,
      session: { ...session, load: state.expecting?.load ?? session.load, nowMs: state.nowMs, mayAct },
      points: pointViews(state),
      instruments: instrumentViews(state, instruments),
      alarms: alarmViews(state),
      ...this.#occurrences.all(),
      recorder: recorderView(state, recorderFile),
      suspicion: suspicionView(state),
      cutOffs: cutOffViews(state),
      demo,
      typing: typingPlaces(state, typedChannels(instruments)),
      procedure: procedureView(state),
      history: Object.fromEntries(histories),
    };
  }

  #surroundings(): Surroundings {
    return { recorderFile: this.#options.recorderFile(), demo: this.#options.demo() };
  }

  #history(id: string): History {
    const known = this.#histories.get(id);
    if (known !== undefined) return known;
    const history = new History();
    this.#histories.set(id, history);
    return history;
  }
}

/** One page that can't be told is cut off, and the others are told. */
function isTold(client: PageClient, changes: Changes, body: string): boolean {
  try {
    return client.changes(changes, body);
  } catch {
    client.cut();
    return false;
  }
}
