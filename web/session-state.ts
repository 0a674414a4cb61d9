import type {
  AlarmView,
  CaptureView,
  ChangesMessage,
  CutOffView,
  DaemonMessage,
  DemoView,
  InstrumentView,
  MarkView,
  PointView,
  ProcedureView,
  RecorderView,
  SessionView,
  SettledView,
  SnapshotMessage,
  SupplyView,
  SuspicionView,
  TypingPlace,
} from '../daemon/serve/messages.js';

/** How the page is joined to the daemon. Only `live` values may look alive. */
export type LinkState =
  { readonly kind: 'connecting' } | { readonly kind: 'live' } | { readonly kind: 'down' };

/** Everything the page knows, apart from the readings behind the charts. */
export interface PageState {
  readonly link: LinkState;
  /** When the last message came, in the page's own milliseconds; null before the first. */
  readonly heardAtWallMs: number | null;
  /** What the daemon said when it closed, "the session has ended"; null while live or when it said nothing. */
  readonly goodbye: string | null;
  readonly seq: number;
  /** Something was missed: ask for a snapshot. What is shown may be incomplete until it comes. */
  readonly wantsSnapshot: boolean;
  readonly session: SessionView | null;
  readonly supply: SupplyView;
  readonly points: readonly PointView[];
  readonly instruments: readonly InstrumentView[];
  readonly alarms: readonly AlarmView[];
  /** What happened beside the readings, oldest first. */
  readonly marks: readonly MarkView[];
  /** The newest capture of each point. */
  readonly captures: readonly CaptureView[];
  /** By point: the value on which its readings stood still last, since this page came. */
  readonly settled: Readonly<Record<string, SettledView>>;
  readonly recorder: RecorderView | null;
  /** What the readings speak for; null before anything has settled. */
  readonly suspicion: SuspicionView | null;
  readonly cutOffs: readonly CutOffView[];
  readonly demo: DemoView | null;
  /** Where a person may type what an instrument shows. */
  readonly typing: readonly TypingPlace[];
  /** Null in a session without a power-up. */
  readonly procedure: ProcedureView | null;
  /** Every `instrument channel` that has been seen on a point, so that its probe can be moved. */
  readonly channels: readonly string[];
  /** Commands that weren't carried out and that the person hasn't put away, oldest first. */
  readonly refusals: readonly string[];
  /** Readings that the daemon left out for this page because it was slow. */
  readonly leftOut: number;
}

export type PageEvent =
  | { readonly kind: 'connecting' }
  | { readonly kind: 'closed'; readonly reason: string }
  | { readonly kind: 'message'; readonly wallMs: number; readonly message: DaemonMessage }
  | { readonly kind: 'unreadable-message' }
  | { readonly kind: 'refusals-read' };

export const INITIAL_STATE: PageState = {
  link: { kind: 'connecting' },
  heardAtWallMs: null,
  goodbye: null,
  seq: 0,
  wantsSnapshot: false,
  session: null,
  supply: { rectifier: 'bridge', blocks: [] },
  points: [],
  instruments: [],
  alarms: [],
  marks: [],
  captures: [],
  settled: {},
  recorder: null,
  suspicion: null,
  cutOffs: [],
  demo: null,
  typing: [],
  procedure: null,
  channels: [],
  refusals: [],
  leftOut: 0,
};

const MOST_REFUSALS = 5;
const MOST_MARKS = 400;

/** The state after `event`. Pure: no clock and no DOM. */
export function reduce(state: PageState, event: PageEvent): PageState {
  switch (event.kind) {
    case 'connecting':
      return { ...state, link: { kind: 'connecting' } };
    case 'closed':
      return { ...state, link: { kind: 'down' }, goodbye: event.reason || state.goodbye };
    case 'unreadable-message':
      return { ...state, wantsSnapshot: true };
    case 'refusals-read':
      return { ...state, refusals: [] };
    case 'message':
      return afterMessage({ ...state, heardAtWallMs: event.wallMs }, event.message);
  }
}

function afterMessage(state: PageState, message: DaemonMessage): PageState {
  if (message.kind === 'snapshot') return afterSnapshot(state, message);
  if (state.link.kind !== 'live') return { ...state, wantsSnapshot: true };
  const next = {
    ...state,
    seq: message.seq,
    wantsSnapshot: state.wantsSnapshot || message.seq !== state.seq + 1,
  };
  if (message.kind === 'changes') return afterChanges(next, message);
  return { ...next, refusals: [...state.refusals, message.why].slice(-MOST_REFUSALS) };
}

function afterSnapshot(state: PageState, message: SnapshotMessage): PageState {
  const sameSession = state.session?.startedAt === message.session.startedAt;
  return {
    ...state,
    link: { kind: 'live' },
    goodbye: null,
    seq: message.seq,
    wantsSnapshot: false,
    session: message.session,
    supply: message.supply,
    points: message.points,
    instruments: message.instruments,
    alarms: message.alarms.filter((alarm) => alarm.state !== 'normal'),
    marks: message.marks,
    captures: message.captures,
    settled: sameSession ? state.settled : {},
    recorder: message.recorder,
    suspicion: message.suspicion,
    cutOffs: message.cutOffs,
    demo: message.demo,
    typing: message.typing,
    procedure: message.procedure,
    channels: withChannels(sameSession ? state.channels : [], message.points),
    leftOut: sameSession ? state.leftOut : 0,
  };
}

function afterChanges(state: PageState, message: ChangesMessage): PageState {
  const points = withBands(withStandings(withReadings(state.points, message), message), message);
  return {
    ...state,
    session: state.session && {
      ...state.session,
      load: message.expected?.load ?? state.session.load,
      nowMs: message.nowMs,
    },
    points,
    instruments: upserted(state.instruments, message.instruments ?? [], (instrument) => instrument.name),
    alarms: upserted(state.alarms, message.alarms ?? [], (alarm) => alarm.id).filter(
      (alarm) => alarm.state !== 'normal',
    ),
    marks: message.marks ? [...state.marks, ...message.marks].slice(-MOST_MARKS) : state.marks,
    captures: upserted(state.captures, message.captures ?? [], (capture) => capture.point),
    settled: message.settled
      ? { ...state.settled, ...Object.fromEntries(message.settled.map((one) => [one.point, one])) }
      : state.settled,
    recorder: message.recorder ?? state.recorder,
    suspicion: message.suspicion === undefined ? state.suspicion : message.suspicion,
    cutOffs: message.cutOffs ?? state.cutOffs,
    demo: message.demo ?? state.demo,
    typing: message.typing ?? state.typing,
    procedure: message.procedure ?? state.procedure,
    channels: withChannels(state.channels, points),
    leftOut: state.leftOut + message.leftOut,
  };
}

/** Each point with its newest reading. A reading without a number keeps the mark, or gets one. */
function withReadings(points: readonly PointView[], message: ChangesMessage): readonly PointView[] {
  if (message.readings.length === 0) return points;
  const newest = new Map(message.readings.map(([id, atMs, value]) => [id, { atMs, value }]));
  return points.map((point) => {
    const reading = newest.get(point.id);
    if (!reading) return point;
    const mark = reading.value === null ? (point.mark ?? 'not-a-number') : null;
    return { ...point, ...reading, mark, stale: false };
  });
}

function withStandings(points: readonly PointView[], message: ChangesMessage): readonly PointView[] {
  if (!message.points?.length) return points;
  const standings = new Map(message.points.map((standing) => [standing.id, standing]));
  return points.map((point) => {
    const standing = standings.get(point.id);
    if (!standing) return point;
    // Taken as a whole: what a standing no longer says is no longer so.
    const { label, unit, low, typical, high, limits, formula } = point;
    return { ...standing, label, unit, low, typical, high, limits, formula };
  });
}

function withBands(points: readonly PointView[], { expected }: ChangesMessage): readonly PointView[] {
  if (expected === undefined) return points;
  const bands = new Map(expected.bands.map((band) => [band.id, band]));
  return points.map((point) => ({ ...point, ...bands.get(point.id) }));
}

function withChannels(channels: readonly string[], points: readonly PointView[]): readonly string[] {
  const unseen = points
    .map((point) => point.measuredBy)
    .filter((by): by is string => by !== null && !channels.includes(by));
  return unseen.length > 0 ? [...new Set([...channels, ...unseen])] : channels;
}

function upserted<T>(all: readonly T[], changed: readonly T[], key: (item: T) => string): readonly T[] {
  if (changed.length === 0) return all;
  const byKey = new Map(all.map((item) => [key(item), item]));
  for (const item of changed) byKey.set(key(item), item);
  return [...byKey.values()];
}
