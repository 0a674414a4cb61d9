import {
  LitElement,
  css,
  html,
  nothing,
  type CSSResultGroup,
  type PropertyValues,
  type TemplateResult,
} from 'lit';
import type { TriedLines } from '../../daemon/serve/instrument-messages.js';
import { DeskTrouble } from '../design/desk-link.js';
import { sharedStyles } from '../theme.js';
import { heardLines, heardStyles } from './heard-lines.js';
import { instrumentLink } from './instrument-link.js';

const MOST_LINES = 50;
const LONGEST_LINE = 400;

/** Lines against a pattern: what would be read from each. */
export class RmTryPattern extends LitElement {
  static override properties = {
    pattern: { attribute: false },
    running: { attribute: false },
    tried: { state: true },
    trouble: { state: true },
  };
  declare pattern: string;
  /** The running instrument whose newest lines can be taken; null for none. */
  declare running: string | null;
  declare tried: TriedLines | null;
  declare trouble: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    heardStyles,
    css`
      summary {
        cursor: pointer;
        padding: 0.5rem 0;
        font-weight: 600;
      }
      label {
        display: block;
        font-size: 0.9375rem;
      }
      textarea {
        width: 100%;
        min-height: 4.5rem;
        padding: 0.4rem 0.7rem;
        border: 1px solid var(--control-edge);
        border-radius: 0.5rem;
        background: var(--paper);
        color: inherit;
        font:
          0.875rem ui-monospace,
          monospace;
      }
    `,
  ];

  #asked = 0;

  constructor() {
    super();
    this.tried = null;
    this.trouble = '';
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('pattern') && this.tried !== null) void this.#try();
  }

  protected override render(): TemplateResult {
    return html`<details>
      <summary>Try it on lines</summary>
      <label for="lines">Lines as the board prints them</label>
      <textarea id="lines" spellcheck="false" @input=${() => void this.#try()}></textarea>
      ${
        this.running === null
          ? nothing
          : html`<button class="button" @click=${() => void this.#take(this.running ?? '')}>
              Take the newest from ${this.running}
            </button>`
      }
      ${this.trouble === '' ? nothing : html`<p role="alert">${this.trouble}</p>`}
      ${this.tried === null || this.tried.lines.length === 0 ? nothing : heardLines(this.tried.lines, 'The lines, and what the pattern reads from them')}
    </details>`;
  }

  async #take(instrument: string): Promise<void> {
    await this.#guarded(async () => {
      const { lines } = await instrumentLink.heard({ instrument });
      const area = this.renderRoot.querySelector('textarea');
      if (area)
        area.value = (lines ?? [])
          .slice(-6)
          .map(({ text }) => text)
          .join('\n');
      await this.#try();
    });
  }

  async #try(): Promise<void> {
    const typed = this.renderRoot.querySelector('textarea')?.value ?? '';
    const lines = typed
      .split('\n')
      .filter((line) => line.trim() !== '')
      .slice(-MOST_LINES)
      .map((line) => line.slice(0, LONGEST_LINE));
    const asked = (this.#asked += 1);
    await this.#guarded(async () => {
      const tried = await instrumentLink.try({ pattern: this.pattern, lines });
      // An older question may be answered later.
      if (asked !== this.#asked) return;
      this.tried = tried;
      this.trouble = tried.problem;
    });
  }

  async #guarded(act: () => Promise<void>): Promise<void> {
    try {
      await act();
    } catch (error) {
      if (!(error instanceof DeskTrouble)) throw error;
      this.trouble = error.message;
    }
  }
}

customElements.define('rm-try-pattern', RmTryPattern);
