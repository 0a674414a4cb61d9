import type { Check, Step } from '../../procedure/step.js';
import type { Draft } from '../draft.js';
import type { StepEffect } from '../effects.js';
import type { StepAnswer, StepEvent } from '../events.js';
import { waitingStep, type ProcedureState, type StepState } from './procedure-state.js';
import { whyNotStep } from './refusal.js';

/** What a person does in the power-up. What can't be done now changes nothing. */
export function takeStep(draft: Draft, event: StepEvent): void {
  const { procedure } = draft;
  if (procedure === null || whyNotStep(event, draft) !== null) return;
  switch (event.action) {
    case 'begin':
      return beginStep(draft, procedure);
    case 'answer':
      return answerCheck(draft, event.check, event.answer);
    case 'override':
      return endStep(draft, 'overridden', event.reason);
    case 'back':
      return goBack(draft, procedure);
    case 'abort':
      endStep(draft, 'aborted', event.reason);
      draft.procedure = { ...(draft.procedure ?? procedure), ended: 'aborted' };
      return;
    case 'sign':
      endStep(draft, 'signed', event.name);
      draft.procedure = { ...(draft.procedure ?? procedure), ended: 'signed', signedBy: event.name };
      return;
  }
}

/** The step that is being done; null before the first. */
export function currentStep({ plan, procedure }: Pick<Draft, 'plan' | 'procedure'>): {
  readonly step: Step;
  readonly state: StepState;
} | null {
  const step = plan.procedure?.steps[procedure?.at ?? -1];
  const state = procedure?.steps[procedure.at];
  return step === undefined || state === undefined ? null : { step, state };
}

export function setCurrent(draft: Draft, change: Partial<StepState>): void {
  if (draft.procedure === null) return;
  draft.procedure = withStep(draft.procedure, draft.procedure.at, change);
}

export function tellStep(draft: Draft, change: StepEffect['change'], text = ''): void {
  const current = currentStep(draft);
  if (current === null) return;
  const { id, captured, failures } = current.state;
  draft.tell({ kind: 'step', atMs: draft.atMs, step: id, change, captured, failures, text });
}

function withStep(procedure: ProcedureState, at: number, change: Partial<StepState>): ProcedureState {
  const steps = procedure.steps.map((step, place) => (place === at ? { ...step, ...change } : step));
  return { ...procedure, steps };
}

function beginStep(draft: Draft, procedure: ProcedureState): void {
  if (currentStep(draft)?.state.status === 'ready') {
    setCurrent(draft, { status: 'done', endedAtMs: draft.atMs });
    tellStep(draft, 'done');
  }
  startAt(draft, draft.procedure ?? procedure, procedure.at + 1);
  tellStep(draft, 'began');
}

function startAt(draft: Draft, procedure: ProcedureState, at: number): void {
  const fresh = { status: 'running', beganAtMs: draft.atMs } as const;
  draft.procedure = withStep({ ...procedure, at, seenOff: false, fromMs: draft.atMs }, at, fresh);
}

/** The step before is done anew, and so is all behind it. */
function goBack(draft: Draft, procedure: ProcedureState): void {
  tellStep(draft, 'left');
  const before = procedure.at - 1;
  const steps = procedure.steps.map((step, place) => (place >= before ? waitingStep(step) : step));
  startAt(draft, { ...procedure, steps }, before);
  tellStep(draft, 'began');
}

function endStep(draft: Draft, status: 'overridden' | 'aborted' | 'signed', text: string): void {
  const reason = status === 'signed' ? null : text;
  setCurrent(draft, { status, endedAtMs: draft.atMs, reason });
  tellStep(draft, status, text);
}

function answerCheck(draft: Draft, id: string, answer: StepAnswer): void {
  const current = currentStep(draft);
  const check = current?.step.checks.find((one) => one.id === id);
  if (current === null || check === undefined) return;
  const answered = { answer, atMs: draft.atMs, inside: isInside(check, answer) };
  setCurrent(draft, { answers: { ...current.state.answers, [id]: answered } });
  tellStep(draft, 'answered');
}

/** An open circuit is more ohms than any limit. */
function isInside({ number }: Check, answer: StepAnswer): boolean {
  if (answer === 'waived' || answer === 'yes') return true;
  if (answer === 'no' || number === null) return false;
  const value = answer === 'open' ? Infinity : answer;
  return value >= (number.low ?? -Infinity) && value <= (number.high ?? Infinity);
}
