import type { AlarmView, PointView, SnapshotMessage } from '../../daemon/serve/messages.js';
import {
  calm,
  HOT_CASE,
  INSTRUMENTS,
  LOST_METER,
  LOW_LOGIC,
  NOW_MS,
  SUPPLY,
  troubled,
  withPoints,
} from './signal-cabin.js';

/** The signal cabin's supply with other numbers of rails, instruments and alarms. */

const RAILS = ['lamps', 'logic', 'bells', 'points', 'signals', 'yard', 'clock', 'telegraph'];

const PARTS = ['transformer', 'reservoir', 'ambient'];

function withRails(snapshot: SnapshotMessage, rails: readonly string[]): SnapshotMessage {
  const made = rails.flatMap((rail) => pointsOfRail(snapshot, rail));
  const own = snapshot.points.filter(({ id }) => PARTS.includes(id.split('.')[0] ?? ''));
  const [lamps, logic] = ['lamps', 'logic'].map((part) =>
    SUPPLY.blocks.find((block) => block.part === part)!,
  );
  const blocks = rails.map((rail) => (rail === 'logic' ? logic! : { ...lamps!, part: rail }));
  return {
    ...snapshot,
    points: [...own, ...made],
    supply: {
      ...SUPPLY,
      blocks: [...SUPPLY.blocks.filter(({ kind }) => kind !== 'rail'), ...blocks],
    },
  };
}

/** The rail's own points, or the lamps' under its name. */
function pointsOfRail({ points }: SnapshotMessage, rail: string): readonly PointView[] {
  const own = points.filter(({ id }) => id.startsWith(`${rail}.`));
  if (own.length > 0) return own;
  return points
    .filter(({ id }) => id.startsWith('lamps.'))
    .map((point) => ({
      ...point,
      id: point.id.replace('lamps', rail),
      label: point.label.replace('lamps', rail),
      measuredBy: point.measuredBy === null ? null : `rails ${rail}`,
    }));
}

/** A supply for the lamps alone. */
export function oneRail(): SnapshotMessage {
  return withRails(calm(), RAILS.slice(0, 1));
}

export function eightRails(): SnapshotMessage {
  return withRails(calm(), RAILS);
}

/** The board of the rails has fallen silent; everything else goes on. */
export function staleBoard(): SnapshotMessage {
  const since = { stale: true, atMs: NOW_MS - 41_000 };
  return {
    ...withPoints(calm(), { 'lamps.volts': since, 'logic.volts': since }),
    instruments: INSTRUMENTS.map((one) =>
      one.name === 'rails' ? { ...one, state: 'lost', why: 'unplugged; trying again every 2 s' } : one,
    ),
  };
}

/** Twelve alarms: of every priority and state, some of them explained or put aside. */
export function twelveAlarms(): SnapshotMessage {
  const states: readonly Partial<AlarmView>[] = [
    { state: 'unacknowledged', firstUp: true },
    { state: 'acknowledged' },
    { state: 'latched-acknowledged' },
    { state: 'shelved', shelvedUntilMs: NOW_MS + 540_000 },
    { state: 'suppressed', explainedBy: [HOT_CASE.spoken] },
    { state: 'returned-unacknowledged' },
  ];
  const alarms = Array.from({ length: 12 }, (_, index) => {
    const like = [HOT_CASE, LOW_LOGIC, LOST_METER][index % 3]!;
    return { ...like, ...states[index % states.length], id: `${like.id} ${index}` };
  });
  return { ...troubled(), alarms };
}

/** What a page gets that came in with the key that only looks. */
export function onlyLooking(snapshot: SnapshotMessage): SnapshotMessage {
  return { ...snapshot, session: { ...snapshot.session, mayAct: false } };
}
