import type { CheckView, ProcedureView, StepView } from '../../daemon/serve/messages.js';
import type { Standing } from '../point-standing.js';

/** How the supply is fed during a step, in words. */
export const FED: Readonly<Record<StepView['feeding'], string>> = {
  unplugged: 'plug out',
  'behind-lamp': 'behind the lamp',
  mains: 'on the mains',
};

/** The word for where a step stands, and the standing whose shape goes with it. */
export const STATUS: Readonly<Record<StepView['status'], readonly [Standing, string]>> = {
  waiting: ['not-measured', 'to come'],
  running: ['waiting', 'now'],
  ready: ['inside', 'all inside'],
  failed: ['outside', 'failed'],
  done: ['inside', 'done'],
  overridden: ['doubtful', 'overridden'],
  aborted: ['unreadable', 'broken off'],
  signed: ['inside', 'signed off'],
};

/** The step that is being done, or was when the walk ended; undefined before the first. */
export function currentStep({ current, steps }: ProcedureView): StepView | undefined {
  return steps.find(({ id }) => id === current);
}

/** `Step 4 of 11`. */
export function placeWords({ steps }: ProcedureView, step: StepView): string {
  return `Step ${steps.indexOf(step) + 1} of ${steps.length}`;
}

export function titleOf({ steps }: ProcedureView, id: string | null): string {
  return steps.find((step) => step.id === id)?.title ?? '';
}

/** The check whose turn it is: the first without an answer that is inside. */
export function openCheck({ checks }: StepView): CheckView | undefined {
  return checks.find(({ inside }) => inside !== true);
}

/** How many letters a text has, whatever the script. */
export function letterCount(text: string): number {
  return text.match(/\p{L}/gu)?.length ?? 0;
}
