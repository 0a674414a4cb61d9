import { LitElement, css, html, type CSSResultGroup, type TemplateResult } from 'lit';
import { formatSessionTime } from '../format.js';
import type { Span } from '../job/span.js';
import { sharedStyles } from '../theme.js';
import { tell } from '../tell.js';

export type SpanCommand = 'closer' | 'wider' | 'earlier' | 'later' | 'whole';

/** Chooses the stretch of a recording that the charts show (`rm-span-command`). */
export class RmSpanButtons extends LitElement {
  static override properties = { span: { attribute: false }, lengthMs: { attribute: false } };
  declare span: Span;
  declare lengthMs: number;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .row {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 0.9rem;
      }
      .group {
        display: flex;
        flex-wrap: wrap;
        gap: 0.4rem;
      }
    `,
  ];

  protected override render(): TemplateResult {
    const { fromMs, toMs } = this.span;
    const isWhole = fromMs <= 0 && toMs >= this.lengthMs;
    return html`<div class="row" role="group" aria-label="Stretch that the charts show">
        <h3 class="number" aria-live="polite">
          ${isWhole ? 'The whole session' : `${formatSessionTime(fromMs)} to ${formatSessionTime(toMs)}`}
        </h3>
        <div class="group">
          ${this.#button('closer', 'Closer')} ${this.#button('wider', 'Wider', isWhole)}
          ${this.#button('earlier', 'Earlier', fromMs <= 0)}
          ${this.#button('later', 'Later', toMs >= this.lengthMs)}
          ${this.#button('whole', 'Whole session', isWhole)}
        </div>
      </div>
      <p class="small quiet">
        Shaded: predicted. Pull across a chart to look closer, press it to see that moment. ▲ alarm, ▏ other
        events.
      </p>`;
  }

  #button(command: SpanCommand, words: string, isOff = false): TemplateResult {
    return html`<button class="button" ?disabled=${isOff} @click=${() => this.#tell(command)}>
      ${words}
    </button>`;
  }

  #tell(detail: SpanCommand): void {
    tell(this, 'rm-span-command', detail);
  }
}

customElements.define('rm-span-buttons', RmSpanButtons);
