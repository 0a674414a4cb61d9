import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { RecorderView } from '../../daemon/serve/messages.js';
import { sharedStyles } from '../theme.js';
import { mark, markStyles } from './mark.js';

const LONGEST_NOTE = 500;

/** Whether the session is recorded and where, and a place to write a note into it (`rm-note` with the text). */
export class RmRecord extends LitElement {
  static override properties = {
    recorder: { attribute: false },
    live: { type: Boolean },
    mayAct: { type: Boolean },
    sent: { state: true },
  };
  declare recorder: RecorderView | null;
  declare live: boolean;
  declare mayAct: boolean;
  declare sent: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    css`
      .state {
        display: flex;
        align-items: center;
        gap: 0.4rem;
        margin-top: 0.5rem;
        font-weight: 600;
      }
      p {
        overflow-wrap: anywhere;
      }
      form {
        display: grid;
        grid-template-columns: 1fr auto;
        gap: 0.4rem 0.6rem;
        margin-top: 0.9rem;
      }
      label,
      [role='status'] {
        grid-column: 1 / -1;
      }
      input {
        min-width: 0;
        width: 100%;
      }
    `,
  ];

  constructor() {
    super();
    this.sent = '';
  }

  protected override render(): TemplateResult {
    return html`<h2>Record</h2>
      ${this.recorder ? this.#state(this.recorder) : html`<p class="quiet">Not heard of yet.</p>`}
      ${this.mayAct ? this.#note() : nothing}`;
  }

  #note(): TemplateResult {
    return html`<form @submit=${(event: SubmitEvent) => this.#submit(event)}>
      <label for="note">A note for the job file</label>
      <input id="note" type="text" maxlength=${LONGEST_NOTE} autocomplete="off" ?disabled=${!this.live} />
      <button class="button" ?disabled=${!this.live}>Add note</button>
      <p class="small quiet" role="status">${this.sent}</p>
    </form>`;
  }

  #state({ writing, file, why }: RecorderView): TemplateResult {
    const words = this.live ? (writing ? 'recording' : 'not recording') : 'not live: not known';
    return html`<p class="state">
        ${mark(this.live ? (writing ? 'inside' : 'outside') : 'not-live')} ${words}
      </p>
      ${why && !writing ? html`<p>${why}</p>` : ''}
      <p class="small quiet">${file ?? 'no file'}</p>`;
  }

  #submit(event: SubmitEvent): void {
    event.preventDefault();
    const input = this.renderRoot.querySelector('input');
    const text = input?.value.trim() ?? '';
    if (!input || text === '') return;
    this.dispatchEvent(new CustomEvent('rm-note', { detail: text, bubbles: true, composed: true }));
    input.value = '';
    this.sent = `Sent: “${text}”`;
  }
}

customElements.define('rm-record', RmRecord);
