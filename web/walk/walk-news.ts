import type { ProcedureView, StepView } from '../../daemon/serve/messages.js';
import { formatQuantity, keepUnits, pointStyle, sentenceCase } from '../format.js';
import { currentStep, placeWords, titleOf } from './step-words.js';

/** Something of the power-up that is told to ears. */
export interface WalkNews {
  readonly words: string;
  /** What a voice goes on with; whoever reads has it on the page. */
  readonly more: readonly string[];
  /** It doesn't wait until something else has been said. */
  readonly urgent: boolean;
}

/** What changed in the power-up, to be heard; null when nothing did. What was there already is no news. */
export function walkNews(before: ProcedureView | null, now: ProcedureView | null): WalkNews | null {
  if (before === null || now === null) return null;
  if (now.ended !== before.ended) return endNews(now);
  const step = currentStep(now);
  if (step === undefined) return null;
  if (now.current !== before.current) return { ...calm(beginWords(now, step)), more: handWords(step) };
  const earlier = before.steps.find(({ id }) => id === step.id);
  return earlier === undefined ? null : stepNews(now, earlier, step);
}

function endNews({ ended, signedBy, afterAbort }: ProcedureView): WalkNews | null {
  if (ended === 'signed') return calm(`Signed off by ${signedBy ?? 'nobody'}.`);
  return ended === 'aborted' ? urgent(['Broken off.', ...afterAbort]) : null;
}

function beginWords(view: ProcedureView, step: StepView): string {
  const notYet = step.notYet.length === 0 ? '' : ` Do not connect yet: ${step.notYet.join('; ')}.`;
  return `${placeWords(view, step)}: ${step.title}.${notYet} ${step.actions[0]?.words ?? ''}`;
}

/** What the hand does after the first, and with each what it must mind. */
function handWords({ actions }: StepView): readonly string[] {
  return actions.flatMap(({ words, caution }, at) => [
    ...(at === 0 ? [] : [words]),
    ...(caution === null ? [] : [`Caution. ${caution}`]),
  ]);
}

function stepNews(view: ProcedureView, before: StepView, now: StepView): WalkNews | null {
  const failures = now.failures.filter((failure) => !before.failures.includes(failure));
  if (now.status === 'failed' && failures.length > 0) {
    return urgent(['Failed.', ...failures.map(keepUnits)]);
  }
  const words = [...keptWords(before, now), ...statusWords(view, before, now)];
  return words.length === 0 ? null : calm(words.join(' '));
}

function keptWords(before: StepView, now: StepView): readonly string[] {
  return now.points.flatMap((point) => {
    const { captured, label } = point;
    const earlier = before.points.find((one) => one.point === point.point)?.captured;
    if (captured === null || captured.atMs === earlier?.atMs) return [];
    return [
      `${sentenceCase(label)} ${formatQuantity(captured.value, pointStyle(point))}, ${captured.verdict}.`,
    ];
  });
}

function statusWords(view: ProcedureView, before: StepView, now: StepView): readonly string[] {
  if (before.status === now.status) return [];
  const next = view.next === null ? '' : `The next step may begin: ${titleOf(view, view.next)}.`;
  if (now.status === 'ready') return [`All of it is inside. ${next}`];
  if (now.status === 'overridden') return [`Overridden. ${next}`];
  return before.status === 'failed' ? ['No longer wrong, but not complete yet.'] : [];
}

function calm(words: string): WalkNews {
  return { words, more: [], urgent: false };
}

function urgent(words: readonly string[]): WalkNews {
  return { words: words.join(' '), more: [], urgent: true };
}
