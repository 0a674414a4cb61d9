import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { PointView } from '../../daemon/serve/messages.js';
import { firstLimits } from '../chart/domain.js';
import { formatDuration, formatNumber, formatLimit, formatRange, pointStyle } from '../format.js';
import { sentenceCase } from '../format.js';
import { goingWords } from '../going-words.js';
import { standingOf, standingWords, type Standing } from '../point-standing.js';
import { sharedStyles } from '../theme.js';
import { mark, markStyles } from './mark.js';
import { scale, scaleStyles } from './scale.js';
import { tell } from '../tell.js';

/** Bare metal this warm burns a hand within a minute; at 70 degrees C within a second (ISO 13732-1). */
const HOT_DEGREES_C = 51;

/** One test point: measured beside predicted. Pressing its name shows or hides its chart (`rm-choose`). */
export class RmPoint extends LitElement {
  static override properties = {
    point: { attribute: false },
    live: { type: Boolean },
    nowMs: { attribute: false },
    chosen: { type: Boolean },
    simulated: { type: Boolean },
  };
  declare point: PointView;
  declare live: boolean;
  declare nowMs: number;
  declare chosen: boolean;
  declare simulated: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    scaleStyles,
    css`
      .card {
        position: relative;
        height: 100%;
        padding: 0.6rem 0.85rem 0.7rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      .card:hover {
        border-color: var(--control-edge);
      }
      .card.chosen {
        box-shadow: inset 0 -0.25rem 0 var(--accent);
      }
      .card.outside,
      .card.overload,
      .card.unreadable {
        border-color: var(--outside);
        border-width: 2px;
        padding: calc(0.6rem - 1px) calc(0.85rem - 1px) calc(0.7rem - 1px);
      }
      .name {
        display: block;
        width: 100%;
        min-height: 1.6rem;
        padding: 0;
        border: 0;
        background: none;
        text-align: start;
        font-weight: 600;
        cursor: pointer;
      }
      .name::after {
        content: '';
        position: absolute;
        inset: 0;
        border-radius: inherit;
      }
      .name:focus-visible {
        outline: none;
      }
      .card:focus-within:has(:focus-visible) {
        outline: 3px solid var(--accent);
        outline-offset: 2px;
      }
      .reading {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        justify-content: space-between;
        gap: 0 0.75rem;
      }
      .value {
        font-size: 2rem;
        font-weight: 600;
        line-height: 1.2;
        letter-spacing: -0.02em;
      }
      .unit {
        font-size: 1.05rem;
        font-weight: 500;
        letter-spacing: 0;
        color: var(--quiet);
      }
      .verdict {
        display: inline-flex;
        align-items: center;
        gap: 0.4rem;
        font-weight: 600;
      }
      .old {
        color: var(--quiet);
        text-decoration: line-through;
        text-decoration-thickness: 2px;
      }
      .row {
        position: relative;
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0 0.6rem;
        height: 100%;
        padding: 0.3rem 0.2rem;
        border-top: 1px solid var(--edge);
        font-size: 0.9375rem;
      }
      .row .name {
        width: auto;
        flex: 1 1 9rem;
        font-weight: 500;
        min-height: 1.5rem;
      }
      .row.chosen {
        box-shadow: inset 0.25rem 0 0 var(--accent);
        padding-inline-start: 0.6rem;
      }
      .row:has(:focus-visible) {
        outline: 3px solid var(--accent);
      }
      .hot {
        margin-top: 0.25rem;
        font-weight: 600;
      }
      @media (forced-colors: active) {
        .card.chosen {
          border-bottom-width: 0.3rem;
        }
        .row.chosen {
          border-inline-start: 0.3rem solid;
        }
      }
      @media print {
        .card {
          break-inside: avoid;
        }
      }
    `,
  ];

  protected override render(): TemplateResult {
    const standing = standingOf(this.point, this.live);
    return standing === 'not-measured' ? this.#row(standing) : this.#card(standing);
  }

  #row(standing: Standing): TemplateResult {
    const { low, high } = this.point;
    return html`<div class="row ${this.chosen ? 'chosen' : ''}">
      ${this.#name()}
      <span class="number" id="about">predicted ${formatRange(low, high, pointStyle(this.point))}</span>
      <span class="verdict quiet small">${mark(standing)} ${standingWords(this.point, standing)}</span>
    </div>`;
  }

  #card(standing: Standing): TemplateResult {
    return html`<div class="card ${standing} ${this.chosen ? 'chosen' : ''}">
      ${this.#name()}
      <div id="about">
        <div class="reading">
          ${this.#value(standing)}
          <span class="verdict"
            >${mark(standing)} ${standingWords(this.point, standing)}${this.#age(standing)}</span
          >
        </div>
        ${scale(this.point, standing)}
        ${this.point.typed ? html`<p class="small quiet">typed by hand</p>` : nothing} ${this.#predicted()}
        ${this.#going(standing)} ${this.#hot(standing)}
      </div>
    </div>`;
  }

  #name(): TemplateResult {
    return html`<button
      class="name"
      aria-pressed=${this.chosen}
      aria-describedby="about"
      title=${`${this.chosen ? 'Hide' : 'Show'} the chart of ${this.point.label}`}
      @click=${() => this.#choose()}
    >
      ${sentenceCase(this.point.label)}
    </button>`;
  }

  #value(standing: Standing): TemplateResult {
    const style = pointStyle(this.point);
    const old = standing === 'stale' || standing === 'not-live';
    const { value } = this.point;
    return html`<span class="value number"
      ><span class=${old && value !== null ? 'old' : ''}
        >${value === null ? '—' : formatNumber(value, style)}</span
      >
      <span class="unit">${style.unitText}</span></span
    >`;
  }

  #age(standing: Standing): string {
    if (standing !== 'stale' || this.point.atMs === null) return '';
    return ` for ${formatDuration(this.nowMs - this.point.atMs)}`;
  }

  #predicted(): TemplateResult {
    const { low, high } = this.point;
    const style = pointStyle(this.point);
    return html`<p class="small quiet number">
      predicted
      ${formatRange(low, high, style)}${firstLimits(this.point).map(
        (limit) =>
          html`<br />${limit.side === 'high' ? 'limit' : 'lower limit'} ${formatLimit(limit.value, style)}`,
      )}
    </p>`;
  }

  /** Where a temperature is going, once that can be told. */
  #going(standing: Standing): TemplateResult | typeof nothing {
    const words = goingWords(this.point);
    if (words === null || standing === 'stale' || standing === 'not-live') return nothing;
    return html`<p class="small number">${words}</p>`;
  }

  #hot(standing: Standing): TemplateResult | typeof nothing {
    const { unit, value, id } = this.point;
    const hot = unit === 'degC' && value !== null && value >= HOT_DEGREES_C && !id.startsWith('ambient');
    if (!hot || standing === 'unreadable') return nothing;
    return html`<p class="hot small">
      ${this.simulated ? 'On a real bench: hot' : 'Hot'} enough to burn. Keep fingers off.
    </p>`;
  }

  #choose(): void {
    tell(this, 'rm-choose', this.point.id);
  }
}

customElements.define('rm-point', RmPoint);
