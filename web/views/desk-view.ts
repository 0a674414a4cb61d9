import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { sharedStyles } from '../theme.js';
import type { Shared, ViewElement } from './view.js';

/** A file that is being written, as its view sees it. */
interface Draft {
  readonly isUnsaved: boolean;
  /** What stands in the way; empty: nothing. */
  readonly trouble: string;
  open(): Promise<void>;
}

/** A view on a file that is being written: opens it once, and asks before the page goes with what isn't saved. */
export abstract class DeskView extends LitElement implements ViewElement {
  static override properties = {
    shared: { attribute: false },
    said: { state: true },
    saved: { state: true },
  };
  declare shared: Shared;
  /** What the last press did. */
  declare said: string;
  declare saved: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      :host {
        padding: 1.2rem var(--side) 3rem;
        container-type: inline-size;
      }
      .both {
        display: grid;
        gap: 2rem clamp(1.5rem, 3cqi, 3rem);
      }
      .both > * {
        min-width: 0;
      }
      .said {
        font-weight: 650;
      }
      .trouble {
        margin-block: 0.8rem;
        padding: 0.5rem 0.9rem;
        border: 2px solid var(--outside);
        border-radius: 0.5rem;
        font-weight: 600;
        overflow-wrap: anywhere;
      }
      .file {
        padding: 0.9rem 1.1rem 1.1rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      .text {
        margin-top: 1rem;
      }
      summary {
        cursor: pointer;
        width: fit-content;
        min-height: 1.6rem;
        font-weight: 600;
      }
      pre {
        margin: 0.6rem 0 0;
        font-size: 0.875rem;
        white-space: pre-wrap;
        overflow-wrap: anywhere;
      }
      h2:focus {
        outline: none;
      }
    `,
  ];

  #isOpened = false;
  #onLeave = (event: BeforeUnloadEvent): void => {
    if (this.draft.isUnsaved && this.shared.mayAct) event.preventDefault();
  };

  constructor() {
    super();
    this.said = '';
    this.saved = '';
  }

  protected abstract readonly draft: Draft;

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('beforeunload', this.#onLeave);
    if (!this.#isOpened) void this.draft.open();
    this.#isOpened = true;
  }

  /** Tries once more what went wrong. */
  protected abstract again(): Promise<void>;

  protected trouble(): TemplateResult | typeof nothing {
    const { trouble } = this.draft;
    if (trouble === '') return nothing;
    return html`<p class="trouble" role="alert">
      ${trouble} <button class="button" @click=${() => void this.again()}>Try again</button>
    </p>`;
  }

  protected wrongLines(
    problems: readonly { readonly line: number; readonly words: string }[],
  ): readonly TemplateResult[] {
    return problems.map(({ line, words }) => html`<p class="trouble">Line ${line}: ${words}</p>`);
  }

  protected focusOn(selector: string): void {
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>(selector)?.focus());
  }
}
