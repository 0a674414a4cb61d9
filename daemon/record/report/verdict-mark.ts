import type { Verdict } from '../../watch/effects.js';
import { html, type Markup } from './html.js';

/** Shape and word beside the colour: a copier knows no colours. */
export const MARKS: Readonly<Record<Verdict, string>> = { inside: '●', doubtful: '◐', outside: '■' };

export function verdictMark(verdict: Verdict | null): Markup {
  if (verdict === null) return html`<span class="verdict none">not judged</span>`;
  return html`<span class="verdict ${verdict}">${MARKS[verdict]} ${verdict}</span>`;
}
