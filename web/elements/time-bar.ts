import { LitElement, css, html, svg, type CSSResultGroup, type TemplateResult } from 'lit';
import type { MarkView } from '../../daemon/serve/job-views.js';
import { formatSessionTime } from '../format.js';
import { MARK_WORDS, nextMark, previousMark } from '../job/marks.js';
import { sharedStyles } from '../theme.js';
import { tell } from '../tell.js';

export const SPEEDS = [1, 10, 100] as const;
export type PlaySpeed = (typeof SPEEDS)[number];

/** So many marks are drawn; on a screen more are one dark bar. */
const MOST_DRAWN = 300;

/**
 * Goes through the time of a recording. `rm-moment` (ms) goes to a moment, `rm-play` starts or stops, `rm-speed` plays
 * at another speed.
 */
export class RmTimeBar extends LitElement {
  static override properties = {
    atMs: { attribute: false },
    lengthMs: { attribute: false },
    marks: { attribute: false },
    playing: { type: Boolean },
    speed: { attribute: false },
  };
  declare atMs: number;
  declare lengthMs: number;
  declare marks: readonly MarkView[];
  declare playing: boolean;
  declare speed: PlaySpeed;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .bar {
        padding: 0.6rem 1rem 0.7rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      .ticks {
        display: block;
        width: calc(100% - 1rem);
        height: 0.9rem;
        margin-inline: 0.5rem;
        overflow: visible;
      }
      .ticks rect {
        fill: var(--control-edge);
      }
      .ticks path {
        fill: var(--outside);
        stroke: var(--ink);
        stroke-width: 0.8;
      }
      input {
        display: block;
        width: 100%;
        height: 1.75rem;
        margin: 0;
        accent-color: var(--accent);
        cursor: pointer;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.5rem 0.9rem;
        margin-top: 0.35rem;
      }
      .group {
        display: flex;
        flex-wrap: wrap;
        gap: 0.4rem;
      }
      .time {
        font-weight: 650;
        min-width: 9.5rem;
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<div class="bar" role="group" aria-label="Time of the recording">
      ${this.#ticks()}
      <input
        type="range"
        min="0"
        max=${Math.max(1, this.lengthMs)}
        step="1000"
        .value=${String(this.atMs)}
        aria-label="Moment of the recording"
        aria-valuetext=${`${formatSessionTime(this.atMs)} of ${formatSessionTime(this.lengthMs)}`}
        @input=${(event: InputEvent) => tell(this, 'rm-moment', (event.target as HTMLInputElement).valueAsNumber)}
      />
      <div class="row">
        <p class="time number">
          ${formatSessionTime(this.atMs)}
          <span class="quiet">of ${formatSessionTime(this.lengthMs)}</span>
        </p>
        <div class="group">
          <button class="button strong" @click=${() => tell(this, 'rm-play')}>
            ${this.playing ? 'Pause' : 'Play'}
          </button>
          ${this.#jump(
            html`<span aria-hidden="true">‹</span> Event before`,
            previousMark(this.marks, this.atMs),
          )}
          ${this.#jump(html`Next event <span aria-hidden="true">›</span>`, nextMark(this.marks, this.atMs))}
        </div>
        <div class="group" role="group" aria-label="Speed of playing">
          ${SPEEDS.map(
            (speed) =>
              html`<button
                class="button"
                aria-pressed=${this.speed === speed}
                @click=${() => tell(this, 'rm-speed', speed)}
              >
                ${speed}×
              </button>`,
          )}
        </div>
      </div>
    </div>`;
  }

  #ticks(): TemplateResult {
    return html`<svg class="ticks" aria-hidden="true">
      ${this.marks.slice(0, MOST_DRAWN).map(({ atMs, kind }) => {
        const at = `${(100 * atMs) / Math.max(1, this.lengthMs)}%`;
        return kind === 'alarm'
          ? svg`<svg x=${at} width="1" height="1" overflow="visible"><path d="M0 1 5 12H-5Z" /></svg>`
          : svg`<rect x=${at} y="6" width="2" height="7" />`;
      })}
    </svg>`;
  }

  #jump(words: TemplateResult, mark: MarkView | null): TemplateResult {
    return html`<button
      class="button"
      ?disabled=${mark === null}
      title=${mark === null ? '' : `${formatSessionTime(mark.atMs)}, ${MARK_WORDS[mark.kind]}: ${mark.sentence}`}
      @click=${() => mark && tell(this, 'rm-moment', mark.atMs)}
    >
      ${words}
    </button>`;
  }
}

customElements.define('rm-time-bar', RmTimeBar);
