import type { AlarmFacts } from './alarm.js';
import { raiseAlarm, returnAlarm } from './alarms.js';
import { droppingAlarm } from './cut-off-cause.js';
import { orderProblem } from './cut-off-order.js';
import type { Draft } from './draft.js';
import type { CutOffEffect } from './effects.js';
import type { CutOffEvent, OutputEvent } from './events.js';
import type { CutOffPlan } from './plan.js';
import { measuredAt } from './known-value.js';
import type { CutOffState, Falling } from './state.js';
import { livePoints } from './supply-off.js';

/** A reservoir with nothing but its bleeder still falls visibly in this time (common practice). */
const FALLS_WITHIN_MS = 30_000;
/** A fall to this share is no wandering of the mains (EN 50160: ±10 %). */
const FALLEN = 0.85;

/** A cut-off at the session's start: no alarm drops it before a person has armed it. */
export function disarmedCutOff({ output }: CutOffPlan): CutOffState {
  return {
    output,
    state: 'disarmed',
    sinceMs: 0,
    alarm: null,
    cause: null,
    position: 'unknown',
    falling: null,
  };
}

/** A person gave an order; one that makes no sense now is answered with why and changes nothing. */
export function takeCutOffOrder(draft: Draft, event: CutOffEvent): void {
  const { output, order } = event;
  const cutOff = draft.cutOffs.find((one) => one.output === output);
  const why = orderProblem(draft, event);
  if (cutOff === undefined || why !== null) return tell(draft, output, 'refused', null, why ?? '');
  const sinceMs = draft.atMs;
  switch (order) {
    case 'arm':
      setCutOff(draft, { ...cutOff, state: 'armed', sinceMs, alarm: null, cause: null });
      return tell(draft, output, 'armed');
    case 'disarm':
      setCutOff(draft, { ...cutOff, state: 'disarmed', sinceMs, alarm: null, cause: null });
      return tell(draft, output, 'disarmed');
    case 'test':
      return drop(draft, cutOff, 'test', null);
    case 'on':
      return tell(draft, output, 'switch-on');
    case 'off':
      setCutOff(draft, { ...cutOff, falling: fallingFrom(draft) });
      return tell(draft, output, 'switch-off');
  }
}

/** The output did what it was told, or it didn't; or it moved by itself: one that has dropped is opened again then. */
export function takeOutput(draft: Draft, { output, position, failed }: OutputEvent): void {
  const cutOff = draft.cutOffs.find((one) => one.output === output);
  if (cutOff === undefined) return;
  if (failed !== null) {
    setCutOff(draft, { ...cutOff, position: 'unknown', falling: position === 'off' ? null : cutOff.falling });
    tell(draft, output, 'failed', cutOff.alarm, failed);
    if (position === 'off') raiseFailed(draft, output, failed);
    return;
  }
  if (position === 'off') {
    setCutOff(draft, { ...cutOff, position, falling: confirmedFalling(draft, cutOff) });
    return tell(draft, output, 'is-off', cutOff.alarm);
  }
  const isDropped = cutOff.state === 'dropped';
  setCutOff(draft, { ...cutOff, position, falling: isDropped ? fallingFrom(draft) : null });
  tell(draft, output, 'is-on', cutOff.alarm);
  if (isDropped) tell(draft, output, 'dropped', cutOff.alarm);
}

/** One that had failed and is off after all is looked at once more, so that its alarm can return. */
function confirmedFalling(draft: Draft, { output, falling }: CutOffState): Falling | null {
  if (falling === null && failedAlarm(draft, output) === undefined) return null;
  return { ...(falling ?? fallingFrom(draft)), confirmed: true };
}

/** To be called after each event: drops what an alarm is to drop, and looks whether what was dropped falls. */
export function settleCutOffs(draft: Draft, alarmsBefore: readonly AlarmFacts[]): void {
  for (const cutOff of draft.cutOffs) {
    if (cutOff.falling !== null) settleFalling(draft, cutOff, cutOff.falling);
    if (cutOff.state !== 'armed' || draft.alarms === alarmsBefore) continue;
    const alarm = droppingAlarm(draft, cutOff.output);
    if (alarm !== undefined) drop(draft, cutOff, 'dropped', alarm);
  }
}

/** Nobody watched for a while: whatever may let power through is dropped, armed or not, until a person arms it again. */
export function dropUnwatched(draft: Draft, why: AlarmFacts | null): void {
  for (const cutOff of draft.cutOffs) {
    const mayBeOn = cutOff.state === 'armed' || (cutOff.state === 'disarmed' && cutOff.position === 'on');
    if (mayBeOn) drop(draft, cutOff, 'dropped', why, livePoints(draft, 'stale ones too'));
  }
}

function drop(
  draft: Draft,
  cutOff: CutOffState,
  change: 'dropped' | 'test',
  by: AlarmFacts | null,
  live = livePoints(draft),
): void {
  const [alarm, cause] = [by?.id ?? null, by?.cause ?? null];
  const falling = { ...fallingFrom(draft), live };
  setCutOff(draft, { ...cutOff, state: 'dropped', sinceMs: draft.atMs, alarm, cause, falling });
  tell(draft, cutOff.output, change, alarm);
}

function fallingFrom(draft: Draft): Falling {
  return { sinceMs: draft.atMs, confirmed: false, live: livePoints(draft) };
}

/** One live test point that falls is enough: others may be fed from elsewhere. */
function settleFalling(draft: Draft, cutOff: CutOffState, falling: Falling): void {
  const isLate = draft.atMs - falling.sinceMs > FALLS_WITHIN_MS;
  if (!falling.confirmed) {
    if (isLate) endFalling(draft, cutOff, 'it has not said that power is off');
    return;
  }
  const seen = Object.entries(falling.live).map(
    ([point, before]) => [measuredAt(draft, point), before] as const,
  );
  if (seen.some(([value, before]) => value !== null && Math.abs(value) < FALLEN * Math.abs(before))) {
    return seenFalling(draft, cutOff);
  }
  if (seen.length > 0 && !isLate) return;
  const stands = Object.keys(falling.live).filter((point) => measuredAt(draft, point) !== null);
  endFalling(
    draft,
    cutOff,
    stands.length === 0 ? null : `it says that power is off, but ${stands.join(', ')} did not fall`,
  );
}

/** @param why it is known to have failed; null: nothing showed either way */
function endFalling(draft: Draft, cutOff: CutOffState, why: string | null): void {
  setCutOff(draft, { ...cutOff, falling: null });
  tell(draft, cutOff.output, 'not-seen-falling', cutOff.alarm, why ?? '');
  if (why !== null) raiseFailed(draft, cutOff.output, why);
  else returnFailed(draft, cutOff.output);
}

function seenFalling(draft: Draft, cutOff: CutOffState): void {
  const { output, alarm } = cutOff;
  setCutOff(draft, { ...cutOff, falling: null });
  tell(draft, output, 'fell', alarm);
  returnFailed(draft, output);
}

function returnFailed(draft: Draft, output: string): void {
  const failed = failedAlarm(draft, output);
  if (failed !== undefined) returnAlarm(draft, failed);
}

function raiseFailed(draft: Draft, output: string, why: string): void {
  if (failedAlarm(draft, output) !== undefined) return;
  raiseAlarm(draft, {
    id: failedId(output),
    cause: { kind: 'cut-off-failed', output, why },
    priority: 'high',
    latched: true,
    suppressedBy: [],
  });
}

/** While it stands. */
function failedAlarm(draft: Draft, output: string): AlarmFacts | undefined {
  return draft.alarms.find(({ id, active }) => active && id === failedId(output));
}

function failedId(output: string): string {
  return `cut-off-failed:${output}`;
}

function setCutOff(draft: Draft, cutOff: CutOffState): void {
  draft.cutOffs = draft.cutOffs.map((one) => (one.output === cutOff.output ? cutOff : one));
}

function tell(
  draft: Draft,
  output: string,
  change: CutOffEffect['change'],
  alarm: string | null = null,
  why = '',
): void {
  draft.tell({ kind: 'cut-off', atMs: draft.atMs, output, change, alarm, why });
}
