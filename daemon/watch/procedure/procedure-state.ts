import type { Procedure, Step } from '../../procedure/step.js';
import type { Verdict } from '../effects.js';
import type { StepAnswer } from '../events.js';

/** How far a power-up has come. */
export interface ProcedureState {
  /** Place of the step that is being done; -1 before the first. */
  readonly at: number;
  readonly ended: 'aborted' | 'signed' | null;
  readonly signedBy: string | null;
  /** In the order of the plan. */
  readonly steps: readonly StepState[];
  /** The supply was off since the step began. */
  readonly seenOff: boolean;
  /** Since when what is read belongs to the step: it began, or the supply came on in it. Null: the supply is off. */
  readonly fromMs: number | null;
}

/** `ready`: all is inside, and the next step may begin; it is `done` once that has. */
export type StepStatus =
  'waiting' | 'running' | 'ready' | 'failed' | 'done' | 'overridden' | 'aborted' | 'signed';

export interface StepState {
  readonly id: string;
  readonly status: StepStatus;
  readonly beganAtMs: number | null;
  readonly endedAtMs: number | null;
  /** By check. */
  readonly answers: Readonly<Record<string, Answered>>;
  /** By test point. */
  readonly captured: Readonly<Record<string, Captured>>;
  readonly failures: readonly StepFailure[];
  /** Why it was overridden, or the power-up broken off; null: neither. */
  readonly reason: string | null;
}

export interface Answered {
  readonly answer: StepAnswer;
  readonly atMs: number;
  readonly inside: boolean;
}

/** What a test point read when it stood still, in its unit. */
export interface Captured {
  readonly value: number;
  readonly atMs: number;
  readonly verdict: Verdict;
}

export type StepFailure =
  | { readonly kind: 'check'; readonly check: string }
  | { readonly kind: 'point'; readonly point: string }
  | { readonly kind: 'alarm'; readonly alarm: string };

const UNTOUCHED = {
  status: 'waiting',
  beganAtMs: null,
  endedAtMs: null,
  answers: {},
  captured: {},
  failures: [],
  reason: null,
} as const;

export function waitingStep({ id }: Pick<Step, 'id'>): StepState {
  return { id, ...UNTOUCHED };
}

export function beginProcedure({ steps }: Procedure): ProcedureState {
  return { at: -1, ended: null, signedBy: null, steps: steps.map(waitingStep), seenOff: false, fromMs: null };
}

/** The next step may begin behind it. */
export function opensTheWay({ status }: StepState): boolean {
  return status === 'ready' || status === 'done' || status === 'overridden';
}
