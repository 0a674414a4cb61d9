import type {
  AlarmView,
  CutOffView,
  InstrumentView,
  PointView,
  SnapshotMessage,
  SupplyBlockView,
  SupplyView,
  SuspicionView,
} from '../../daemon/serve/messages.js';

/** A session at the signal cabin's supply, made up by hand: 12 V for the lamps, 5 V for the logic. */

const UNMEASURED = {
  measuredBy: null,
  value: null,
  mark: null,
  atMs: null,
  verdict: null,
  moving: null,
  stale: false,
} as const;

export const NOW_MS = 754_000;

function measured(by: string, value: number): Omit<PointView, keyof Shape> {
  return { measuredBy: by, value, mark: null, atMs: NOW_MS, verdict: 'inside', moving: null, stale: false };
}

type Shape = Pick<PointView, 'id' | 'label' | 'unit' | 'low' | 'typical' | 'high' | 'limits' | 'formula'>;

function shape(
  id: string,
  label: string,
  unit: PointView['unit'],
  [low, typical, high]: readonly [number, number, number],
  limits: PointView['limits'] = [],
): Shape {
  return { id, label, unit, low, typical, high, limits, formula: 'made up for the page' };
}

const working = { kind: 'rating', side: 'high', value: 25, why: 'working volts of the reservoir' } as const;
const lampsHigh = { kind: 'damage', side: 'high', value: 14, why: 'what the lamps survive' } as const;
const logicHigh = { kind: 'damage', side: 'high', value: 5.5, why: 'what the logic load survives' } as const;
const logicLow = { kind: 'damage', side: 'low', value: 4.75, why: 'the logic load resets' } as const;
const lampsCase = { kind: 'rating', side: 'high', value: 112, why: 'junction at 125 °C' } as const;
const logicCase = { kind: 'rating', side: 'high', value: 107, why: 'junction at 125 °C' } as const;

export const POINTS: readonly PointView[] = [
  { ...shape('transformer.amps', 'secondary current', 'Arms', [0.98, 1.21, 1.46]), ...UNMEASURED },
  {
    ...shape('reservoir.volts', 'reservoir', 'V', [16.9, 18.8, 20.9], [working]),
    ...measured('meter volts', 18.62),
  },
  { ...shape('reservoir.ripple', 'reservoir ripple', 'Vpp', [0.94, 1.18, 1.52]), ...UNMEASURED },
  {
    ...shape('lamps.volts', 'lamps', 'V', [11.62, 12.03, 12.46], [lampsHigh]),
    ...measured('rails lamps', 12.07),
  },
  { ...shape('lamps.ripple', 'lamps ripple', 'Vpp', [0.0011, 0.0019, 0.0042]), ...UNMEASURED },
  { ...shape('lamps.dissipation', 'lamps regulator power', 'W', [2.21, 3.18, 4.32]), ...UNMEASURED },
  {
    ...shape('lamps.case', 'lamps regulator case', 'degC', [41, 51, 63], [lampsCase]),
    ...measured('probes t1', 49.3),
  },
  {
    ...shape('logic.volts', 'logic', 'V', [4.87, 5, 5.13], [logicLow, logicHigh]),
    ...measured('rails logic', 5.02),
  },
  { ...shape('logic.dissipation', 'logic regulator power', 'W', [2.96, 3.71, 4.62]), ...UNMEASURED },
  {
    ...shape('logic.case', 'logic regulator case', 'degC', [43, 52, 64], [logicCase]),
    ...measured('probes t2', 53.8),
  },
  { ...shape('logic.junction', 'logic regulator junction', 'degC', [58, 71, 88]), ...UNMEASURED },
  { ...shape('ambient.air', 'air', 'degC', [17, 22, 35]), ...measured('probes t3', 22.4) },
];

function block(
  part: string,
  kind: SupplyBlockView['kind'],
  from: string | null,
  detail: string,
): SupplyBlockView {
  return { part, kind, from, detail, advice: [], faults: [] };
}

export const SUPPLY: SupplyView = {
  rectifier: 'bridge',
  blocks: [
    block('mains', 'mains', null, '230 V, 50 Hz'),
    block('transformer', 'transformer', 'mains', '15 V, 30 VA'),
    block('rectifier', 'rectifier', 'transformer', 'bridge, 1N4007'),
    block('reservoir', 'reservoir', 'rectifier', '4700 µF, 25 V'),
    block('lamps', 'rail', 'reservoir', 'LM317, heatsink 8 K/W'),
    {
      ...block('logic', 'rail', 'reservoir', '7805, no heatsink'),
      advice: [
        {
          finding: 'heatsink-missing',
          severity: 'destroys',
          sentence: 'Without a heatsink the logic regulator may settle near 240 °C, above 125 °C.',
          cure: 'Fit a heatsink of 9 K/W or better.',
        },
      ],
      faults: [
        { fault: 'heatsink-loose', title: 'the heatsink is loose' },
        { fault: 'overload', title: 'the rail draws too much' },
      ],
    },
  ],
};

export const INSTRUMENTS: readonly InstrumentView[] = [
  {
    name: 'meter',
    driver: 'scpi-meter',
    link: '/dev/ttyUSB0 at 9600 baud',
    state: 'reading',
    why: '',
    identity: 'BENCH METER,0,SN000123,1.04',
    faults: {},
    lastFault: null,
  },
  {
    name: 'probes',
    driver: 'text-lines',
    link: '/dev/ttyACM0 at 115200 baud',
    state: 'reading',
    why: '',
    identity: null,
    faults: { 'not-understood': 2 },
    lastFault: 'line 3114: “T1: 49.”, expected “T1: {t1} C, T2: {t2} C, T3: {t3} C”',
  },
  {
    name: 'rails',
    driver: 'text-lines',
    link: '127.0.0.1:7011',
    state: 'reading',
    why: '',
    identity: null,
    faults: {},
    lastFault: null,
  },
];

export const HOT_CASE: AlarmView = {
  id: 'over-limit:logic.case',
  priority: 'high',
  state: 'unacknowledged',
  raisedAtMs: 741_000,
  sentence: 'Logic regulator case is at 108.6 °C, over its limit of 107 °C.',
  spoken: 'Logic regulator case over its limit.',
  cure: 'Switch off at the mains now. Let it cool, then look at its heatsink.',
  firstUp: false,
  explainedBy: [],
  shelvedUntilMs: null,
  shelveMinutes: 10,
};

export const LOW_LOGIC: AlarmView = {
  id: 'outside-prediction:logic.volts',
  priority: 'medium',
  state: 'unacknowledged',
  raisedAtMs: 748_000,
  sentence: 'Logic reads 4.79 V; 4.87 to 5.13 V was predicted.',
  spoken: 'Logic volts lower than predicted.',
  cure: 'Take the load off and measure again at the regulator’s pins.',
  firstUp: false,
  explainedBy: [],
  shelvedUntilMs: null,
  shelveMinutes: 10,
};

export const LOST_METER: AlarmView = {
  id: 'instrument-lost:meter',
  priority: 'low',
  state: 'returned-unacknowledged',
  raisedAtMs: 601_000,
  sentence: 'The meter went away for 9 s.',
  spoken: 'The meter went away.',
  cure: 'Check its plug and cable.',
  firstUp: false,
  explainedBy: [],
  shelvedUntilMs: null,
  shelveMinutes: 10,
};

/** Twelve minutes of warming up, a reading a second, towards `now`. */
function warming(now: number, from: number): { atMs: number[]; value: (number | null)[] } {
  const atMs = Array.from({ length: 740 }, (_, index) => NOW_MS - 739_000 + index * 1000);
  const value = atMs.map((at) => {
    const since = (at - (atMs[0] ?? 0)) / 1000;
    return now - (now - from) * Math.exp(-since / 140) + 0.002 * now * Math.sin(since / 3.1);
  });
  return { atMs, value: value.map((one, index) => (index > 500 && index < 530 ? null : one)) };
}

/** All is well, thirteen minutes in. */
export function calm(): SnapshotMessage {
  return {
    kind: 'snapshot',
    seq: 1,
    session: {
      design: 'Signal cabin',
      bench: 'Table by the window',
      load: 'typical',
      startedAt: '2025-03-08T19:30:00.000Z',
      nowMs: NOW_MS,
      speed: 1,
      mayAct: true,
    },
    supply: SUPPLY,
    points: POINTS,
    instruments: INSTRUMENTS,
    alarms: [],
    cutOffs: [],
    marks: [],
    captures: [],
    recorder: { writing: true, file: 'recordings/2025-03-08-signal-cabin.ndjson', why: '' },
    suspicion: null,
    demo: null,
    procedure: null,
    typing: [],
    history: {
      'logic.case': warming(53.8, 21),
      'lamps.case': warming(49.3, 21),
      'ambient.air': warming(22.4, 20.9),
      'reservoir.volts': warming(18.62, 18.9),
      'logic.volts': warming(5.02, 5.03),
    },
  };
}

/** What is said once a loose heatsink has been noticed. */
export const LOOSE_HEATSINK: SuspicionView = {
  from: 6,
  suspects: [
    {
      id: 'heatsink-loose logic',
      about: 'logic',
      title: 'the heatsink is loose (logic)',
      probability: 0.83,
      isFault: true,
      evidence: ['for: Logic regulator case: 88 °C, 31 K hotter than a healthy one.'],
      action:
        'Switch off and pull the plug. The reservoir stays charged: measure it before you touch anything.',
    },
    {
      id: 'overload logic',
      about: 'logic',
      title: 'the rail draws too much (logic)',
      probability: 0.11,
      isFault: true,
      evidence: [],
      action: 'Switch off and pull the plug.',
    },
  ],
  other: 0.04,
  next: {
    point: 'logic.amps',
    words:
      'Measure logic rail current next: about 0.62 A if the heatsink is loose, 1.10 A if the rail draws too much.',
  },
  odd: [],
  parameters: ["The readings put the reservoir's capacitance at 4600 µF (3900 to 5300 µF)."],
};

/** The same with single points changed. */
export function withPoints(
  snapshot: SnapshotMessage,
  changed: Readonly<Record<string, Partial<PointView>>>,
): SnapshotMessage {
  return { ...snapshot, points: snapshot.points.map((point) => ({ ...point, ...changed[point.id] })) };
}

/** A missing heatsink: one alarm of each priority, a point of nearly every standing. */
export function troubled(): SnapshotMessage {
  const snapshot = withPoints(calm(), {
    'logic.case': { value: 108.6, verdict: 'outside' },
    'logic.volts': { value: 4.79, verdict: 'outside' },
    'lamps.volts': { value: 12.44, verdict: 'doubtful' },
    'lamps.case': { stale: true, atMs: NOW_MS - 41_000 },
    'reservoir.volts': { value: null, mark: 'overload', verdict: null },
  });
  return {
    ...snapshot,
    alarms: [LOST_METER, LOW_LOGIC, HOT_CASE],
    instruments: INSTRUMENTS.map((instrument) =>
      instrument.name === 'meter'
        ? { ...instrument, state: 'lost', why: 'unplugged; trying again every 2 s' }
        : instrument,
    ),
    recorder: { writing: false, file: null, why: 'The disk is full: make room, then start a new session.' },
    history: { ...snapshot.history, 'logic.case': warming(108.6, 21) },
  };
}

/** The demo, twenty times as fast as the clock. */
export function demo(fault = 'none'): SnapshotMessage {
  const snapshot = calm();
  return {
    ...snapshot,
    session: { ...snapshot.session, bench: 'Simulated bench', speed: 20 },
    demo: {
      fault,
      faults: [
        { name: 'none', title: 'No fault' },
        { name: 'heatsink-missing', title: 'Heatsink missing on the logic regulator' },
        { name: 'diode-open', title: 'One rectifier diode open' },
        { name: 'regulator-passes-input', title: 'Logic regulator passes its input' },
      ],
    },
  };
}

/** A bench on which nothing is measured yet. */
export function unprobed(): SnapshotMessage {
  const snapshot = calm();
  return {
    ...snapshot,
    points: snapshot.points.map((point) => ({ ...point, ...UNMEASURED })),
    instruments: [],
    recorder: { writing: false, file: null, why: 'No recording was asked for.' },
    history: {},
  };
}

/** The same with a cut-off that is armed, and one that has dropped. */
export function withCutOffs(snapshot: SnapshotMessage): SnapshotMessage {
  const armed: CutOffView = {
    output: 'mains-relay',
    state: 'armed',
    sinceMs: 60_000,
    position: 'on',
    why: null,
    on: ['passing-input', 'over-limit'],
    at: ['logic.volts'],
    isFalling: false,
    caution: 'A cut-off doesn’t replace a fuse, a lamp limiter or a person.',
  };
  const dropped: CutOffView = {
    ...armed,
    output: 'bench-supply',
    state: 'dropped',
    position: 'off',
    why: HOT_CASE.spoken,
  };
  return { ...snapshot, cutOffs: [armed, dropped] };
}
