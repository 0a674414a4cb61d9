import type { Advice } from '../../predict/prediction.js';
import type { NoteEvent } from '../../watch/events.js';
import type { SessionHistory } from '../session/history.js';
import { spanWords, TimeOfDay } from '../session/time-of-day.js';
import { html, NOTHING, type Markup } from './html.js';
import { lengthClass } from './length-class.js';

const SEVERITY: Readonly<Record<Exclude<Advice['severity'], 'ready'>, string>> = {
  destroys: '■ destroys',
  misbehaves: '◐ misbehaves',
  note: '● note',
};

/** What the prediction warned of before power and the design still has. */
export function openAdvice({ header }: SessionHistory): Markup {
  const advice = header.plan.prediction.advice.flatMap(({ severity, ...rest }) =>
    severity === 'ready' ? [] : [{ severity, ...rest }],
  );
  if (advice.length === 0) return NOTHING;
  return html`<section>
    <h2>Advice that was open</h2>
    <table class="${lengthClass(advice)}">
      <thead>
        <tr>
          <th scope="col">it</th>
          <th scope="col">about</th>
          <th scope="col">finding, cure and where it comes from</th>
        </tr>
      </thead>
      <tbody>
        ${advice.map(
          ({ severity, about, sentence, cure, reason }) =>
            html`<tr>
              <td class="nowrap">${SEVERITY[severity]}</td>
              <td>${about}</td>
              <td>${sentence} ${cure}<br /><span class="small">${reason}</span></td>
            </tr>`,
        )}
      </tbody>
    </table>
  </section>`;
}

/**
 * What people wrote down, and where the clock was set.
 * @param photoBytes how much of the page photos may take; one that doesn't fit any more is told instead
 */
export function notesList({ notes, clocks, header }: SessionHistory, photoBytes: number): Markup {
  if (notes.length === 0 && clocks.length === 0) return NOTHING;
  const time = new TimeOfDay(header.startedAt);
  let leftBytes = photoBytes;
  const photoOf = ({ photo, text }: NoteEvent): Markup => {
    if (photo === undefined) return NOTHING;
    if (photo.base64.length > leftBytes) return photoLeftOut(photo);
    leftBytes -= photo.base64.length;
    return html`<figure>
      <img src="data:${photo.type};base64,${photo.base64}" alt="Photo with the note: ${text}" />
    </figure>`;
  };
  return html`<section>
    <h2>Notes</h2>
    ${notes.map(
      (note) =>
        html`<div class="keep">
          <p>
            <b>${spanWords(note.atMs)}</b> <span class="small">${time.words(note.atMs)}</span> ${note.text}
          </p>
          ${photoOf(note)}
        </div>`,
    )}
    ${clocks.map(
      ({ atMs, was, is }) =>
        html`<p>
          <b>${spanWords(atMs)}</b> The computer’s clock went from ${was} to ${is}. Times of day here go on
          from the start.
        </p>`,
    )}
  </section>`;
}

function photoLeftOut({ base64 }: NonNullable<NoteEvent['photo']>): Markup {
  const megabytes = ((base64.length * 3) / 4 / 1e6).toFixed(1);
  return html`<p class="small">
    Its photo of ${megabytes} MB would make this page too large. The recording has it: railminder export
    --json.
  </p>`;
}

/** What measured, how well as far as anybody stated it, and what went wrong with it. */
export function instrumentsTable({ instruments, header }: SessionHistory): Markup {
  return html`<section>
    <h2>Instruments</h2>
    <table class="${lengthClass(instruments)}">
      <thead>
        <tr>
          <th scope="col">instrument</th>
          <th scope="col">says that it is</th>
          <th scope="col">channels, with the accuracy that the bench file states</th>
          <th scope="col">dropped or refused</th>
          <th scope="col">calibrated until</th>
        </tr>
      </thead>
      <tbody>
        ${instruments.map(({ name, identity, faults }) => {
          const channels = header.plan.channels.filter(({ instrument }) => instrument === name);
          const counts = Object.entries(faults).map(([code, count]) => `${count} × ${code}`);
          return html`<tr>
            <td>${name}</td>
            <td>${identity ?? 'nothing'}</td>
            <td>
              ${channels.map(({ channel, accuracy }) => html`${channel}: ${accuracyWords(accuracy)}<br />`)}
            </td>
            <td>${counts.length === 0 ? 'none' : counts.join(', ')}</td>
            <td>……………………</td>
          </tr>`;
        })}
      </tbody>
    </table>
    <p class="small">
      No calibration is on record here: the accuracy is what the bench file states, taken from the maker’s
      figures, and holds for a calibrated instrument only. Fill in by hand what the certificates say.
    </p>
  </section>`;
}

function accuracyWords(accuracy: SessionHistory['header']['plan']['channels'][number]['accuracy']): string {
  if (accuracy === undefined) return 'not stated';
  const { percent, counts, resolution, ranges } = accuracy;
  // Through a sensor it has no one formula.
  if (ranges?.every((range) => range.percent === 0) === true) {
    const widths = ranges.map((range) => range.counts * (range.resolution ?? 0));
    const [least, most] = [Math.min(...widths), Math.max(...widths)].map((width) => width.toPrecision(2));
    return `± ${least} to ± ${most}, by the size of the reading`;
  }
  return `± (${percent} % of the reading + ${counts} × ${resolution ?? '?'})`;
}
