import type { Limit } from '../../predict/prediction.js';
import type { Step, StepPoint } from '../../procedure/step.js';
import { bandVerdict, crossedLimit, halfWidth } from '../compare.js';
import type { Draft } from '../draft.js';
import type { Verdict } from '../effects.js';
import type { ReadingEvent, WatchEvent } from '../events.js';
import { isTemperature, predictionOf } from '../sample.js';
import type { Settling } from '../settling/settling.js';
import type { PointState } from '../state.js';
import { everythingLooksOff, tellsOnFromOff } from '../supply-off.js';
import { holdsUp } from './destroying.js';
import { missingOf } from './refusal.js';
import type { Captured, StepFailure, StepState, StepStatus } from './procedure-state.js';
import { standsInStep } from './stands-in-step.js';
import { currentStep, setCurrent, tellStep } from './take-step.js';

/** What one event means for the step that is being done: values kept, all inside, or something wrong. */
export function followProcedure(draft: Draft, event: WatchEvent): void {
  if (draft.procedure === null || draft.procedure.ended !== null) return;
  const current = currentStep(draft);
  if (current === null) return;
  noteOff(draft);
  const kept = event.kind === 'reading' && followReading(draft, event, current.step);
  if (kept || event.kind === 'step' || draft.alarmsChanged) judgeStep(draft);
}

/** What a supply reads that is switched off says nothing of the step. */
function noteOff(draft: Draft): void {
  const { procedure } = draft;
  if (procedure === null || !everythingLooksOff(draft)) return;
  if (procedure.seenOff && procedure.fromMs === null) return;
  draft.procedure = { ...procedure, seenOff: true, fromMs: null };
}

/**
 * Whether a reading may belong to the step before, or to a supply that is off. What a person types is meant for this
 * step; and where no instrument tells on from off, nobody can know.
 */
function isOfAnotherState(draft: Draft, { fromDead }: Step, typed: boolean): boolean {
  if (everythingLooksOff(draft)) return true;
  return fromDead && !typed && draft.procedure?.seenOff !== true && tellsOnFromOff(draft);
}

/** Returns whether a value was kept. */
function followReading(draft: Draft, { instrument, channel }: ReadingEvent, step: Step): boolean {
  const at = draft.channelAt(instrument, channel);
  const id = draft.channels[at]?.point ?? null;
  const asked = step.points.find(({ point }) => point === id);
  const point = id === null ? undefined : draft.points[draft.pointAt(id)];
  if (asked === undefined || point === undefined || point.channel !== at || point.value === null)
    return false;
  const typed = draft.plan.channels[at]?.typed === true;
  const { procedure } = draft;
  if (procedure === null || isOfAnotherState(draft, step, typed)) return false;
  const fromMs = procedure.fromMs ?? draft.atMs;
  if (procedure.fromMs === null) draft.procedure = { ...procedure, fromMs };
  const limits = predictionOf(draft.prediction, asked.point)?.limits ?? [];
  const isBeyond = crossedLimit(point.value, limits.filter(isAwayFromZero)) !== null;
  const inStep = { isTemperature: isTemperature(asked.unit), typed, fromMs, atMs: draft.atMs };
  if (!isBeyond && !standsInStep(point, inStep)) return false;
  const verdict = isBeyond ? 'outside' : verdictIn(draft, step, point, point.value, asked);
  if (verdict === null) return false;
  return keep(draft, asked, { value: point.value, atMs: draft.atMs, verdict }, point.settling);
}

/** A rail on its way up is below its lower limit for a moment. */
function isAwayFromZero({ side, value }: Limit): boolean {
  return side === 'high' ? value > 0 : value < 0;
}

/**
 * The step's own band counts. Where a temperature has arrived, one that is still as cold as before power is outside.
 * Null while other bands stand than the step's.
 */
function verdictIn(
  draft: Draft,
  step: Step,
  { verdict, channel }: PointState,
  value: number,
  { point, unit }: StepPoint,
): Verdict | null {
  if (!isTemperature(unit)) return draft.expecting?.step === step.id ? verdict : null;
  const band = step.bands[point];
  const guard = halfWidth(value, draft.plan.channels[channel ?? -1]?.accuracy);
  return band === undefined ? null : bandVerdict(value, band.low, band.high, guard);
}

/** Of a value that doesn't stand still, what still counts as the same: a share of it, or K. */
const SAME_SHARE = 0.01;
const SAME_K = 2;
/** Either end of what still counts as the same value. */
const ENDS = 2;

/** A value is kept once, until the point has moved away from it or is judged otherwise. */
function keep(
  draft: Draft,
  { point, unit }: StepPoint,
  captured: Captured,
  settling: Settling | null,
): boolean {
  const state = currentStep(draft)?.state;
  if (state === undefined || state.status === 'overridden') return false;
  const before = state.captured[point];
  const moving = Math.max(SAME_SHARE * Math.abs(captured.value), isTemperature(unit) ? SAME_K : 0);
  const same = settling?.kind === 'standing' ? ENDS * settling.tolerance : moving;
  const isSame = before?.verdict === captured.verdict && Math.abs(before.value - captured.value) <= same;
  if (isSame) return false;
  setCurrent(draft, { captured: { ...state.captured, [point]: captured } });
  tellStep(draft, 'captured');
  return true;
}

function judgeStep(draft: Draft): void {
  const current = currentStep(draft);
  if (current === null) return;
  const { step, state } = current;
  if (state.status !== 'running' && state.status !== 'ready' && state.status !== 'failed') return;
  const failures = failuresOf(draft, step, state);
  const status = statusOf(step, state, failures);
  const isSame = status === state.status && sameFailures(failures, state.failures);
  if (isSame) return;
  setCurrent(draft, { status, failures });
  if (status === 'ready') tellStep(draft, 'ready');
  else if (status === 'failed') tellStep(draft, 'failed');
  else tellStep(draft, 'resumed');
}

function failuresOf(draft: Draft, step: Step, { answers, captured }: StepState): StepFailure[] {
  return [
    ...step.checks
      .filter(({ id }) => answers[id]?.inside === false)
      .map(({ id }) => ({ kind: 'check', check: id }) as const),
    ...step.points
      .filter(({ point }) => captured[point]?.verdict === 'outside')
      .map(({ point }) => ({ kind: 'point', point }) as const),
    ...draft.alarms.filter(holdsUp).map(({ id }) => ({ kind: 'alarm', alarm: id }) as const),
  ];
}

function statusOf(step: Step, state: StepState, failures: readonly StepFailure[]): StepStatus {
  if (failures.length > 0) return 'failed';
  const isComplete = missingOf(step, state).length === 0;
  const isInside = step.points.every(({ point }) => state.captured[point]?.verdict === 'inside');
  return isComplete && isInside && step.gate !== 'signed' ? 'ready' : 'running';
}

function sameFailures(a: readonly StepFailure[], b: readonly StepFailure[]): boolean {
  return a.length === b.length && a.every((one, at) => subjectOf(one) === subjectOf(b[at]!));
}

function subjectOf(failure: StepFailure): string {
  switch (failure.kind) {
    case 'check':
      return `check ${failure.check}`;
    case 'point':
      return `point ${failure.point}`;
    case 'alarm':
      return `alarm ${failure.alarm}`;
  }
}
