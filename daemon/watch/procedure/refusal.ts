import type { Check, Step } from '../../procedure/step.js';
import type { AlarmFacts } from '../alarm.js';
import type { StepEvent } from '../events.js';
import type { WatchPlan } from '../plan.js';
import { holdsUp, isDestroying } from './destroying.js';
import { opensTheWay, type ProcedureState, type StepState } from './procedure-state.js';

/** Why something can't be done in the power-up now. */
export type StepRefusal =
  | { readonly kind: 'no-procedure' }
  | { readonly kind: 'ended'; readonly how: 'aborted' | 'signed' }
  | { readonly kind: 'not-begun'; readonly next: string }
  | { readonly kind: 'unknown-step'; readonly step: string }
  | { readonly kind: 'not-next'; readonly step: string; readonly next: string | null }
  | { readonly kind: 'not-current'; readonly step: string; readonly current: string }
  | { readonly kind: 'not-done'; readonly step: string; readonly missing: readonly string[] }
  | { readonly kind: 'alarm'; readonly alarm: string }
  | { readonly kind: 'unknown-check'; readonly check: string; readonly step: string }
  | { readonly kind: 'wrong-answer'; readonly check: string }
  | { readonly kind: 'overridden'; readonly step: string }
  | { readonly kind: 'vital'; readonly check: string }
  | { readonly kind: 'short-reason' }
  | { readonly kind: 'short-name' }
  | { readonly kind: 'first-step' }
  | { readonly kind: 'not-sign-off'; readonly step: string };

/** What is looked at: the state, or the next one in the making. */
export interface Standing {
  readonly plan: WatchPlan;
  readonly procedure: ProcedureState | null;
  readonly alarms: readonly AlarmFacts[];
}

const LEAST_REASON_LETTERS = 3;
const LEAST_NAME_LETTERS = 2;

/** Null when it can be done. The core does nothing that this refuses. */
export function whyNotStep(event: StepEvent, standing: Standing): StepRefusal | null {
  const { procedure, plan } = standing;
  const steps = plan.procedure?.steps ?? [];
  if (procedure === null) return { kind: 'no-procedure' };
  if (procedure.ended !== null) return { kind: 'ended', how: procedure.ended };
  if (event.action === 'begin') return whyNotBegin(event.step, steps, procedure, standing);
  const current = steps[procedure.at];
  const state = procedure.steps[procedure.at];
  if (current === undefined || state === undefined) return { kind: 'not-begun', next: steps[0]?.id ?? '' };
  if (event.step !== current.id) return { kind: 'not-current', step: event.step, current: current.id };
  switch (event.action) {
    case 'answer':
      return whyNotAnswer(event, current, state);
    case 'override':
      return whyNotOverride(event.reason, current, state, standing.alarms);
    case 'back':
      return procedure.at === 0 ? { kind: 'first-step' } : null;
    case 'sign':
      return whyNotSign(event.name, current, standing.alarms);
    case 'abort':
      return null;
  }
}

function whyNotBegin(
  wanted: string,
  steps: readonly Step[],
  { at, steps: states }: ProcedureState,
  { alarms }: Standing,
): StepRefusal | null {
  const place = steps.findIndex(({ id }) => id === wanted);
  if (place < 0) return { kind: 'unknown-step', step: wanted };
  if (place !== at + 1) return { kind: 'not-next', step: wanted, next: steps[at + 1]?.id ?? null };
  const before = states[at];
  const step = steps[at];
  if (before !== undefined && step !== undefined && !opensTheWay(before)) {
    return { kind: 'not-done', step: step.id, missing: missingOf(step, before) };
  }
  const overridden = before?.status === 'overridden';
  const alarm = alarms.find(overridden ? isDestroying : holdsUp);
  return alarm === undefined ? null : { kind: 'alarm', alarm: alarm.id };
}

/** Checks that aren't answered and test points that aren't captured. */
export function missingOf(step: Step, state: StepState): string[] {
  return [
    ...step.checks.filter(({ id }) => !Object.hasOwn(state.answers, id)).map(({ id }) => id),
    ...step.points.filter(({ point }) => !Object.hasOwn(state.captured, point)).map(({ point }) => point),
  ];
}

function whyNotAnswer(
  { check: id, answer }: Extract<StepEvent, { action: 'answer' }>,
  step: Step,
  { status }: StepState,
): StepRefusal | null {
  if (status === 'overridden') return { kind: 'overridden', step: step.id };
  const check = step.checks.find((one) => one.id === id);
  if (check === undefined) return { kind: 'unknown-check', check: id, step: step.id };
  return takes(check, answer) ? null : { kind: 'wrong-answer', check: id };
}

function takes({ number, waiver }: Check, answer: unknown): boolean {
  if (answer === 'waived') return waiver !== null;
  if (number === null) return answer === 'yes' || answer === 'no';
  return answer === 'open' || (typeof answer === 'number' && Number.isFinite(answer));
}

function whyNotOverride(
  reason: string,
  { checks }: Step,
  { answers }: StepState,
  alarms: readonly AlarmFacts[],
): StepRefusal | null {
  if (letters(reason) < LEAST_REASON_LETTERS) return { kind: 'short-reason' };
  const destroying = alarms.find(isDestroying);
  if (destroying !== undefined) return { kind: 'alarm', alarm: destroying.id };
  const vital = checks.find(({ id, vital: isVital }) => isVital && answers[id]?.inside === false);
  return vital === undefined ? null : { kind: 'vital', check: vital.id };
}

function whyNotSign(name: string, { id, gate }: Step, alarms: readonly AlarmFacts[]): StepRefusal | null {
  if (gate !== 'signed') return { kind: 'not-sign-off', step: id };
  if (letters(name) < LEAST_NAME_LETTERS) return { kind: 'short-name' };
  const alarm = alarms.find(holdsUp);
  return alarm === undefined ? null : { kind: 'alarm', alarm: alarm.id };
}

function letters(text: string): number {
  return text.match(/\p{L}/gu)?.length ?? 0;
}
