import type { Step } from '../../procedure/step.js';
import type { StepEffect } from '../../watch/effects.js';
import type { StepState, StepStatus } from '../../watch/procedure/procedure-state.js';
import { answerWords, bandWords, questionOf, wantedOf } from '../../watch/procedure/words.js';
import { valueWords } from '../../watch/value-words.js';
import type { SessionHistory } from '../session/history.js';
import { spanWords } from '../session/time-of-day.js';
import { html, NOTHING, type Markup } from './html.js';
import { lengthClass } from './length-class.js';
import { verdictMark } from './verdict-mark.js';

const STATUS: Readonly<Record<StepStatus, string>> = {
  waiting: '○ not reached',
  running: '◐ not finished',
  ready: '● inside',
  failed: '■ failed',
  done: '● done',
  overridden: '▲ overridden',
  aborted: '■ broken off',
  signed: '● signed off',
};

/** The walk through the power-up: each step, what it read, and who went on with which reason. */
export function powerUpSection({ header, procedure, steps: told }: SessionHistory): Markup {
  const plan = header.plan.procedure;
  if (plan === undefined || procedure === null || procedure.at < 0) return NOTHING;
  const { signedBy, ended } = procedure;
  const outcome =
    ended === 'signed'
      ? `Signed off by ${signedBy ?? ''}.`
      : ended === 'aborted'
        ? 'It was broken off.'
        : 'It was neither finished nor broken off.';
  return html`<section>
    <h2>Power-up</h2>
    <p><b>${outcome}</b></p>
    <table class="${lengthClass(plan.steps)}">
      <thead>
        <tr>
          <th scope="col">step</th>
          <th scope="col">from, to</th>
          <th scope="col">outcome</th>
          <th scope="col">what was found, and what was expected</th>
        </tr>
      </thead>
      <tbody>
        ${plan.steps.map((step, at) => row(step, procedure.steps[at], told))}
      </tbody>
    </table>
  </section>`;
}

function row(step: Step, state: StepState | undefined, told: readonly StepEffect[]): Markup {
  if (state === undefined) return NOTHING;
  const { beganAtMs, endedAtMs } = state;
  return html`<tr>
    <td>${step.title}</td>
    <td class="nowrap">
      ${beganAtMs === null ? '' : spanWords(beganAtMs)}<br />${endedAtMs === null ? '' : spanWords(endedAtMs)}
    </td>
    <td>${STATUS[state.status]}</td>
    <td>${checkLines(step, state)} ${pointLines(step, state)} ${remarks(step, told)}</td>
  </tr>`;
}

function checkLines({ checks }: Step, { answers }: StepState): Markup[] {
  return checks.flatMap((check) => {
    const answered = answers[check.id];
    if (answered === undefined) return [];
    const verdict = answered.inside ? 'inside' : 'outside';
    return [
      html`<div>
        ${questionOf(check)} ${answerWords(check, answered.answer)}
        <span class="small">(${wantedOf({ ...check, waiver: null })})</span> ${verdictMark(verdict)}
      </div>`,
    ];
  });
}

function pointLines({ points, bands }: Step, { captured }: StepState): Markup[] {
  return points.flatMap(({ point, unit }) => {
    const kept = captured[point];
    const band = bands[point];
    if (kept === undefined || band === undefined) return [];
    return [
      html`<div>
        ${point}: ${valueWords(kept.value, unit)}
        <span class="small">(${bandWords(band, unit)})</span> ${verdictMark(kept.verdict)}
      </div>`,
    ];
  });
}

/** Failures, overrides and what was done anew, with their times. */
function remarks({ id }: Step, told: readonly StepEffect[]): Markup[] {
  return told
    .filter(({ step }) => step === id)
    .flatMap(({ change, atMs, text }) => {
      const words = remarkWords(change, text);
      return words === null ? [] : [html`<div><b>${spanWords(atMs)}</b> ${words}</div>`];
    });
}

function remarkWords(change: StepEffect['change'], text: string): string | null {
  switch (change) {
    case 'failed':
      return 'failed';
    case 'overridden':
      return `overridden: ${text}`;
    case 'aborted':
      return text === '' ? 'broken off' : `broken off: ${text}`;
    case 'left':
      return 'left, to do the one before anew';
    case 'signed':
      return `signed off by ${text}`;
    case 'began':
    case 'answered':
    case 'captured':
    case 'ready':
    case 'resumed':
    case 'done':
      return null;
  }
}
