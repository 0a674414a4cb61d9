import {
  LitElement,
  css,
  html,
  nothing,
  type CSSResultGroup,
  type PropertyValues,
  type TemplateResult,
} from 'lit';
import type { CheckView } from '../../daemon/serve/messages.js';
import { sharedStyles } from '../theme.js';
import { mark, markStyles } from './mark.js';
import { caution, signStyles } from './walk-signs.js';

/** What a person found, as they typed it, and for which check. */
export interface CheckAnswer {
  readonly check: string;
  readonly text: string;
}

/** One question of a step with its caution and its answer (`rm-answer`); folded once the answer is inside. */
export class RmWalkCheck extends LitElement {
  static override properties = {
    check: { attribute: false },
    live: { type: Boolean },
    mayAct: { type: Boolean },
    again: { state: true },
  };
  declare check: CheckView;
  declare live: boolean;
  declare mayAct: boolean;
  /** It is inside, and the person wants to answer it anew. */
  declare again: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    signStyles,
    css`
      :host {
        padding-block: 0.7rem;
        border-top: 1px solid var(--edge);
      }
      .ask {
        font-weight: 600;
      }
      .folded {
        display: flex;
        flex-wrap: wrap;
        gap: 0.3rem 0.8rem;
        align-items: center;
      }
      .folded .ask {
        flex: 1 1 14rem;
        font-weight: 400;
      }
      .caution {
        margin-block: 0.35rem;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
        margin-block: 0.5rem 0.3rem;
      }
      input[type='text'] {
        width: 8rem;
      }
      .waiver {
        text-align: start;
      }
      .verdict {
        display: flex;
        gap: 0.45rem;
        align-items: center;
        font-weight: 650;
      }
    `,
  ];

  constructor() {
    super();
    this.again = false;
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('check')) this.again = false;
  }

  /** Puts the keyboard's place where the answer goes. */
  reach(): void {
    this.renderRoot.querySelector<HTMLElement>('input, .yes')?.focus();
  }

  /** Answers yes, where yes is an answer. */
  yes(): void {
    this.renderRoot.querySelector<HTMLElement>('.yes')?.click();
  }

  protected override render(): TemplateResult {
    return this.check.inside === true && !this.again ? this.#folded() : this.#open();
  }

  #folded(): TemplateResult {
    return html`<div class="folded">
      <p class="ask small" id="ask">${this.check.ask}</p>
      ${this.#verdict()}
      ${
        this.mayAct
          ? html`<button
              class="button small"
              aria-describedby="ask"
              ?disabled=${!this.live}
              @click=${() => this.#unfold()}
            >
              Answer again
            </button>`
          : nothing
      }
    </div>`;
  }

  #open(): TemplateResult {
    const { ask, wanted, reason, inside, whenWrong, vital } = this.check;
    return html`<p class="ask" id="ask">${ask}</p>
      ${caution(this.check.caution)} ${this.mayAct ? this.#answers() : nothing}
      <p class="small quiet" id="wanted">Wanted: ${wanted} (${reason})</p>
      ${inside === null ? nothing : this.#verdict()}
      ${
        inside === false
          ? html`<p>
              ${whenWrong}${vital ? html` <b>Going on against this can kill: no reason overrides it.</b>` : nothing}
            </p>`
          : nothing
      }`;
  }

  #answers(): TemplateResult {
    const { answers, waiver } = this.check;
    return html`<div class="row" role="group" aria-labelledby="ask">
      ${answers === 'number' ? this.#field() : this.#choice()}
      ${
        waiver === null
          ? nothing
          : html`<button class="button waiver" ?disabled=${!this.live} @click=${() => this.#say('-')}>
              Nothing to check: ${waiver}
            </button>`
      }
    </div>`;
  }

  #field(): TemplateResult {
    return html`<form class="row" @submit=${(event: SubmitEvent) => this.#submit(event)}>
      <input
        type="text"
        autocomplete="off"
        autocapitalize="off"
        maxlength="60"
        aria-labelledby="ask"
        aria-describedby="wanted"
        ?disabled=${!this.live}
      />
      <button class="button" ?disabled=${!this.live}>Enter</button>
    </form>`;
  }

  #choice(): readonly TemplateResult[] {
    return (['yes', 'no'] as const).map(
      (word) =>
        html`<button
          class="button ${word}"
          aria-pressed=${this.check.answer === word}
          ?disabled=${!this.live}
          @click=${() => this.#say(word)}
        >
          ${word === 'yes' ? 'Yes' : 'No'}
        </button>`,
    );
  }

  #verdict(): TemplateResult {
    const { inside, answer } = this.check;
    const word = inside === true ? 'inside' : 'outside';
    return html`<p class="verdict">${mark(word)} ${answer}, ${word}</p>`;
  }

  #unfold(): void {
    this.again = true;
    void this.updateComplete.then(() => this.reach());
  }

  #submit(event: SubmitEvent): void {
    event.preventDefault();
    const text = this.renderRoot.querySelector('input')?.value.trim() ?? '';
    if (text !== '') this.#say(text);
  }

  #say(text: string): void {
    const detail: CheckAnswer = { check: this.check.id, text };
    this.dispatchEvent(new CustomEvent('rm-answer', { detail, bubbles: true, composed: true }));
  }
}

customElements.define('rm-walk-check', RmWalkCheck);
