import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { HeardView } from '../../daemon/serve/instrument-messages.js';
import type { InstrumentView } from '../../daemon/serve/messages.js';
import { DeskTrouble } from '../design/desk-link.js';
import { sharedStyles } from '../theme.js';
import { heardLines, heardStyles } from './heard-lines.js';
import { instrumentLink } from './instrument-link.js';

const ASK_AGAIN_MS = 700;

/** The raw lines of one running instrument beside its readings, while it is unfolded. */
export class RmRunningLines extends LitElement {
  static override properties = {
    instrument: { attribute: false },
    live: { type: Boolean },
    lines: { state: true },
    open: { state: true },
    held: { state: true },
  };
  declare instrument: InstrumentView;
  declare live: boolean;
  /** Null: not asked yet, or no cable. */
  declare lines: readonly HeardView[] | null;
  declare open: boolean;
  /** Whether the lines stand still, to be looked at. */
  declare held: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    heardStyles,
    css`
      summary {
        cursor: pointer;
        min-height: 2rem;
        padding: 0.3rem 0;
        overflow-wrap: anywhere;
      }
      .still {
        margin-top: 0.3rem;
      }
    `,
  ];

  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor() {
    super();
    this.lines = null;
    this.open = false;
    this.held = false;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.open) void this.#ask();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearTimeout(this.#timer);
  }

  protected override render(): TemplateResult {
    const { name, driver, link, state } = this.instrument;
    return html`<details @toggle=${(event: Event) => this.#toggled(event)}>
      <summary>
        <strong>${name}</strong>
        <span class="quiet">${driver} on ${link}, ${this.live ? state : `not live, was ${state}`}</span>
      </summary>
      ${this.open ? this.#shown(name) : nothing}
    </details>`;
  }

  #shown(name: string): TemplateResult {
    if (this.lines === null) return html`<p class="quiet small">It sends nothing over a cable.</p>`;
    const caption = `What ${name} sends, and what is read from it`;
    return html`<button
        class="button still"
        aria-pressed=${this.held ? 'true' : 'false'}
        @click=${() => (this.held = !this.held)}
      >
        Hold still
      </button>
      ${this.live ? nothing : html`<p class="small"><strong>Not live:</strong> these are the last lines.</p>`}
      ${heardLines(this.lines, caption)}`;
  }

  #toggled(event: Event): void {
    this.open = (event.target as HTMLDetailsElement).open;
    clearTimeout(this.#timer);
    if (this.open) void this.#ask();
  }

  async #ask(): Promise<void> {
    if (this.live && !this.held) {
      try {
        this.lines = (await instrumentLink.heard({ instrument: this.instrument.name })).lines;
      } catch (error) {
        // The page says by itself that it isn't live.
        if (!(error instanceof DeskTrouble)) throw error;
      }
    }
    clearTimeout(this.#timer);
    if (this.isConnected && this.open) this.#timer = setTimeout(() => void this.#ask(), ASK_AGAIN_MS);
  }
}

customElements.define('rm-running-lines', RmRunningLines);
