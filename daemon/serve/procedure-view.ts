import type { Check, Step } from '../procedure/step.js';
import type { StepEvent } from '../watch/events.js';
import type { StepState } from '../watch/procedure/procedure-state.js';
import { whyNotStep } from '../watch/procedure/refusal.js';
import { answerWords, failureWords, refusalWords, wantedOf } from '../watch/procedure/words.js';
import type { WatchState } from '../watch/state.js';
import type { CheckView, ProcedureView, StepPointView, StepView } from './messages.js';

/** The power-up for the page; null in a session without one. */
export function procedureView(state: WatchState): ProcedureView | null {
  const { plan, procedure } = state;
  if (plan.procedure === undefined || procedure === null) return null;
  const { steps, afterAbort } = plan.procedure;
  const views = steps.flatMap((step, at) => {
    const standing = procedure.steps[at];
    return standing === undefined ? [] : [stepView(step, standing, state)];
  });
  const next = steps[procedure.at + 1]?.id ?? null;
  return {
    current: steps[procedure.at]?.id ?? null,
    ended: procedure.ended,
    signedBy: procedure.signedBy,
    afterAbort,
    next,
    whyNotNext: next === null ? null : whyNot({ step: next, action: 'begin' }, state),
    steps: views,
  };
}

type Wish = StepEvent extends infer E ? (E extends StepEvent ? Omit<E, 'kind' | 'atMs'> : never) : never;

function whyNot(wish: Wish, state: WatchState): string | null {
  const refusal = whyNotStep({ kind: 'step', atMs: state.nowMs, ...wish }, state);
  return refusal === null ? null : refusalWords(refusal, factsOf(state));
}

function factsOf({ plan, alarms }: WatchState) {
  return { procedure: plan.procedure, prediction: plan.prediction, alarms };
}

function stepView(step: Step, standing: StepState, state: WatchState): StepView {
  const { id, kind, title, feeding, actions, notYet, whenWrong } = step;
  const { status, beganAtMs, endedAtMs, reason, failures } = standing;
  return {
    id,
    kind,
    title,
    feeding,
    status,
    actions,
    notYet,
    whenWrong,
    beganAtMs,
    endedAtMs,
    reason,
    checks: step.checks.map((check) => checkView(check, standing)),
    points: step.points.flatMap(({ point, label, unit }) =>
      pointView({ point, label, unit }, step, standing),
    ),
    failures: failures.map((failure) => failureWords(failure, step, standing, factsOf(state))),
  };
}

function checkView(check: Check, { answers }: StepState): CheckView {
  const { id, ask, caution, reason, whenWrong, vital, waiver } = check;
  const answered = answers[id];
  return {
    id,
    ask,
    caution,
    wanted: wantedOf({ ...check, waiver: null }),
    answers: check.number === null ? 'yes-no' : 'number',
    waiver,
    vital,
    reason,
    whenWrong,
    answer: answered === undefined ? null : answerWords(check, answered.answer),
    inside: answered?.inside ?? null,
  };
}

function pointView(
  { point, label, unit }: Pick<StepPointView, 'point' | 'label' | 'unit'>,
  { bands }: Step,
  { captured }: StepState,
): StepPointView[] {
  const band = bands[point];
  if (band === undefined) return [];
  const { low, typical, high } = band;
  return [{ point, label, unit, low, typical, high, captured: captured[point] ?? null }];
}
