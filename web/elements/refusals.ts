import { LitElement, css, html, type CSSResultGroup, type TemplateResult } from 'lit';
import { sharedStyles } from '../theme.js';
import { tell } from '../tell.js';

/** What was asked for and not done, with the reason, until the person puts it away (`rm-refusals-read`). */
export class RmRefusals extends LitElement {
  static override properties = { refusals: { attribute: false } };
  declare refusals: readonly string[];

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .refusals {
        display: flex;
        flex-wrap: wrap;
        align-items: start;
        justify-content: space-between;
        gap: 0.6rem 1rem;
        padding: 0.7rem 1rem;
        border: 2px solid var(--ink);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<div class="refusals">
      <ul role="alert">
        ${this.refusals.map((why) => html`<li><b>Not done:</b> ${why}</li>`)}
      </ul>
      <button class="button" @click=${() => this.#read()}>Put away</button>
    </div>`;
  }

  #read(): void {
    tell(this, 'rm-refusals-read');
  }
}

customElements.define('rm-refusals', RmRefusals);
