import type { PointUnit } from '../../predict/prediction.js';
import { halfWidth } from '../../watch/compare.js';
import { rangeWords, valueWords } from '../../watch/value-words.js';
import type { PointHistory, SessionHistory } from './history.js';
import type { Settled } from './last-stretch.js';
import { spanWords } from './time-of-day.js';

/** How a test point differs between two sessions. */
export interface Difference {
  readonly id: string;
  readonly unit: PointUnit;
  readonly before: number;
  readonly after: number;
  /** Below this a difference means nothing: both meters' uncertainty (k = 2) and what the steadier value wandered. */
  readonly doubt: number;
  /** Set when one of the two wandered far more than the other: a mean says little then. */
  readonly unsteady: {
    readonly side: 'before' | 'after';
    readonly low: number;
    readonly high: number;
  } | null;
  /** `settled`: the supply's last half minute. Else so long after its first volts, ms, because it hadn't settled. */
  readonly at: 'settled' | number;
  /** The highest value of each session. */
  readonly highest: readonly [before: number, after: number];
}

/** What can't be compared, by test point. */
export interface Comparison {
  readonly differences: readonly Difference[];
  readonly onlyBefore: readonly string[];
  readonly onlyAfter: readonly string[];
}

/** A temperature that moves faster hasn't settled, K a minute. */
const SETTLED_BELOW_PER_MINUTE = 1;

/** Two sessions of one supply, aligned at the first volts of each. */
export function compareSessions(before: SessionHistory, after: SessionHistory): Comparison {
  const others = new Map(after.points.map((point) => [point.id, point]));
  const differences = before.points.flatMap((point) => {
    const other = others.get(point.id);
    return other === undefined ? [] : differenceOf([before, point], [after, other]);
  });
  const ids = (history: SessionHistory): string[] => history.points.map(({ id }) => id);
  return {
    differences,
    onlyBefore: ids(before).filter((id) => !ids(after).includes(id)),
    onlyAfter: ids(after).filter((id) => !ids(before).includes(id)),
  };
}

type Side = readonly [session: SessionHistory, point: PointHistory];

function differenceOf(a: Side, b: Side): Difference[] {
  const [session, { id }] = a;
  const unit = session.header.plan.prediction.points[id]?.unit;
  if (unit === undefined || a[1].settled === null || b[1].settled === null) return [];
  const wander = [wanderOf(a[1].settled), wanderOf(b[1].settled)] as const;
  const doubt = Math.hypot(uncertaintyOf(a[1]), uncertaintyOf(b[1]), Math.min(...wander));
  const unsteady = unsteadySide(a[1].settled, b[1].settled, doubt);
  const highest = [highestOf(a[1]), highestOf(b[1])] as const;
  const hasSettled = unit !== 'degC' || (isSettled(a[1]) && isSettled(b[1]));
  if (hasSettled) {
    return [
      {
        id,
        unit,
        before: a[1].settled.mean,
        after: b[1].settled.mean,
        doubt,
        unsteady,
        at: 'settled',
        highest,
      },
    ];
  }
  const sinceOnMs = Math.min(lastSinceOnMs(a), lastSinceOnMs(b));
  const [before, then] = [valueAt(a, sinceOnMs), valueAt(b, sinceOnMs)];
  return before === null || then === null
    ? []
    : [{ id, unit, before, after: then, doubt, unsteady: null, at: sinceOnMs, highest }];
}

function highestOf({ buckets }: PointHistory): number {
  return Math.max(...buckets.map(({ high }) => high));
}

function isSettled({ settled }: PointHistory): boolean {
  return Math.abs(settled?.perMinute ?? 0) < SETTLED_BELOW_PER_MINUTE;
}

function uncertaintyOf({ settled, accuracy }: PointHistory): number {
  return settled === null ? 0 : halfWidth(settled.mean, accuracy);
}

/** Half of what it went up and down. */
function wanderOf({ high, low }: Settled): number {
  return (high - low) / 2;
}

const FAR_MORE = 5;

function unsteadySide(before: Settled, after: Settled, doubt: number): Difference['unsteady'] {
  const [a, b] = [wanderOf(before), wanderOf(after)];
  if (Math.max(a, b) <= FAR_MORE * doubt) return null;
  const { low, high } = a > b ? before : after;
  return { side: a > b ? 'before' : 'after', low, high };
}

function lastSinceOnMs([session, { settled }]: Side): number {
  return (settled?.toMs ?? 0) - (session.powerOnAtMs ?? 0);
}

/** The mean of the stretch so long after the first volts; null in a gap. */
function valueAt([session, { buckets }]: Side, sinceOnMs: number): number | null {
  const atMs = (session.powerOnAtMs ?? 0) + sinceOnMs;
  const stretch = buckets.findLast(({ fromMs }) => fromMs <= atMs);
  if (stretch === undefined) return null;
  return atMs - stretch.toMs > 2 * (stretch.toMs - stretch.fromMs) + 5000 ? null : stretch.mean;
}

/** `logic.case: settled temperature down by 41 K (129 °C, then 88 °C)` */
export function differenceWords(difference: Difference): string {
  const { id, unit, before, after, doubt, at, unsteady } = difference;
  const what = unit === 'degC' ? 'temperature' : 'value';
  const when = at === 'settled' ? `settled ${what}` : `${what} ${spanWords(at)} after power-on`;
  const pair = `${valueWords(before, unit)}, then ${valueWords(after, unit)}`;
  if (unsteady !== null) {
    const range = rangeWords(unsteady.low, unsteady.high, unit);
    return `${id}: not steady ${unsteady.side === 'before' ? 'before' : 'afterwards'}, ${range} in its last half minute (${pair})`;
  }
  const change = after - before;
  if (Math.abs(change) <= doubt || valueWords(before, unit) === valueWords(after, unit)) {
    return `${id}: ${when} unchanged (${pair})${highestWords(difference)}`;
  }
  const size = unit === 'degC' ? `${Math.abs(change).toFixed(0)} K` : valueWords(Math.abs(change), unit);
  return `${id}: ${when} ${change > 0 ? 'up' : 'down'} by ${size} (${pair})${highestWords(difference)}`;
}

/** A peak in between is lost when only the end is compared. */
function highestWords({ unit, highest: [before, after], doubt }: Difference): string {
  if (unit !== 'degC' || Math.abs(after - before) <= Math.max(doubt, 2)) return '';
  return `; highest ${valueWords(before, unit)}, then ${valueWords(after, unit)}`;
}
