import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { MarkView, PointView } from '../../daemon/serve/messages.js';
import type { TimeAction, Timeline } from '../chart/timeline.js';
import type { Tracks } from '../chart/tracks.js';
import { trendWords } from '../chart/trend.js';
import {
  formatLimit,
  formatQuantity,
  formatRange,
  formatSessionTime,
  pointStyle,
  sentenceCase,
} from '../format.js';
import { goingWords } from '../going-words.js';
import { standingOf, standingWords } from '../point-standing.js';
import { sharedStyles } from '../theme.js';
import { mark, markStyles } from './mark.js';
import './probe.js';
import '../chart/plot.js';

/** The stretches of time that a press shows, in minutes. */
const WINDOWS: readonly (readonly [minutes: number, words: string])[] = [
  [1, '1 min'],
  [5, '5 min'],
  [15, '15 min'],
  [60, '1 h'],
  [Infinity, 'Whole session'],
];

const MOVES: readonly (readonly [action: TimeAction, words: string])[] = [
  ['earlier', 'Earlier'],
  ['later', 'Later'],
  ['closer', 'Zoom in'],
  ['wider', 'Zoom out'],
  ['now', 'Now'],
];

const MARK_WORDS: Readonly<Record<MarkView['kind'], string>> = {
  alarm: '▲ alarm',
  probe: '● probe',
  load: '■ load',
  step: '■ step',
  note: '◆ note',
};

/** Words follow the drawing at this pace while it is moved by hand. */
const CALM_MS = 200;

/** The chosen points over one shared time axis. `rm-choose-again` asks for the first choice. */
export class RmCharts extends LitElement {
  static override properties = {
    points: { attribute: false },
    chosenByHand: { type: Boolean },
    channels: { attribute: false },
    tracks: { attribute: false },
    timeline: { attribute: false },
    marks: { attribute: false },
    live: { type: Boolean },
    leftOut: { attribute: false },
  };
  declare points: readonly PointView[];
  declare chosenByHand: boolean;
  declare channels: readonly string[];
  declare tracks: Tracks;
  declare timeline: Timeline;
  declare marks: readonly MarkView[];
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
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 32rem), 1fr));
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
      .head {
        align-items: end;
      }
      .choice .button {
        min-height: 2.1rem;
        padding: 0.15rem 0.65rem;
      }
      .marks {
        display: grid;
        grid-template-columns: auto auto 1fr;
        gap: 0.1rem 0.9rem;
      }
      .marks li {
        display: contents;
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

  #calm: ReturnType<typeof setTimeout> | undefined;
  #leave: () => void = () => undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#leave = this.timeline.onMove(() => {
      this.#calm ??= setTimeout(() => {
        this.#calm = undefined;
        this.requestUpdate();
      }, CALM_MS);
    });
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#leave();
    clearTimeout(this.#calm);
    this.#calm = undefined;
  }

  protected override render(): TemplateResult {
    const { words } = this.timeline;
    return html`<div class="head">
        <h2>${sentenceCase(words)}</h2>
        <div class="choice" role="group" aria-label="Stretch of time">
          ${WINDOWS.map(([minutes, text]) => this.#windowButton(minutes, text))}
        </div>
        <div class="choice" role="group" aria-label="Move along the time">
          ${MOVES.map(
            ([action, text]) =>
              html`<button class="button" @click=${() => this.timeline.do(action)}>${text}</button>`,
          )}
          ${
            this.chosenByHand
              ? html`<button class="button" @click=${() => this.#tell('rm-choose-again')}>
                  All temperatures
                </button>`
              : nothing
          }
        </div>
      </div>
      <p class="note small quiet">${this.#note()}</p>
      <div class="charts">
        ${repeat(
          this.points,
          (point) => point.id,
          (point) => this.#figure(point),
        )}
      </div>
      ${this.#marksList()}`;
  }

  #note(): string {
    if (this.points.length === 0) return 'Press the name of a test point to see its chart here.';
    const move =
      'Shaded blue: predicted; the fan: where it is going, 90 %. Drag to move along the time, two fingers or ' +
      `Ctrl and wheel to come closer.${this.channels.length === 0 ? '' : ' Switch off before you move a probe, then say here where it sits.'}`;
    return this.leftOut > 0 ? `${move} This page was too slow for ${this.leftOut} readings.` : move;
  }

  #windowButton(minutes: number, words: string): TemplateResult {
    const { follows, lengthMs } = this.timeline;
    return html`<button
      class="button"
      aria-pressed=${follows && lengthMs === minutes * 60_000}
      @click=${() => this.timeline.show(minutes * 60_000)}
    >
      ${words}
    </button>`;
  }

  #marksList(): TemplateResult | typeof nothing {
    if (this.marks.length === 0) return nothing;
    const count = this.marks.length === 1 ? 'One mark' : `${this.marks.length} marks`;
    return html`<details class="small">
      <summary>${count} in the charts, the newest first</summary>
      <ol class="marks number">
        ${this.marks
          .toReversed()
          .map(
            ({ atMs, kind, words }) =>
              html`<li>
                <span>${formatSessionTime(atMs)}</span><span>${MARK_WORDS[kind]}</span><span>${words}</span>
              </li>`,
          )}
      </ol>
    </details>`;
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
        .timeline=${this.timeline}
        .marks=${marksOf(this.marks, point)}
        ?live=${this.live}
        .description=${`Chart of ${point.label}, ${this.timeline.words}. ${caption}`}
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
    const trend = goingWords(point) ?? trendWords(point, this.tracks.of(point.id));
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

/** What happened at a point, or to all of them. */
export function marksOf(marks: readonly MarkView[], { id }: PointView): readonly MarkView[] {
  return marks.filter(({ point }) => point === null || point === id);
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
