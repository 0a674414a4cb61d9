import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { MarkView } from '../../daemon/serve/job-views.js';
import { formatSessionTime, keepUnits } from '../format.js';
import { MARK_WORDS } from '../job/marks.js';
import { sharedStyles } from '../theme.js';
import { tell } from '../tell.js';

/** More than that at once are asked for. */
const FIRST_SHOWN = 40;

/** What happened in a recording, in order. Pressing a time goes there (`rm-moment`, ms). */
export class RmJobEvents extends LitElement {
  static override properties = {
    marks: { attribute: false },
    leftOut: { attribute: false },
    all: { state: true },
  };
  declare marks: readonly MarkView[];
  declare leftOut: number;
  declare all: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      li {
        display: grid;
        grid-template-columns: 5.2rem minmax(0, 1fr);
        gap: 0.6rem;
        align-items: baseline;
        padding: 0.15rem 0;
        border-top: 1px solid var(--edge);
      }
      .go {
        min-height: 1.75rem;
        padding: 0 0.2rem;
        border: 0;
        background: none;
        color: var(--accent);
        text-align: start;
        text-decoration: underline;
        text-underline-offset: 0.15em;
        cursor: pointer;
      }
      .alarm {
        font-weight: 650;
      }
      .kind {
        color: var(--quiet);
        font-weight: 400;
      }
      p {
        overflow-wrap: anywhere;
      }
      ol {
        margin-top: 0.5rem;
      }
    `,
  ];

  constructor() {
    super();
    this.all = false;
  }

  protected override render(): TemplateResult {
    const shown = this.all ? this.marks : this.marks.slice(0, FIRST_SHOWN);
    const hidden = this.marks.length - shown.length;
    return html`<h3>What happened</h3>
      ${this.marks.length === 0 ? html`<p class="small quiet">Nothing besides readings.</p>` : nothing}
      <ol>
        ${shown.map((mark) => this.#row(mark))}
      </ol>
      ${
        hidden > 0
          ? html`<button class="button" @click=${() => (this.all = true)}>Show ${hidden} more</button>`
          : nothing
      }
      ${
        this.leftOut > 0
          ? html`<p class="small quiet">${this.leftOut} later ones are in the recording itself.</p>`
          : nothing
      }`;
  }

  #row({ atMs, kind, sentence }: MarkView): TemplateResult {
    return html`<li>
      <button
        class="go number"
        aria-label=${`Go to ${formatSessionTime(atMs)}, ${MARK_WORDS[kind]}: ${sentence}`}
        @click=${() => this.#go(atMs)}
      >
        ${formatSessionTime(atMs)}
      </button>
      <p class="${kind} number"><span class="kind small">${MARK_WORDS[kind]}</span> ${keepUnits(sentence)}</p>
    </li>`;
  }

  #go(atMs: number): void {
    tell(this, 'rm-moment', atMs);
  }
}

customElements.define('rm-job-events', RmJobEvents);
