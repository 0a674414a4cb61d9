import type { Check, Procedure, Step } from '../../procedure/step.js';
import type { Prediction } from '../../predict/prediction.js';
import type { AlarmFacts } from '../alarm.js';
import type { StepAnswer } from '../events.js';
import { pointLabel, subject } from '../point-words.js';
import { rangeWords, valueWords } from '../value-words.js';
import { alarmWords } from '../words.js';
import type { StepFailure, StepState } from './procedure-state.js';
import type { StepRefusal } from './refusal.js';

/** What words about a step are made from. */
export interface StepFacts {
  readonly procedure: Procedure | undefined;
  readonly prediction: Prediction;
  readonly alarms: readonly AlarmFacts[];
}

/** Why something can't be done now, and what can. */
export function refusalWords(refusal: StepRefusal, facts: StepFacts): string {
  const title = (id: string | null): string => titleOf(id, facts);
  switch (refusal.kind) {
    case 'no-procedure':
      return 'This session walks through no power-up; railminder powerup begins one.';
    case 'ended':
      return `The power-up is ${refusal.how === 'signed' ? 'signed off' : 'broken off'}; begin a new session to do it again.`;
    case 'not-begun':
      return `Nothing has begun yet; the first step is ${title(refusal.next)}.`;
    case 'unknown-step':
      return `There is no step ${refusal.step}.`;
    case 'not-next':
      return refusal.next === null
        ? 'This is the last step: sign off, or go back.'
        : `${title(refusal.step)} is not the next step; that is ${title(refusal.next)}.`;
    case 'not-current':
      return `${title(refusal.step)} is not the step that is being done; that is ${title(refusal.current)}.`;
    case 'not-done':
      return notDoneWords(refusal, facts);
    case 'alarm':
      return `Not while this alarm stands: ${alarmSentence(refusal.alarm, facts)}`;
    case 'unknown-check':
      return `${title(refusal.step)} has no check ${refusal.check}.`;
    case 'wrong-answer':
      return `That is no answer to ${askedWords(refusal.check, facts)}; it wants ${wantedWords(refusal.check, facts)}.`;
    case 'overridden':
      return `${title(refusal.step)} was overridden; go back to answer its checks.`;
    case 'vital':
      return `Going on against ${askedWords(refusal.check, facts)} can kill, so no reason overrides it. ${cureOf(refusal.check, facts)}`;
    case 'short-reason':
      return 'An override wants its reason in words, three letters at least; it goes into the record.';
    case 'short-name':
      return 'A signature wants a name, two letters at least.';
    case 'first-step':
      return 'There is no step before the first one.';
    case 'not-sign-off':
      return `${title(refusal.step)} is not the sign-off; that is the last step.`;
  }
}

/** Checks are counted, for their questions are long; test points are named. */
function notDoneWords(
  { step, missing }: Extract<StepRefusal, { kind: 'not-done' }>,
  facts: StepFacts,
): string {
  const points = missing.filter((id) => checkOf(id, facts) === undefined);
  const checks = missing.length - points.length;
  const calledShort = (id: string): string => pointLabel(facts.prediction, id).replace(/,.*/, '');
  const open = [
    ...(checks === 0
      ? []
      : [checks === 1 ? 'one check is not answered' : `${checks} checks are not answered`]),
    ...(points.length === 0 ? [] : [`not read: ${points.map(calledShort).join(', ')}`]),
  ];
  const still = open.length === 0 ? 'something in it is not inside' : open.join('; ');
  return `${titleOf(step, facts)} is not done (${still}). Finish it, or override it with a reason.`;
}

/** What is wrong with a step, and where to look. */
export function failureWords(failure: StepFailure, step: Step, state: StepState, facts: StepFacts): string {
  switch (failure.kind) {
    case 'check': {
      const check = step.checks.find(({ id }) => id === failure.check);
      const answer = state.answers[failure.check]?.answer;
      const said = check === undefined || answer === undefined ? '' : ` ${answerWords(check, answer)}`;
      const asked = check === undefined ? `${failure.check}:` : questionOf(check);
      return `${asked}${said}, wanted ${wantedOf(check)}. ${check?.whenWrong ?? ''}`.trim();
    }
    case 'point': {
      const called = subject(facts.prediction, failure.point);
      const band = step.bands[failure.point];
      const unit = step.points.find(({ point }) => point === failure.point)?.unit;
      const kept = state.captured[failure.point];
      if (band === undefined || unit === undefined || kept === undefined) return `${called} is outside.`;
      return `${called}: ${valueWords(kept.value, unit)} where ${bandWords(band, unit)} is expected.`;
    }
    case 'alarm':
      return alarmSentence(failure.alarm, facts);
  }
}

/** What a check asks, without what is said beside it. */
export function questionOf({ ask }: Check): string {
  return ask.slice(0, ask.indexOf('?') + 1) || ask;
}

/** `4.80 to 5.20 V`. */
export function bandWords(
  { low, high }: { readonly low: number; readonly high: number },
  unit: Parameters<typeof valueWords>[1],
): string {
  return rangeWords(low, high, unit);
}

/** What a person said to a check: `0.12 Ω`, `open`, `yes`. */
export function answerWords({ number, waiver }: Check, answer: StepAnswer): string {
  if (typeof answer === 'number') return number === null ? String(answer) : valueWords(answer, number.unit);
  return answer === 'waived' ? (waiver ?? 'not checked') : answer;
}

/** What a check wants to hear. */
export function wantedOf(check: Check | undefined): string {
  if (check === undefined) return 'something else';
  const { number, waiver } = check;
  const none = waiver === null ? '' : ` (or -: ${waiver})`;
  if (number === null) return `yes${none}`;
  const { low, high, unit } = number;
  if (low !== null && high !== null) return `${bandWords({ low, high }, unit)}${none}`;
  if (low !== null) return `${valueWords(low, unit)} or more${none}`;
  return `${high === null ? 'a number' : `${valueWords(high, unit)} or less`}${none}`;
}

function wantedWords(id: string, facts: StepFacts): string {
  return wantedOf(checkOf(id, facts));
}

function askedWords(id: string, facts: StepFacts): string {
  const check = checkOf(id, facts);
  return check === undefined ? id : `"${questionOf(check)}"`;
}

function cureOf(id: string, facts: StepFacts): string {
  return checkOf(id, facts)?.whenWrong ?? '';
}

function checkOf(id: string, { procedure }: StepFacts): Check | undefined {
  return procedure?.steps.flatMap(({ checks }) => checks).find((check) => check.id === id);
}

function titleOf(id: string | null, { procedure }: StepFacts): string {
  const step = procedure?.steps.find((one) => one.id === id);
  return step === undefined ? (id ?? '') : `"${step.title}"`;
}

function alarmSentence(id: string, { alarms, prediction }: StepFacts): string {
  const alarm = alarms.find((one) => one.id === id);
  if (alarm === undefined) return id;
  const { sentence, cure } = alarmWords(alarm.cause, prediction);
  return `${sentence} ${cure}`;
}
