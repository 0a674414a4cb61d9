import { LitElement, css, html, type CSSResultGroup, type TemplateResult } from 'lit';
import { keepUnits } from '../format.js';
import type { Glance } from '../glance-line.js';
import type { Standing } from '../point-standing.js';
import { sharedStyles } from '../theme.js';
import { mark, markStyles } from './mark.js';

const TONE_SHAPES: Readonly<Record<Glance['tone'], Standing>> = {
  'not-live': 'not-live',
  high: 'outside',
  medium: 'outside',
  low: 'doubtful',
  watch: 'doubtful',
  well: 'inside',
  idle: 'waiting',
};

/** The one sentence in the largest type, to be read from across the bench. */
export class RmGlance extends LitElement {
  static override properties = { glance: { attribute: false }, compact: { type: Boolean } };
  declare glance: Glance;
  /** In small type, for a view that has other things to show; what to do stands there only when it must. */
  declare compact: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    css`
      .glance {
        display: grid;
        grid-template-columns: auto 1fr;
        column-gap: clamp(0.8rem, 2vw, 1.6rem);
        padding: clamp(1rem, 2.4vw, 2.2rem) var(--side);
        border-block: 1px solid var(--edge);
        background: var(--sheet);
      }
      .mark {
        width: clamp(1.5rem, 1rem + 2.2vw, 3.2rem);
        height: clamp(1.5rem, 1rem + 2.2vw, 3.2rem);
        margin-top: 0.2em;
      }
      .words {
        max-width: 100rem;
      }
      .sentence {
        font-size: clamp(1.45rem, 1rem + 2.1vw, 3.6rem);
        font-weight: 640;
        line-height: 1.16;
        letter-spacing: -0.018em;
        text-wrap: balance;
      }
      .cure {
        margin-top: 0.45em;
        font-size: clamp(1.05rem, 0.9rem + 0.6vw, 1.5rem);
        line-height: 1.35;
      }
      .well .cure,
      .idle .cure {
        color: var(--quiet);
        font-size: 1.05rem;
      }
      .high,
      .medium,
      .not-live {
        border-color: transparent;
      }
      .high {
        background: var(--high-fill);
        color: var(--on-high);
      }
      .high .mark {
        fill: var(--on-high);
        stroke: none;
      }
      .medium {
        background: var(--medium-fill);
        color: var(--on-medium);
      }
      .medium .mark {
        fill: var(--on-medium);
        stroke: none;
      }
      .low {
        background: var(--low-fill);
        color: var(--on-low);
      }
      .not-live {
        background: var(--not-live-fill);
        color: var(--on-not-live);
      }
      .not-live .mark {
        stroke: var(--on-not-live);
      }
      .not-live .mark .hollow {
        fill: none;
      }
      .compact {
        padding-block: 0.55rem;
      }
      .compact .mark {
        width: 1.25rem;
        height: 1.25rem;
        margin-top: 0.1em;
      }
      .compact .sentence {
        font-size: 1.0625rem;
        line-height: 1.3;
        letter-spacing: 0;
      }
      .compact .cure {
        margin-top: 0.15em;
        font-size: 0.9375rem;
      }
      .compact.well .cure,
      .compact.idle .cure {
        display: none;
      }
      @media (forced-colors: active) {
        .glance {
          border: 3px solid CanvasText;
        }
      }
      @media print {
        .glance {
          background: none;
          color: #000;
          border-block: 2px solid #000;
        }
        .glance .mark {
          fill: #000;
          stroke: #000;
        }
      }
    `,
  ];

  protected override render(): TemplateResult {
    const { tone, sentence, cure } = this.glance;
    return html`<div class="glance ${tone} ${this.compact ? 'compact' : ''}">
      ${mark(TONE_SHAPES[tone])}
      <div class="words">
        <p class="sentence number">${keepUnits(sentence)}</p>
        <p class="cure number">${keepUnits(cure)}</p>
      </div>
    </div>`;
  }
}

customElements.define('rm-glance', RmGlance);
