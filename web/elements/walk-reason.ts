import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { sharedStyles } from '../theme.js';
import { letterCount } from '../walk/step-words.js';
import { tell } from '../tell.js';

/** Asks for words before something is done that the record must explain (`rm-words` with them, `rm-words-not`). */
export class RmWalkReason extends LitElement {
  static override properties = {
    ask: { attribute: false },
    does: { attribute: false },
    letters: { attribute: false },
    live: { type: Boolean },
    optional: { type: Boolean },
    tooShort: { state: true },
  };
  /** The field's label. */
  declare ask: string;
  /** What the button says. */
  declare does: string;
  /** The least number of letters. */
  declare letters: number;
  declare live: boolean;
  /** It can be put away again. */
  declare optional: boolean;
  declare tooShort: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      form {
        display: flex;
        flex-wrap: wrap;
        align-items: end;
        gap: 0.6rem;
      }
      label {
        display: grid;
        flex: 1 1 16rem;
        gap: 0.2rem;
        max-width: 34rem;
        font-weight: 600;
      }
    `,
  ];

  constructor() {
    super();
    this.tooShort = false;
  }

  reach(): void {
    this.renderRoot.querySelector('input')?.focus();
  }

  protected override render(): TemplateResult {
    return html`<form
        @submit=${(event: SubmitEvent) => this.#submit(event)}
        @keydown=${(event: KeyboardEvent) => event.key === 'Escape' && this.optional && tell(this, 'rm-words-not', '')}
      >
        <label>
          ${this.ask}
          <input
            type="text"
            autocomplete="off"
            maxlength="200"
            aria-describedby="short"
            ?disabled=${!this.live}
          />
        </label>
        <button class="button strong" ?disabled=${!this.live}>${this.does}</button>
        ${
          this.optional
            ? html`<button class="button" type="button" @click=${() => tell(this, 'rm-words-not', '')}>
                No, go on <kbd>Esc</kbd>
              </button>`
            : nothing
        }
      </form>
      <p id="short" role="alert">${this.tooShort ? `It wants ${this.letters} letters at least.` : ''}</p>`;
  }

  #submit(event: SubmitEvent): void {
    event.preventDefault();
    const text = this.renderRoot.querySelector('input')?.value.trim() ?? '';
    this.tooShort = letterCount(text) < this.letters;
    if (this.tooShort) this.reach();
    else tell(this, 'rm-words', text);
  }
}

customElements.define('rm-walk-reason', RmWalkReason);
