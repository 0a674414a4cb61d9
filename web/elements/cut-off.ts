import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { CutOffView, PageMessage } from '../../daemon/serve/messages.js';
import { cutOffButtons, cutOffState } from '../cut-off-words.js';
import { sharedStyles } from '../theme.js';

/** What a person wants of a cut-off, without saying yet that they send it. */
export type CutOffOrder = Omit<Extract<PageMessage, { kind: 'cut-off' }>, 'kind'>;

/** The outputs that take power away: where each stands, and what a person may do (`rm-cut-off` with the order). */
export class RmCutOff extends LitElement {
  static override properties = {
    cutOffs: { attribute: false },
    live: { type: Boolean },
    mayAct: { type: Boolean },
    inSight: { state: true },
  };
  declare cutOffs: readonly CutOffView[];
  declare live: boolean;
  declare mayAct: boolean;
  declare inSight: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .all {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 24rem), 1fr));
        gap: 1.2rem 2rem;
        margin-top: 0.8rem;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
        margin-top: 0.6rem;
      }
      .sight {
        display: flex;
        align-items: start;
        gap: 0.5rem;
        margin-top: 0.8rem;
        min-height: 1.75rem;
      }
      .sight input {
        width: 1.5rem;
        height: 1.5rem;
        flex: none;
      }
      .standing {
        font-weight: 650;
      }
      p {
        max-width: 40rem;
      }
    `,
  ];

  constructor() {
    super();
    this.inSight = false;
  }

  protected override render(): TemplateResult {
    return html`<h2>Cut-off</h2>
      <p class="small">${this.cutOffs[0]?.caution ?? ''}</p>
      ${this.mayAct ? this.#sight() : nothing}
      <div class="all">${this.cutOffs.map((cutOff) => this.#cutOff(cutOff))}</div>`;
  }

  #sight(): TemplateResult {
    return html`<label class="sight">
      <input
        type="checkbox"
        .checked=${this.inSight}
        ?disabled=${!this.live}
        @change=${(event: Event) => (this.inSight = (event.target as HTMLInputElement).checked)}
      />
      <span>I have the supply in sight and its switch within reach.</span>
    </label>`;
  }

  #cutOff(cutOff: CutOffView): TemplateResult {
    const { output, on, at } = cutOff;
    const buttons = this.mayAct ? cutOffButtons(cutOff) : [];
    return html`<div>
      <h3>${output}</h3>
      <p class="standing" role="status">
        ${this.live ? cutOffState(cutOff) : 'not live: where it stands is not known'}
      </p>
      <p class="small quiet">
        ${on.length === 0 ? 'No alarm drops it: the bench file names none.' : html`Dropped by ${on.join(', ')}.`}
        ${at === null ? nothing : html`Only at ${at.join(', ')}.`}
      </p>
      <div class="row" role="group" aria-label=${output}>
        ${buttons.map(
          ({ order, words, needsSight }) =>
            html`<button
              class="button"
              ?disabled=${!this.live || (needsSight && !this.inSight)}
              @click=${() => this.#send({ output, order, inSight: this.inSight })}
            >
              ${words}
            </button>`,
        )}
      </div>
    </div>`;
  }

  #send(detail: CutOffOrder): void {
    this.dispatchEvent(new CustomEvent('rm-cut-off', { detail, bubbles: true, composed: true }));
    // Said for one order, so that nobody arms from another room an hour later.
    if (detail.inSight) this.inSight = false;
  }
}

customElements.define('rm-cut-off', RmCutOff);
