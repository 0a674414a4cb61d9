import type { StepMessage } from './serve/messages.js';
import { readAnswer } from './step-answer.js';
import type { StepEvent } from './watch/events.js';
import { whyNotStep } from './watch/procedure/refusal.js';
import { refusalWords } from './watch/procedure/words.js';
import type { WatchState } from './watch/state.js';

/** What a person wants of the power-up as its event, or why it can't be done, for a person. */
export type StepWanted =
  { readonly event: StepEvent; readonly why: null } | { readonly event: null; readonly why: string };

export function stepWanted(message: StepMessage, state: WatchState): StepWanted {
  const { procedure, prediction } = state.plan;
  const made = eventOf(message, state);
  if (typeof made === 'string') return { event: null, why: made };
  const refusal = whyNotStep(made, state);
  if (refusal === null) return { event: made, why: null };
  return { event: null, why: refusalWords(refusal, { procedure, prediction, alarms: state.alarms }) };
}

function eventOf(message: StepMessage, state: WatchState): StepEvent | string {
  const { nowMs: atMs, plan } = state;
  if (message.action !== 'answer') return { ...message, atMs };
  const { kind, step, action, check: id, text } = message;
  const check = plan.procedure?.steps.find((one) => one.id === step)?.checks.find((one) => one.id === id);
  // The core's refusal says that there is no such check.
  if (check === undefined) return { kind, atMs, step, action, check: id, answer: 'open' };
  const { answer, why } = readAnswer(text, check);
  return why === null ? { kind, atMs, step, action, check: id, answer } : why;
}
