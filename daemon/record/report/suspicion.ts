import type { Suspect } from '../../watch/suspects/judgement.js';
import type { NextPoint } from '../../watch/suspects/next-point.js';
import { HEALTHY } from '../../watch/suspects/clouds.js';
import {
  alikeWords,
  evidenceWords,
  parameterWords,
  suspectName,
  type LabelOf,
} from '../../watch/suspects/suspect-words.js';
import type { SessionHistory } from '../session/history.js';
import { spanWords } from '../session/time-of-day.js';
import { html, NOTHING, type Markup } from './html.js';

const MOST_EVIDENCE = 3;

/** What the settled readings spoke for when they were weighed last. */
export function suspicionSection({ suspicion, header }: SessionHistory): Markup {
  if (suspicion === null) return NOTHING;
  const { points } = header.plan.prediction;
  const labelOf: LabelOf = (point) => points[point]?.label ?? point;
  const { suspects, other, next, parameters, from, atMs } = suspicion;
  return html`<section class="keep">
    <h2>What the readings spoke for</h2>
    <p class="small">
      Weighed last at ${spanWords(atMs)}, from the settled readings at
      ${from.map((point) => labelOf(point)).join(', ')}. Known faults only; ${percent(other)} is kept for one
      that isn’t known.
    </p>
    <ul>
      ${suspects.map((suspect) => item(suspect, next, labelOf))}
    </ul>
    ${parameters.map((one) => html`<p>${parameterWords(one)}</p>`)}
  </section>`;
}

function item(suspect: Suspect, next: NextPoint | null, labelOf: LabelOf): Markup {
  const { title, about, fault, probability, evidence, action } = suspect;
  const why = evidence
    .slice(0, MOST_EVIDENCE)
    .map((one) => `${one.speaks === 'for' ? 'For' : 'Against'} it: ${evidenceWords(one, labelOf)}`);
  return html`<li>
    <b>${percent(probability)} ${suspectName({ title, about })}.</b> ${why.join(' ')}
    ${alikeWords(suspect, next) ?? ''} ${fault === HEALTHY ? '' : action.words}
  </li>`;
}

function percent(probability: number): string {
  return `${Math.min(99, Math.max(1, Math.round(100 * probability)))} %`;
}
