import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { AlarmView } from '../../daemon/serve/messages.js';
import { ALARM_STATE_WORDS, awaitsAcknowledge, isAside, worstFirst } from '../alarm-order.js';
import { formatSessionTime, keepUnits } from '../format.js';
import { sharedStyles } from '../theme.js';

/** An alarm to be put aside for so long; null: to be taken up again. */
export interface Shelving {
  readonly alarm: string;
  readonly minutes: number | null;
}

/** The alarms, worst first, each with its cure and its acknowledge button (`rm-acknowledge` with the id). */
export class RmAlarms extends LitElement {
  static override properties = {
    alarms: { attribute: false },
    live: { type: Boolean },
    everLive: { type: Boolean },
    keys: { type: Boolean },
    mayAct: { type: Boolean },
  };
  declare alarms: readonly AlarmView[];
  declare live: boolean;
  declare everLive: boolean;
  declare keys: boolean;
  declare mayAct: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .head {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        gap: 0 1rem;
      }
      ol {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(100%, 26rem), 1fr));
        gap: 0.8rem;
        margin-top: 0.8rem;
      }
      .alarm {
        display: grid;
        grid-template-columns: auto 1fr;
        column-gap: 0.9rem;
        padding: 0.8rem 1rem 0.9rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      .alarm.waits {
        border: 2px solid var(--ink);
      }
      .old .alarm {
        border-style: dashed;
        border-color: var(--control-edge);
        background: none;
      }
      .rank {
        width: 2.2rem;
        height: 2.2rem;
      }
      .rank path {
        stroke: var(--ink);
        stroke-width: 1.1;
      }
      .high .rank path {
        fill: var(--outside);
      }
      .medium .rank path {
        fill: var(--doubtful);
      }
      .low .rank path {
        fill: var(--wash);
      }
      .rank text {
        fill: #14181c;
        font: 700 12px var(--font);
        text-anchor: middle;
      }
      .low .rank text {
        fill: var(--ink);
      }
      .sentence {
        font-weight: 650;
        font-size: 1.0625rem;
      }
      .foot {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        justify-content: space-between;
        gap: 0.5rem 1rem;
        margin-top: 0.6rem;
      }
      @media (forced-colors: active) {
        .alarm .rank path {
          fill: Canvas;
        }
        .alarm .rank text {
          fill: CanvasText;
        }
      }
      .buttons {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      details {
        margin-top: 0.8rem;
      }
      summary {
        cursor: pointer;
        font-weight: 600;
        width: fit-content;
        min-height: 1.75rem;
      }
    `,
  ];

  protected override render(): TemplateResult {
    const all = worstFirst(this.alarms);
    const open = all.filter((alarm) => !isAside(alarm));
    const aside = all.filter(isAside);
    return html`<div class="head">
        <h2>${this.#count(open.length)}</h2>
        <p class="quiet small">${this.#note(open)}</p>
      </div>
      ${this.#list(open)}
      ${
        aside.length > 0
          ? html`<details>
              <summary>${aside.length} put aside: shelved, or explained by another alarm</summary>
              ${this.#list(aside)}
            </details>`
          : nothing
      }`;
  }

  #count(open: number): string {
    if (!this.everLive) return 'Alarms';
    const words = open === 0 ? 'No alarms' : open === 1 ? '1 alarm' : `${open} alarms`;
    return this.live ? words : `${words} when last heard`;
  }

  #note(open: readonly AlarmView[]): TemplateResult | string {
    if (!this.everLive) return 'What goes wrong will be listed here with what to do about it.';
    if (!this.live) return 'The bench may have changed since.';
    if (open.length === 0) return 'What goes wrong is listed here with what to do about it.';
    if (!open.some(awaitsAcknowledge) || !this.keys || !this.mayAct) return '';
    return html`<kbd>a</kbd> acknowledges the first one that waits`;
  }

  #list(alarms: readonly AlarmView[]): TemplateResult | typeof nothing {
    if (alarms.length === 0) return nothing;
    return html`<ol class=${this.live ? '' : 'old'}>
      ${repeat(
        alarms,
        (alarm) => alarm.id,
        (alarm) => this.#alarm(alarm),
      )}
    </ol>`;
  }

  #alarm(alarm: AlarmView): TemplateResult {
    const waits = awaitsAcknowledge(alarm);
    return html`<li class="alarm ${alarm.priority} ${waits ? 'waits' : ''}">
      ${rankShape(alarm.priority)}
      <div>
        <p class="sentence number">${keepUnits(alarm.sentence)}</p>
        <p class="number">${keepUnits(alarm.cure)}</p>
        ${
          alarm.explainedBy.length > 0
            ? html`<p class="small">Explained by: ${alarm.explainedBy.join('; ')}.</p>`
            : nothing
        }
        <div class="foot">
          <p class="quiet small number">
            ${alarm.priority} priority, ${ALARM_STATE_WORDS[alarm.state]}, since
            ${formatSessionTime(alarm.raisedAtMs)}${alarm.firstUp ? ', the first of this trouble' : ''}${
              alarm.shelvedUntilMs === null
                ? ''
                : `, put aside until ${formatSessionTime(alarm.shelvedUntilMs)}`
            }
          </p>
          ${this.mayAct ? this.#buttons(alarm, waits) : nothing}
        </div>
      </div>
    </li>`;
  }

  #buttons(alarm: AlarmView, waits: boolean): TemplateResult {
    return html`<div class="buttons">
      ${this.#shelveButton(alarm)}
      ${waits || alarm.state === 'latched-acknowledged' ? this.#button(alarm) : nothing}
    </div>`;
  }

  /** A latched alarm that was acknowledged before it returned takes one more press: its reset. */
  #button(alarm: AlarmView): TemplateResult {
    const action = alarm.state === 'latched-acknowledged' ? 'Reset' : 'Acknowledge';
    return html`<button
      class="button strong"
      ?disabled=${!this.live}
      aria-label=${`${action}: ${alarm.spoken}`}
      @click=${() => this.#acknowledge(alarm)}
    >
      ${this.live ? action : `${action} (not live)`}
    </button>`;
  }

  /** Puts it aside for the longest that is allowed, or takes it up again. It stays in the list either way. */
  #shelveButton(alarm: AlarmView): TemplateResult | typeof nothing {
    if (alarm.state === 'suppressed') return nothing;
    const isShelved = alarm.shelvedUntilMs !== null;
    const words = isShelved ? 'Take up again' : `Put aside for ${spanWords(alarm.shelveMinutes)}`;
    return html`<button
      class="button"
      ?disabled=${!this.live}
      aria-label=${`${words}: ${alarm.spoken}`}
      @click=${() => this.#shelve(alarm.id, isShelved ? null : alarm.shelveMinutes)}
    >
      ${words}
    </button>`;
  }

  #shelve(alarm: string, minutes: number | null): void {
    const detail: Shelving = { alarm, minutes };
    this.dispatchEvent(new CustomEvent('rm-shelve', { detail, bubbles: true, composed: true }));
  }

  #acknowledge(alarm: AlarmView): void {
    this.dispatchEvent(
      new CustomEvent('rm-acknowledge', { detail: alarm.id, bubbles: true, composed: true }),
    );
  }
}

function spanWords(minutes: number): string {
  return minutes < 60 ? `${minutes} min` : `${minutes / 60} h`;
}

/** A shape for each priority with its number: 1 octagon, 2 triangle, 3 rounded square. */
function rankShape(priority: AlarmView['priority']): TemplateResult {
  const shapes = {
    high: { path: 'M7 1H17L23 7V17L17 23H7L1 17V7Z', rank: '1', y: 16.2 },
    medium: { path: 'M12 1.5 23.2 21.5H.8Z', rank: '2', y: 19 },
    low: { path: 'M5 2H19Q22 2 22 5V19Q22 22 19 22H5Q2 22 2 19V5Q2 2 5 2Z', rank: '3', y: 16.2 },
  };
  const { path, rank, y } = shapes[priority];
  return html`<svg class="rank" viewBox="0 0 24 24" aria-hidden="true">
    <path d=${path} />
    <text x="12" y=${y}>${rank}</text>
  </svg>`;
}

customElements.define('rm-alarms', RmAlarms);
