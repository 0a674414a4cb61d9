import type { CutOffEffect } from '../../watch/effects.js';
import { CUT_OFF_CAUTION, cutOffWords } from '../../watch/cut-off-words.js';
import { alarmWords } from '../../watch/words.js';
import type { SessionHistory } from '../session/history.js';
import { spanWords } from '../session/time-of-day.js';
import { html, NOTHING, type Markup } from './html.js';

/** Nobody reads more on paper. */
const MOST_ROWS = 200;

type CutOffHistory = Pick<SessionHistory, 'cutOffs' | 'alarms' | 'header'>;

/** What was done with the cut-offs, by whom or what, and what came of it. */
export function cutOffList(history: CutOffHistory): Markup {
  const { cutOffs } = history;
  if (cutOffs.length === 0) return NOTHING;
  return html`<section>
    <h2>Cut-off</h2>
    <p class="small">${CUT_OFF_CAUTION}</p>
    <ul>
      ${cutOffs
        .slice(0, MOST_ROWS)
        .map(
          (effect) =>
            html`<li><b>${spanWords(effect.atMs)}</b> ${cutOffWords(effect, spokenOf(effect, history))}</li>`,
        )}
    </ul>
    ${
      cutOffs.length <= MOST_ROWS
        ? NOTHING
        : html`<p class="small">${cutOffs.length - MOST_ROWS} later ones are in the recording.</p>`
    }
  </section>`;
}

/** What the alarm said at that moment, short. */
function spokenOf({ alarm: id, atMs }: CutOffEffect, { alarms, header }: CutOffHistory): string | null {
  const said = alarms.findLast(({ alarm, atMs: saidAtMs }) => alarm.id === id && saidAtMs <= atMs);
  return said === undefined ? id : alarmWords(said.alarm.cause, header.plan.prediction).spoken;
}
