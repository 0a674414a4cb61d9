import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { sharedStyles } from '../theme.js';
import { tell } from '../tell.js';

/** Where the design, or the bench, goes (`rm-save` with the name of the file). */
export class RmDesignSave extends LitElement {
  static override properties = {
    kind: { attribute: false },
    file: { attribute: false },
    folder: { attribute: false },
    suggested: { attribute: false },
    unsaved: { type: Boolean },
    wrong: { type: Boolean },
    said: { attribute: false },
    naming: { state: true },
  };
  /** What is saved. */
  declare kind: 'design' | 'bench';
  /** The file that was opened; null while there is none. */
  declare file: string | null;
  declare folder: string;
  /** A name for a new file. */
  declare suggested: string;
  declare unsaved: boolean;
  /** Whether it has problems, and can't be saved before they are put right. */
  declare wrong: boolean;
  /** What came of the last saving. */
  declare said: string;
  declare naming: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      form {
        display: flex;
        flex-wrap: wrap;
        align-items: end;
        gap: 0.5rem;
      }
      label {
        flex: 1 1 14rem;
        font-size: 0.9375rem;
      }
      input {
        width: 100%;
      }
      p {
        margin-top: 0.4rem;
        overflow-wrap: anywhere;
      }
      [role='status'] {
        font-weight: 650;
      }
      [role='status']:empty {
        display: none;
      }
    `,
  ];

  constructor() {
    super();
    this.kind = 'design';
  }

  protected override render(): TemplateResult {
    const named = this.file !== null && !this.naming;
    return html`<form @submit=${(event: SubmitEvent) => this.#submit(event)} novalidate>
        ${
          named
            ? nothing
            : html`<label
                >File name
                <input
                  type="text"
                  autocomplete="off"
                  spellcheck="false"
                  maxlength="110"
                  .value=${this.suggested}
                />
              </label>`
        }
        <button class="button strong" ?disabled=${this.wrong || (named && !this.unsaved)}>
          ${named ? `Save ${this.file}` : 'Save'}
        </button>
        ${
          this.file === null
            ? nothing
            : html`<button type="button" class="button" @click=${() => (this.naming = !this.naming)}>
                ${this.naming ? 'Keep the name' : 'Save under another name'}
              </button>`
        }
      </form>
      <p role="status">${this.said}</p>
      <p class="small quiet">
        ${
          this.wrong
            ? 'Put right what is marked, and it can be saved. '
            : this.unsaved
              ? 'Nothing is written before you save. '
              : ''
        }Goes
        to ${this.folder}. A session that is running goes on with the ${this.kind} that it was started with;
        what is saved takes effect at the next start.
      </p>`;
  }

  #submit(event: SubmitEvent): void {
    event.preventDefault();
    const typed = this.renderRoot.querySelector('input')?.value.trim() ?? this.file ?? '';
    const detail = typed.endsWith('.yaml') ? typed : `${typed}.${this.kind}.yaml`;
    this.naming = false;
    tell(this, 'rm-save', detail);
  }
}

customElements.define('rm-design-save', RmDesignSave);
