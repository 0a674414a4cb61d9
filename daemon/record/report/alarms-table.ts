import type { AlarmEffect } from '../../watch/effects.js';
import { alarmWords } from '../../watch/words.js';
import type { SessionHistory } from '../session/history.js';
import { spanWords } from '../session/time-of-day.js';
import { html, NOTHING, type Markup } from './html.js';
import { lengthClass } from './length-class.js';

/** Nobody reads more on paper. */
const MOST_ROWS = 200;

/** One alarm from its raising until it was normal again. */
interface Episode {
  readonly first: AlarmEffect;
  /** The gravest of it: the last time that it got worse. */
  worst: AlarmEffect;
  acknowledgedAtMs: number | null;
  returnedAtMs: number | null;
}

/** What alarmed, when, and what was done about it. */
export function alarmsTable(history: SessionHistory): Markup {
  const episodes = episodesOf(history.alarms);
  return html`<section>
    <h2>Alarms</h2>
    ${failedHooksNote(history)}
    ${
      episodes.length === 0
        ? html`<p>None was raised.</p>`
        : html`<table class="${lengthClass(episodes)}">
            <thead>
              <tr>
                <th scope="col">at</th>
                <th scope="col">priority</th>
                <th scope="col">what it said, and the response that it asked for</th>
                <th scope="col">what followed</th>
              </tr>
            </thead>
            <tbody>
              ${episodes.slice(0, MOST_ROWS).map((episode) => row(episode, history))}
            </tbody>
          </table>`
    }
    ${
      episodes.length <= MOST_ROWS
        ? NOTHING
        : html`<p class="small">${episodes.length - MOST_ROWS} later alarms are in the recording.</p>`
    }
  </section>`;
}

/** Somebody who should have been called wasn't. */
function failedHooksNote({ failedHooks }: SessionHistory): Markup {
  if (failedHooks.length === 0) return NOTHING;
  const names = [...new Set(failedHooks.map(({ hook, failed }) => `${hook}: ${failed ?? ''}`))];
  return html`<p class="small">
    Hooks that came to nothing, ${failedHooks.length} times: ${names.slice(0, 5).join('; ')}
  </p>`;
}

function row({ first, worst, acknowledgedAtMs, returnedAtMs }: Episode, { header }: SessionHistory): Markup {
  const { sentence, cure } = alarmWords(worst.alarm.cause, header.plan.prediction);
  const worse = worst === first ? '' : ` (worst, at ${spanWords(worst.atMs)})`;
  return html`<tr>
    <td class="nowrap">${spanWords(first.atMs)}</td>
    <td>${worst.alarm.priority}${first.alarm.firstUp ? ', first' : ''}</td>
    <td>${sentence}${worse}<br /><span class="small">${cure}</span></td>
    <td>
      ${acknowledgedAtMs === null ? 'never acknowledged' : `acknowledged ${spanWords(acknowledgedAtMs)}`}<br />${
        returnedAtMs === null ? 'still standing at the end' : `back within ${spanWords(returnedAtMs)}`
      }
    </td>
  </tr>`;
}

function episodesOf(alarms: readonly AlarmEffect[]): Episode[] {
  const episodes: Episode[] = [];
  const open = new Map<string, Episode>();
  for (const effect of alarms) {
    const { change, alarm, atMs } = effect;
    const known = open.get(alarm.id);
    if (change === 'raised' || known === undefined) {
      // One that another alarm explains is told with that one.
      if (alarm.suppressedBy.length > 0 || change !== 'raised') continue;
      const episode = { first: effect, worst: effect, acknowledgedAtMs: null, returnedAtMs: null };
      episodes.push(episode);
      open.set(alarm.id, episode);
    } else if (change === 'worse') known.worst = effect;
    else if (change === 'acknowledged') known.acknowledgedAtMs ??= atMs;
    else if (change === 'returned') known.returnedAtMs = atMs;
  }
  return episodes;
}
