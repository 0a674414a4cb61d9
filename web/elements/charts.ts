import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { PointView } from '../../daemon/serve/messages.js';
import type { Tracks } from '../chart/tracks.js';
import { trendWords } from '../chart/trend.js';
import { formatLimit, formatQuantity, formatRange, pointStyle, sentenceCase } from '../format.js';
import { standingOf, standingWords } from '../point-standing.js';
import { sharedStyles } from '../theme.js';
import { mark, markStyles } from './mark.js';
import './probe.js';
import '../chart/plot.js';

/** The stretches of time that can be shown, in minutes. */
export const WINDOW_MINUTES = [1, 5, 15] as const;
export type WindowMinutes = (typeof WINDOW_MINUTES)[number];

/** The last minutes of the chosen points. `rm-window` asks for another stretch, `rm-choose-again` for the first choice. */
export class RmCharts extends LitElement {
  static override properties = {
    points: { attribute: false },
    chosenByHand: { type: Boolean },
    channels: { attribute: false },
    tracks: { attribute: false },
    nowMs: { attribute: false },
    minutes: { attribute: false },
    live: { type: Boolean },
    leftOut: { attribute: false },
  };
  declare points: readonly PointView[];
  declare chosenByHand: boolean;
  declare channels: readonly string[];
  declare tracks: Tracks;
  declare nowMs: number;
  declare minutes: WindowMinutes;
  declare live: boolean;
  declare leftOut: number;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    css`
      .head,
      figcaption,
      .foot {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        justify-content: space-between;
        gap: 0.3rem 1rem;
      }
      .choice {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      .charts {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 22rem), 1fr));
        gap: 1.2rem;
        margin-top: 0.9rem;
      }
      figure {
        min-width: 0;
        padding: 0.8rem 1rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      .verdict {
        display: inline-flex;
        align-items: center;
        gap: 0.4rem;
        font-weight: 600;
      }
      rm-plot {
        position: relative;
        margin: 0.5rem 0;
      }
      summary {
        cursor: pointer;
        width: fit-content;
        min-height: 1.6rem;
        margin-top: 0.4rem;
      }
      details p {
        overflow-wrap: anywhere;
      }
      .note {
        margin-top: 0.3rem;
      }
      @media print {
        rm-probe {
          display: none;
        }
        figure {
          break-inside: avoid;
        }
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<div class="head">
        <h2>The last minutes</h2>
        <div class="choice">
          ${
            this.chosenByHand
              ? html`<button class="button" @click=${() => this.#tell('rm-choose-again')}>
                  All temperatures
                </button>`
              : nothing
          }
          <div class="choice" role="group" aria-label="Stretch of time">
            ${WINDOW_MINUTES.map((minutes) => this.#windowButton(minutes))}
          </div>
        </div>
      </div>
      <p class="note small quiet">${this.#note()}</p>
      <div class="charts">
        ${repeat(
          this.points,
          (point) => point.id,
          (point) => this.#figure(point),
        )}
      </div>`;
  }

  #note(): string {
    if (this.points.length === 0) return 'Press the name of a test point to see its last minutes here.';
    const move = 'Shaded: predicted. Switch off before you move a probe, then say here where it sits.';
    return this.leftOut > 0 ? `${move} This page was too slow for ${this.leftOut} readings.` : move;
  }

  #windowButton(minutes: WindowMinutes): TemplateResult {
    return html`<button
      class="button"
      aria-pressed=${this.minutes === minutes}
      @click=${() => this.#tell('rm-window', minutes)}
    >
      ${minutes} min
    </button>`;
  }

  #figure(point: PointView): TemplateResult {
    const standing = standingOf(point, this.live);
    const columns = this.tracks.of(point.id);
    const caption = this.#caption(point);
    return html`<figure id="chart-${point.id}">
      <figcaption>
        <h3>${sentenceCase(point.label)}</h3>
        <span class="verdict">${mark(standing)} ${standingWords(point, standing)}</span>
      </figcaption>
      <rm-plot
        .point=${point}
        .columns=${columns}
        .fromMs=${this.nowMs - this.minutes * 60_000}
        .toMs=${this.nowMs}
        ?live=${this.live}
        .description=${`Chart of ${point.label} over the last ${this.minutes} min. ${caption}`}
      ></rm-plot>
      <div class="foot">
        <p class="small number">${caption}</p>
        <rm-probe .point=${point} .channels=${this.channels} ?live=${this.live}></rm-probe>
      </div>
      ${basis(point)}
    </figure>`;
  }

  #caption(point: PointView): string {
    const style = pointStyle(point);
    const predicted = `predicted ${formatRange(point.low, point.high, style)}`;
    if (point.value === null) return `No reading now, ${predicted}.`;
    const value = formatQuantity(point.value, style);
    if (!this.live || point.stale) return `Last heard ${value}, ${predicted}.`;
    const trend = trendWords(point, this.tracks.of(point.id));
    return `${value}, ${predicted}${trend ? `, ${trend}` : ''}.`;
  }

  /** Brings the chart of a point into view. */
  reveal(point: string): void {
    this.renderRoot.querySelector(`[id="chart-${CSS.escape(point)}"]`)?.scrollIntoView({ block: 'nearest' });
  }

  #tell(name: string, detail?: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }
}

/** What the prediction and the limits rest on, for a person who wants to check. */
function basis(point: PointView): TemplateResult {
  const style = pointStyle(point);
  return html`<details class="small">
    <summary>What this rests on</summary>
    <p class="number">
      Typical ${formatQuantity(point.typical, style)}, ${formatRange(point.low, point.high, style)} for 95 in
      100 supplies built like this. ${point.formula}
    </p>
    ${point.limits.map(
      ({ side, value, why }) =>
        html`<p class="number">
          ${side === 'high' ? 'Limit' : 'Lower limit'} ${formatLimit(value, style)}: ${why}.
        </p>`,
    )}
  </details>`;
}

customElements.define('rm-charts', RmCharts);
