import type { AlarmCause, AlarmFacts, Priority } from './alarm.js';
import { alarmGroup, watchedPoint } from './alarm-subject.js';
import { explains } from './causes.js';
import { offDelay } from './delay.js';
import type { Draft } from './draft.js';
import type { AlarmEffect } from './effects.js';
import { hasHeld, longer, type Delay, type Hold } from './hold.js';

/**
 * An alarm told for the second time within this time can't return before it is over nor be told worse, so that no signal
 * whatsoever makes an alarm chatter (three times a minute or more, by the trade's reading of ISA-18.2).
 */
const CHATTER_MS = 60_000;

/** What an alarm is when it is raised. */
export interface Raising {
  readonly id: string;
  readonly cause: AlarmCause;
  readonly priority: Priority;
  /** Stays until a person resets it after it has returned. */
  readonly latched: boolean;
  readonly suppressedBy: readonly string[];
}

/** The kinds of alarm that readings of a test point raise and return. */
type PointCause =
  | 'over-limit'
  | 'heading-over-limit'
  | 'outside-prediction'
  | 'sensor-lifted'
  | 'stuck-reading'
  | 'overload'
  | 'passing-input'
  | 'no-headroom'
  | 'ripple-frequency'
  | 'oscillating';

/** The alarm of one kind on a test point. */
export function pointAlarm(draft: Draft, kind: PointCause, point: string): AlarmFacts | undefined {
  for (const alarm of draft.alarms) {
    if (alarm.cause.kind === kind && alarm.cause.point === point) return alarm;
  }
  return undefined;
}

/** Raises an alarm, or raises it again when it has returned and still waits for its person. */
export function raiseAlarm(draft: Draft, raising: Raising): void {
  const before = draft.alarms.find(({ id }) => id === raising.id);
  const alarm: AlarmFacts = {
    ...raising,
    active: true,
    acknowledged: false,
    latched: raising.latched || (before?.latched ?? false),
    shelvedUntilMs: before?.shelvedUntilMs ?? null,
    firstUp: isFirstUp(draft, raising),
    raisedAtMs: draft.atMs,
    returnedAtMs: null,
  };
  const explained = {
    ...alarm,
    suppressedBy: [...new Set([...raising.suppressedBy, ...whatExplains(draft, alarm)])],
  };
  if (before === undefined) draft.alarms = [...draft.alarms, explained];
  noteTold(draft, alarm.id);
  change(draft, explained, 'raised');
  settleCauses(draft);
}

function noteTold(draft: Draft, id: string): void {
  const previousAtMs = draft.raises[id]?.lastAtMs ?? null;
  draft.raises = { ...draft.raises, [id]: { lastAtMs: draft.atMs, previousAtMs } };
}

/** Whether nothing else of its group stood when it was raised. */
function isFirstUp(draft: Draft, { id, cause }: Raising): boolean {
  const group = alarmGroup(cause);
  return !draft.alarms.some((one) => one.active && one.id !== id && alarmGroup(one.cause) === group);
}

/** Whether it was told twice within the last minute, raised or worse: a third time would be chatter. */
export function wasToldTwice(draft: Draft, id: string): boolean {
  const previousAtMs = draft.raises[id]?.previousAtMs ?? null;
  return previousAtMs !== null && draft.atMs - previousAtMs <= CHATTER_MS;
}

/** The condition went further by a real step: it asks for its person again, though it was put aside. */
export function worsenAlarm(
  draft: Draft,
  alarm: AlarmFacts,
  cause: AlarmCause,
  latched: boolean,
): AlarmFacts {
  const worse = {
    ...alarm,
    cause,
    acknowledged: false,
    latched: alarm.latched || latched,
    shelvedUntilMs: null,
  };
  noteTold(draft, alarm.id);
  change(draft, worse, 'worse');
  settleCauses(draft);
  return worse;
}

/**
 * The condition is clear. False when that doesn't count yet because the alarm would chatter. An alarm that
 * another one explains was that one's to acknowledge and goes at once.
 */
export function returnAlarm(draft: Draft, alarm: AlarmFacts): boolean {
  if (wasToldTwice(draft, alarm.id)) return false;
  const returned = { ...alarm, active: false, returnedAtMs: draft.atMs };
  change(draft, returned, 'returned');
  const isDone = alarm.suppressedBy.length > 0 || (alarm.acknowledged && !alarm.latched);
  if (isDone && alarm.shelvedUntilMs === null) removeAlarm(draft, returned);
  settleCauses(draft);
  return true;
}

/**
 * A person has seen it. Once it has returned, the same press resets it (OPC 10000-9, 5.8: a latched alarm only
 * after return and acknowledgement), so a latched alarm acknowledged before its return needs a second press.
 * With its probe taken off nothing will ever tell of a return: then acknowledging is enough.
 */
export function acknowledgeAlarm(draft: Draft, id: string): void {
  const alarm = draft.alarms.find((one) => one.id === id);
  if (alarm === undefined) return;
  const seen = { ...alarm, acknowledged: true };
  if (!alarm.acknowledged) change(draft, seen, 'acknowledged');
  const point = watchedPoint(seen.cause);
  if (point !== null && !isMeasured(draft, point)) clearUnmeasured(draft, point);
  else if (!seen.active && seen.shelvedUntilMs === null) removeAlarm(draft, seen);
}

/** The probe came off: removes what a person has acknowledged on this point and what that explains. */
export function clearUnmeasured(draft: Draft, point: string): void {
  const onPoint = draft.alarms.filter(({ cause }) => watchedPoint(cause) === point);
  const seen = onPoint.filter(({ acknowledged }) => acknowledged);
  const seenIds = new Set(seen.map(({ id }) => id));
  for (const alarm of onPoint) {
    if (alarm.acknowledged || alarm.suppressedBy.some((by) => seenIds.has(by))) removeAlarm(draft, alarm);
  }
}

/** A person puts it aside until then. */
export function shelveAlarm(draft: Draft, alarm: AlarmFacts, untilMs: number): void {
  change(draft, { ...alarm, shelvedUntilMs: untilMs }, 'shelved');
}

/** It is no longer put aside; what has returned and was acknowledged meanwhile is gone. */
export function unshelveAlarm(draft: Draft, alarm: AlarmFacts): void {
  const back = { ...alarm, shelvedUntilMs: null };
  change(draft, back, 'unshelved');
  if (!back.active && back.acknowledged && !back.latched) removeAlarm(draft, back);
}

/** Suppresses what another alarm explains now, and lets stand for itself what none explains any more. */
function settleCauses(draft: Draft): void {
  for (const { id } of draft.alarms) {
    const alarm = draft.alarms.find((one) => one.id === id);
    // A stale channel's own rule waits until its instrument has had time to speak again.
    if (alarm?.active !== true || alarm.cause.kind === 'stale') continue;
    const by = whatExplains(draft, alarm);
    if (by.join() === alarm.suppressedBy.join()) continue;
    if (by.length > 0) suppressAlarm(draft, alarm, by);
    else unsuppressAlarm(draft, alarm, alarm.acknowledged || isKnown(draft, alarm));
  }
}

function whatExplains(draft: Draft, alarm: AlarmFacts): readonly string[] {
  const { supply } = draft.plan;
  return draft.alarms.filter((one) => explains(one, alarm, supply)).map(({ id }) => id);
}

/** Whoever acknowledged what explained it knows of this: no second call for the same trouble getting better. */
function isKnown(draft: Draft, { suppressedBy }: AlarmFacts): boolean {
  return suppressedBy.every((id) => draft.alarms.find((one) => one.id === id)?.acknowledged ?? true);
}

/** Other alarms explain this one from now on. */
export function suppressAlarm(draft: Draft, alarm: AlarmFacts, by: readonly string[]): AlarmFacts {
  const suppressed = { ...alarm, suppressedBy: by };
  change(draft, suppressed, 'suppressed');
  return suppressed;
}

/** Nothing explains this one any more. `acknowledged` says whether its person knows of it already. */
export function unsuppressAlarm(draft: Draft, alarm: AlarmFacts, acknowledged: boolean): AlarmFacts {
  const unsuppressed = { ...alarm, suppressedBy: [], acknowledged };
  change(draft, unsuppressed, 'unsuppressed');
  return unsuppressed;
}

/** One more reading while the alarm is not active: raises it when the condition has held for its delay. */
export function followRaise(draft: Draft, hold: Hold | null, delay: Delay, raising: Raising): Hold | null {
  const next = longer(hold, draft.atMs);
  if (!hasHeld(next, delay, draft.atMs)) return next;
  raiseAlarm(draft, raising);
  return null;
}

/** One more reading while the alarm is active: returns it when it has been clear for the off-delay. */
export function followReturn(
  draft: Draft,
  hold: Hold | null,
  isClear: boolean,
  alarm: AlarmFacts,
): Hold | null {
  if (!isClear) return null;
  const next = longer(hold, draft.atMs);
  const point = watchedPoint(alarm.cause);
  const delay = offDelay(point === null ? 0 : intervalAt(draft, point));
  return hasHeld(next, delay, draft.atMs) && returnAlarm(draft, alarm) ? null : next;
}

/** The interval of the channel that measures a test point, ms; 0 when nobody does. */
function intervalAt(draft: Draft, point: string): number {
  const channel = draft.points[draft.pointAt(point)]?.channel ?? -1;
  return draft.plan.channels[channel]?.intervalMs ?? 0;
}

function isMeasured(draft: Draft, point: string): boolean {
  const state = draft.points[draft.pointAt(point)];
  return state !== undefined && state.channel !== null;
}

function removeAlarm(draft: Draft, alarm: AlarmFacts): void {
  draft.alarms = draft.alarms.filter(({ id }) => id !== alarm.id);
  const normal = { ...alarm, active: false, acknowledged: true, latched: false, suppressedBy: [] };
  draft.tell({ kind: 'alarm', atMs: draft.atMs, change: 'removed', alarm: normal });
  settleCauses(draft);
}

function change(draft: Draft, alarm: AlarmFacts, what: AlarmEffect['change']): void {
  draft.alarms = draft.alarms.map((one) => (one.id === alarm.id ? alarm : one));
  draft.tell({ kind: 'alarm', atMs: draft.atMs, change: what, alarm });
}
