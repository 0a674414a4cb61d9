import type { AlarmCause, AlarmFacts, AlarmKind } from './alarm.js';
import { isDrawn, isReservoirRipple, WINDING } from './drawn-or-rippling.js';
import type { RailPlan, SupplyPlan } from './plan.js';

type CauseOf<Kind extends AlarmKind> = Extract<AlarmCause, { kind: Kind }>;

/** Where an alarm's test point lies: its part or rail, and the quantity. */
interface Place {
  readonly node: string;
  readonly quantity: string;
}

/** What of an alarm is looked at. */
type Explaining = Pick<AlarmFacts, 'id' | 'active' | 'cause'>;

/**
 * Whether one alarm explains another, so that the other asks nothing of its own. What damages is explained only by
 * what causes it at the same rail or upstream; a consequence never explains its cause, so there are no circles.
 */
export function explains(by: Explaining, of: Explaining, supply: SupplyPlan | undefined): boolean {
  if (!by.active || by.id === of.id) return false;
  const rails = supply?.rails ?? [];
  const { cause } = by;
  if (cause.kind === 'passing-input') return explainsAsPassing(cause, of.cause, rails);
  if (cause.kind === 'over-limit') return explainsAsLimit(cause, of.cause, rails);
  if (cause.kind === 'ripple-frequency') return explainsAsHalf(cause, of.cause, rails);
  if (cause.kind === 'no-headroom') return explainsAsStarved(cause, of.cause, rails);
  if (cause.kind === 'oscillating') return explainsAsOscillating(cause, of.cause, rails);
  return cause.kind === 'outside-prediction' && explainsAsOutside(cause, of.cause, rails);
}

/** All that the rail's volts do to it and to what it feeds; not that its regulator is hot, which may be why. */
function explainsAsPassing(
  by: CauseOf<'passing-input'>,
  of: AlarmCause,
  rails: readonly RailPlan[],
): boolean {
  const { node } = placeOf(by.point);
  if (of.kind === 'outside-prediction' && of.point === WINDING) return !isTooLow(of);
  if (of.kind === 'passing-input') return isBelow(of.point, node, rails);
  if (of.kind === 'over-limit' || of.kind === 'outside-prediction') {
    return of.unit !== 'degC' && isAtOrBelow(of.point, node, rails);
  }
  return (of.kind === 'no-headroom' || of.kind === 'oscillating') && isAtOrBelow(of.point, node, rails);
}

function explainsAsLimit(by: CauseOf<'over-limit'>, of: AlarmCause, rails: readonly RailPlan[]): boolean {
  if (by.point === WINDING && explainsAsDrawn(of)) return true;
  if (of.kind === 'heading-over-limit') return of.point === by.point;
  if (of.kind !== 'outside-prediction') return false;
  if (of.point === by.point) return true;
  const { node, quantity } = placeOf(by.point);
  if (quantity !== 'volts') return false;
  if (isCold(of)) return by.limit.side === 'low' && isAtOrBelow(of.point, node, rails);
  return of.point === WINDING ? by.limit.side === 'high' && !isTooLow(of) : isBelow(of.point, node, rails);
}

/** Half of the charges: more ripple, lower valleys and means, larger pulses in the winding. */
function explainsAsHalf(
  by: CauseOf<'ripple-frequency'>,
  of: AlarmCause,
  rails: readonly RailPlan[],
): boolean {
  const { node } = placeOf(by.point);
  if (of.kind === 'no-headroom') return isBelow(of.point, node, rails);
  if (of.kind !== 'outside-prediction') return false;
  if (of.point === WINDING) return true;
  return of.unit !== 'degC' && isAtOrBelow(of.point, node, rails);
}

function explainsAsStarved(by: CauseOf<'no-headroom'>, of: AlarmCause, rails: readonly RailPlan[]): boolean {
  const { node } = placeOf(by.point);
  if (of.kind === 'no-headroom') return isBelow(of.point, node, rails);
  if (of.kind !== 'outside-prediction' || of.unit === 'degC' || (isVolts(of.point) && !isTooLow(of)))
    return false;
  return isAtOrBelow(of.point, node, rails);
}

function explainsAsOscillating(
  by: CauseOf<'oscillating'>,
  of: AlarmCause,
  rails: readonly RailPlan[],
): boolean {
  const { node } = placeOf(by.point);
  if (of.kind === 'oscillating') return isBelow(of.point, node, rails);
  return of.kind === 'outside-prediction' && of.unit !== 'degC' && isAtOrBelow(of.point, node, rails);
}

/** Volts that are too low starve what they feed, and volts that are off in one direction pass that on. */
function explainsAsOutside(
  by: CauseOf<'outside-prediction'>,
  of: AlarmCause,
  rails: readonly RailPlan[],
): boolean {
  const { node, quantity } = placeOf(by.point);
  if (by.point === WINDING) {
    if (isTooLow(by)) return isCold(of);
    const isRipple = of.kind === 'outside-prediction' && isReservoirRipple(of.point);
    return explainsAsDrawn(of) && (!isRipple || isDrawn(by, of));
  }
  if (quantity !== 'volts') return quantity === 'ripple' && explainsAsRipple(by, of);
  if (of.kind === 'no-headroom') return isTooLow(by) && isBelow(of.point, node, rails);
  if (of.kind !== 'outside-prediction') return false;
  if (isTooLow(by) !== isTooLow(of)) return false;
  if (of.point === `${node}.valley`) return true;
  if (of.point === WINDING) return true;
  if (of.point === `${node}.ripple`) return isTooLow(by);
  if (of.unit === 'degC')
    return isCold(of) ? isAtOrBelow(of.point, node, rails) : isBelow(of.point, node, rails);
  return isVolts(of.point) && isBelow(of.point, node, rails);
}

/** Its own valley; and where it has grown beyond what is drawn, the larger pulses in the winding. */
function explainsAsRipple(by: CauseOf<'outside-prediction'>, of: AlarmCause): boolean {
  if (of.kind !== 'outside-prediction') return false;
  const { node } = placeOf(by.point);
  if (of.point !== WINDING) return of.point === `${node}.valley`;
  return isReservoirRipple(by.point) && !isTooLow(by) && !isTooLow(of) && !isDrawn(of, by);
}

/** What is drawn too much pulls everything that is fed down, and what is charged hums more. */
function explainsAsDrawn(of: AlarmCause): boolean {
  if (of.kind === 'no-headroom') return true;
  if (of.kind !== 'outside-prediction') return false;
  return isVolts(of.point) ? isTooLow(of) : placeOf(of.point).quantity === 'ripple' && !isTooLow(of);
}

function isTooLow({ value, low, high }: CauseOf<'outside-prediction'>): boolean {
  return Math.abs(value) < Math.min(Math.abs(low), Math.abs(high));
}

/** A part that isn't heated: nothing is drawn, or nothing comes. */
function isCold(of: AlarmCause): boolean {
  return of.kind === 'outside-prediction' && of.unit === 'degC' && isTooLow(of);
}

function isVolts(point: string): boolean {
  const { quantity } = placeOf(point);
  return quantity === 'volts' || quantity === 'valley';
}

function placeOf(point: string): Place {
  const dot = point.lastIndexOf('.');
  return { node: point.slice(0, dot), quantity: point.slice(dot + 1) };
}

function isAtOrBelow(point: string, node: string, rails: readonly RailPlan[]): boolean {
  return placeOf(point).node === node || isBelow(point, node, rails);
}

/** Whether the point lies behind the node, over any number of rails; the filter is fed by the reservoir. */
function isBelow(point: string, node: string, rails: readonly RailPlan[]): boolean {
  let at = feederOf(placeOf(point).node, rails);
  for (let passed = 0; at !== null && passed <= rails.length + 1; passed += 1) {
    if (at === node) return true;
    at = feederOf(at, rails);
  }
  return false;
}

function feederOf(node: string, rails: readonly RailPlan[]): string | null {
  if (node === 'filter') return 'reservoir';
  return rails.find(({ name }) => name === node)?.from ?? null;
}
