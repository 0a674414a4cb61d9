import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { MomentView } from '../../daemon/serve/job-views.js';
import type { AlarmView, PointView } from '../../daemon/serve/messages.js';
import { ALARM_STATE_WORDS, isAside, worstFirst } from '../alarm-order.js';
import {
  formatQuantity,
  formatRange,
  formatSessionTime,
  keepUnits,
  pointStyle,
  sentenceCase,
} from '../format.js';
import { standingOf, standingWords } from '../point-standing.js';
import { sharedStyles } from '../theme.js';
import { mark, markStyles } from './mark.js';

/** How everything stood at one moment of a recording: in the past, and nothing of it can be acted on. */
export class RmJobMoment extends LitElement {
  static override properties = {
    moment: { attribute: false },
    waiting: { type: Boolean },
  };
  declare moment: MomentView | null;
  declare waiting: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    css`
      .then {
        padding: 0.8rem 1rem 1rem;
        border: 2px dashed var(--control-edge);
        border-radius: 0.6rem;
      }
      .points {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(100%, 19rem), 1fr));
        gap: 0 2rem;
        margin-top: 0.5rem;
      }
      .points li {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto;
        gap: 0 0.8rem;
        padding: 0.4rem 0;
        border-top: 1px solid var(--edge);
      }
      .name {
        font-weight: 600;
      }
      .value {
        font-weight: 600;
        text-align: end;
      }
      .verdict {
        display: inline-flex;
        align-items: center;
        gap: 0.4rem;
        justify-content: flex-end;
      }
      .alarms {
        display: grid;
        gap: 0.5rem;
        margin-top: 0.6rem;
      }
      .alarms li {
        padding-inline-start: 0.8rem;
        border-inline-start: 0.3rem solid var(--outside);
      }
      .sentence {
        font-weight: 600;
      }
      h4 {
        margin: 0.9rem 0 0;
        font-size: 0.9375rem;
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<section class="then" aria-busy=${this.waiting}>
      ${this.moment === null ? html`<p>Reading how everything stood …</p>` : this.#then(this.moment)}
    </section>`;
  }

  #then({ atMs, points, alarms }: MomentView): TemplateResult {
    const measured = points.filter(({ measuredBy }) => measuredBy !== null);
    const rest = points.length - measured.length;
    return html`<h3>Then, ${formatSessionTime(atMs)} into the recording</h3>
      <p class="small quiet">Recorded, not live: the bench may stand otherwise now.</p>
      ${this.#alarms(worstFirst(alarms).filter((alarm) => !isAside(alarm)))}
      ${
        measured.length === 0
          ? html`<p class="small">Nothing was measured yet.</p>`
          : html`<ul class="points">
              ${measured.map((point) => row(point))}
            </ul>`
      }
      ${rest > 0 ? html`<p class="small quiet">${rest} more test points were not measured then.</p>` : nothing}`;
  }

  #alarms(alarms: readonly AlarmView[]): TemplateResult {
    if (alarms.length === 0) return html`<h4>No alarm stood then</h4>`;
    return html`<h4>${alarms.length === 1 ? '1 alarm stood' : `${alarms.length} alarms stood`} then</h4>
      <ul class="alarms">
        ${alarms.map(
          ({ sentence, priority, state, raisedAtMs }) =>
            html`<li>
              <p class="sentence number">${keepUnits(sentence)}</p>
              <p class="small quiet number">
                ${priority} priority, ${ALARM_STATE_WORDS[state]}, since ${formatSessionTime(raisedAtMs)}
              </p>
            </li>`,
        )}
      </ul>`;
  }
}

function row(point: PointView): TemplateResult {
  const style = pointStyle(point);
  const standing = standingOf(point, true);
  return html`<li>
    <span class="name">${sentenceCase(point.label)}</span>
    <span class="value number">${point.value === null ? '—' : formatQuantity(point.value, style)}</span>
    <span class="small quiet number">predicted ${formatRange(point.low, point.high, style)}</span>
    <span class="verdict small">${mark(standing)} ${standingWords(point, standing)}</span>
  </li>`;
}

customElements.define('rm-job-moment', RmJobMoment);
